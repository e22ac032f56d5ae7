package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

type needJSON struct {
	Likely float64      `json:"likely"`
	Low    float64      `json:"low80"`
	High   units.Number `json:"high80"` // null: no end that this vehicle could reach
}

func newNeed(r crew.Range) *needJSON {
	n := &needJSON{Likely: round4(r.Likely), Low: round4(r.Low)}
	if !math.IsInf(r.High, 0) {
		n.High = units.Some(round4(r.High))
	}
	return n
}

// maybeNeed is k times a range, nil without one.
func maybeNeed(r *crew.Range, k float64) *needJSON {
	if r == nil {
		return nil
	}
	return newNeed(crew.Times(*r, k))
}

type mixJSON struct {
	OffLb  float64   `json:"off_lb"`
	GainHP *needJSON `json:"gain_hp"`
}

// targetJSON is what a time needs.
type targetJSON struct {
	Vehicle  string    `json:"vehicle"`
	Ft       float64   `json:"distance_ft"`
	Target   float64   `json:"target_s"`
	Today    float64   `json:"today_s"`
	GainHP   *needJSON `json:"gain_hp"` // at the place of the setup's power; null: not with this launch
	OffLb    *needJSON `json:"off_lb"`
	Mix      []mixJSON `json:"mix"`
	First60  *needJSON `json:"first_et_60_s,omitempty"` // low80 of 0: no end
	Today60  float64   `json:"today_et_60_s"`
	NextTen  float64   `json:"chance_in_next_ten"`
	TenLow   float64   `json:"chance_in_next_ten_low80"`
	TenHigh  float64   `json:"chance_in_next_ten_high80"`
	Warnings []string  `json:"warnings"`
}

// Target tells what a time needs.
func (p *Page) Target(g crew.Targeted) error {
	need, base := g.Target, g.Today.HP.Value()
	notes, cautions := Notes(need.Notes, p.Units), p.changeCautions(g.Cautions)
	out := targetJSON{
		Vehicle: g.Run.Vehicle.ID, Ft: need.Mark.Ft(), Target: need.ET, Today: round4(need.Today), Mix: []mixJSON{},
		GainHP: maybeNeed(need.Gain, base), OffLb: maybeNeed(need.OffLb, 1), First60: maybeNeed(need.First60S, 1),
		Today60: round4(need.Today60S), NextTen: round4(need.NextTen.Likely), TenLow: round4(need.NextTen.Low),
		TenHigh: round4(need.NextTen.High), Warnings: list(notes, cautions),
	}
	for _, m := range need.Mix {
		out.Mix = append(out.Mix, mixJSON{round4(m.OffLb), newNeed(crew.Times(m.Gain, base))})
	}
	t := p.targetTable(out)
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		place := g.Today.At
		if g.Implied {
			place += ", as the runs imply"
		}
		p.Wrap(w, p.targetAnswer(out, place))
		p.Wrap(w, fmt.Sprintf("%s: dead on %.3f now", p.place(g.Prospect), need.Today))
		fmt.Fprintln(w)
		if len(t.Rows) > 0 {
			t.Render(w, table.Text, p.Width())
			fmt.Fprintln(w)
		}
		p.Say(w, "as it is", fmt.Sprintf("%s to see %.3f or quicker in its next ten runs in such air",
			chancesBetween(need.NextTen), need.ET))
		p.Say(w, "forecast", Basis(g.Before.Basis))
		p.sayAll(w, "note", notes)
		p.sayAll(w, "caution", cautions)
	})
}

// targetAnswer is the first line: power, weight, or what must come first.
func (p *Page) targetAnswer(out targetJSON, place string) string {
	head := fmt.Sprintf("%.3f at %g ft", out.Target, out.Ft)
	switch {
	case out.GainHP != nil && out.OffLb != nil:
		return fmt.Sprintf("%s needs %s more at the %s, or %s less",
			head, p.need(units.Power, *out.GainHP), place, p.need(units.Weight, *out.OffLb))
	case out.GainHP != nil:
		return fmt.Sprintf("%s needs %s more at the %s", head, p.need(units.Power, *out.GainHP), place)
	case out.OffLb != nil:
		text := fmt.Sprintf("%s needs %s less; with this launch twice the power would not do it", head,
			p.need(units.Weight, *out.OffLb))
		if out.First60 != nil {
			text += ": " + firstSixty(out)
		}
		return text
	case out.First60 != nil:
		return fmt.Sprintf("%s: not with this launch: %s", head, firstSixty(out))
	}
	return head + ": not with this vehicle: twice the power and 2.5 times the launch do not get there"
}

// firstSixty says what the 60 ft must first be.
func firstSixty(out targetJSON) string {
	between := fmt.Sprintf("%.2f-%.2f", out.First60.Low, out.First60.High.Value())
	if out.First60.Low == 0 {
		between = fmt.Sprintf("%.2f or quicker", out.First60.High.Value())
	}
	return fmt.Sprintf("the 60 ft must first be %.2f (8 of 10 in %s), it is %.2f now; then twice the power does it",
		out.First60.Likely, between, out.Today60)
}

// need is a figure that is needed with its interval, in the units shown.
func (p *Page) need(k units.Kind, n needJSON) string {
	between := fmt.Sprintf("%.0f or more", k.In(p.Units, n.Low))
	if n.High.Known() {
		between = fmt.Sprintf("%.0f-%.0f", k.In(p.Units, n.Low), k.In(p.Units, n.High.Value()))
	}
	return fmt.Sprintf("%s (8 of 10 in %s)", p.Show(k, units.Some(n.Likely)), between)
}

// targetTable is the mix, from all power to all weight.
func (p *Page) targetTable(out targetJSON) table.Table {
	hp := p.Suffix(units.Power)
	off, likely, low, high := "off_"+p.Suffix(units.Weight), "gain_"+hp, "gain_low80_"+hp, "gain_high80_"+hp
	t := table.Table{Columns: []table.Column{
		{Head: "weight off", Key: off, Right: true},
		{Head: "and power added", Key: likely, Right: true},
		{Head: "8 of 10 from", Key: low, Right: true},
		{Head: "to", Key: high, Right: true},
	}}
	row := func(lb float64, gain needJSON) {
		t.AddCells(table.Cells{
			off: p.Cell(units.Weight, units.Some(lb)), likely: p.Cell(units.Power, units.Some(gain.Likely)),
			low: p.Cell(units.Power, units.Some(gain.Low)), high: p.Cell(units.Power, gain.High),
		})
	}
	if out.GainHP != nil {
		row(0, *out.GainHP)
	}
	for _, m := range out.Mix {
		row(m.OffLb, *m.GainHP)
	}
	if out.OffLb != nil {
		t.AddCells(table.Cells{
			off: p.Cell(units.Weight, units.Some(out.OffLb.Likely)), likely: p.Cell(units.Power, units.Some(0)),
		})
	}
	return t
}

// chancesBetween says a probability and, where they differ, its ends.
func chancesBetween(r crew.Range) string {
	low, high := math.Round(100*r.Low), math.Round(100*r.High)
	if low == high {
		return chances(r.Likely)
	}
	return fmt.Sprintf("%s (8 of 10 in %.0f-%.0f)", chances(r.Likely), low, high)
}

// chances says a probability as a racer would.
func chances(p float64) string {
	switch n := math.Round(100 * p); {
	case n < 1:
		return "under 1 %"
	case n > 99:
		return "over 99 %"
	default:
		return fmt.Sprintf("%.0f %%", n)
	}
}
