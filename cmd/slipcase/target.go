package main

import (
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

type needJSON struct {
	Likely float64      `json:"likely"`
	Low    float64      `json:"low80"`
	High   units.Number `json:"high80"` // null: no end that this vehicle could reach
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
	GainHP   *needJSON `json:"gain_hp"` // at the place of the setup's power; null: not with this grip
	OffLb    *needJSON `json:"off_lb"`
	Mix      []mixJSON `json:"mix"`
	First60  *needJSON `json:"first_et_60_s,omitempty"` // low80 of 0: no end
	Today60  float64   `json:"today_et_60_s"`
	NextTen  float64   `json:"chance_in_next_ten"`
	TenLow   float64   `json:"chance_in_next_ten_low80"`
	TenHigh  float64   `json:"chance_in_next_ten_high80"`
	Warnings []string  `json:"warnings"`
}

func (a *app) forecastTarget(c *cobra.Command, s *subject) error {
	target, err := numberFlag(c, "target", units.Seconds)
	if err != nil {
		return err
	}
	need, err := s.prospect.Reach(s.prospect.Finish, target.Value())
	if err != nil {
		return usagef("--target: %w", err)
	}
	base, place := s.next.Setup.PowerHP, s.next.Setup.PowerAt
	if !base.Known() {
		base, place = units.Some(s.prospect.PowerHP()), "wheels, as the runs imply"
	} else if place == "" {
		place = "wheels"
	}
	u, err := s.prospect.Try(need.Way)
	if err != nil {
		return usagef("--target: %w", err)
	}
	cautions, err := a.changeCautions(c, s, need.Way, u.Quick())
	if err != nil {
		return err
	}
	out := targetJSON{
		Vehicle: s.next.Vehicle.ID, Ft: need.Mark.Ft(), Target: need.ET, Today: round4(need.Today), Mix: []mixJSON{},
		Today60: round4(need.Today60S), NextTen: round4(need.NextTen.Likely), TenLow: round4(need.NextTen.Low), TenHigh: round4(need.NextTen.High),
		Warnings: append(page.Notes(need.Notes, a.units), cautions...),
	}
	if need.Gain != nil {
		out.GainHP = newNeed(times(*need.Gain, base.Value()))
	}
	if need.First60S != nil {
		out.First60 = newNeed(*need.First60S)
	}
	if need.OffLb != nil {
		out.OffLb = newNeed(*need.OffLb)
	}
	for _, m := range need.Mix {
		out.Mix = append(out.Mix, mixJSON{round4(m.OffLb), newNeed(times(m.Gain, base.Value()))})
	}
	t := a.targetTable(out)
	a.aside(out.Warnings)
	return a.answer(out, t, func(w io.Writer) {
		a.wrapped(w, a.targetAnswer(out, place))
		a.wrapped(w, fmt.Sprintf("%s runs %.3f now, in half of its runs", a.place(s), need.Today))
		fmt.Fprintln(w)
		if len(t.Rows) > 0 {
			t.Render(w, table.Text, a.width())
			fmt.Fprintln(w)
		}
		a.say(w, "as it is", fmt.Sprintf("%s that one of its next ten runs in such air is %.3f or quicker", chancesBetween(need.NextTen), need.ET))
		a.say(w, "forecast", page.Basis(s.prospect.Before.Basis))
		for _, n := range page.Notes(need.Notes, a.units) {
			a.say(w, "note", n)
		}
		for _, n := range cautions {
			a.say(w, "caution", n)
		}
	})
}

func newNeed(r predict.Range) *needJSON {
	n := &needJSON{Likely: round4(r.Likely), Low: round4(r.Low)}
	if !math.IsInf(r.High, 0) {
		n.High = units.Some(round4(r.High))
	}
	return n
}

// targetAnswer is the first line: power, weight, or what must come first.
func (a *app) targetAnswer(out targetJSON, place string) string {
	head := fmt.Sprintf("%.3f at %g ft needs ", out.Target, out.Ft)
	switch {
	case out.GainHP != nil && out.OffLb != nil:
		return head + a.need(units.Power, *out.GainHP) + " more at the " + place + ", or " + a.need(units.Weight, *out.OffLb) + " less"
	case out.GainHP != nil:
		return head + a.need(units.Power, *out.GainHP) + " more at the " + place
	case out.OffLb != nil:
		return head + a.need(units.Weight, *out.OffLb) + " less; twice the power would not do it with this grip"
	case out.First60 != nil:
		between := fmt.Sprintf("%.2f to %.2f", out.First60.Low, out.First60.High.Value())
		if out.First60.Low == 0 {
			between = fmt.Sprintf("%.2f or quicker", out.First60.High.Value())
		}
		return fmt.Sprintf("%.3f at %g ft: not with this grip: the 60 ft must first be %.2f (%s, 8 in 10), it is %.2f now; then twice the power does it",
			out.Target, out.Ft, out.First60.Likely, between, out.Today60)
	}
	return fmt.Sprintf("%.3f at %g ft: not with this vehicle: twice the power and two and a half times the grip do not get there", out.Target, out.Ft)
}

func (a *app) need(k units.Kind, n needJSON) string {
	return fmt.Sprintf("%s (%s, 8 in 10)", a.show(k, units.Some(n.Likely)), a.between(k, n))
}

// between is the interval of a need, in the units shown.
func (a *app) between(k units.Kind, n needJSON) string {
	if !n.High.Known() {
		return fmt.Sprintf("%.0f or more", k.In(a.units, n.Low))
	}
	return fmt.Sprintf("%.0f to %.0f", k.In(a.units, n.Low), k.In(a.units, n.High.Value()))
}

// targetTable is the mix, from all power to all weight.
func (a *app) targetTable(out targetJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "weight off", Key: "off_" + a.suffix(units.Weight), Right: true},
		{Head: "and power added", Key: "gain_" + a.suffix(units.Power), Right: true},
		{Head: "8 in 10 from", Key: "gain_low80_" + a.suffix(units.Power), Right: true},
		{Head: "to", Key: "gain_high80_" + a.suffix(units.Power), Right: true},
	}}
	row := func(off float64, gain needJSON) {
		t.Add(a.cell(units.Weight, units.Some(off)), a.cell(units.Power, units.Some(gain.Likely)), a.cell(units.Power, units.Some(gain.Low)), a.cell(units.Power, gain.High))
	}
	if out.GainHP != nil {
		row(0, *out.GainHP)
	}
	for _, m := range out.Mix {
		row(m.OffLb, *m.GainHP)
	}
	if out.OffLb != nil {
		t.Add(a.cell(units.Weight, units.Some(out.OffLb.Likely)), a.cell(units.Power, units.Some(0)), "", "")
	}
	return t
}

// chancesBetween says a probability and, where they differ, its ends.
func chancesBetween(p predict.Range) string {
	low, high := math.Round(100*p.Low), math.Round(100*p.High)
	if low == high {
		return chances(p.Likely)
	}
	return fmt.Sprintf("%s (%.0f to %.0f, 8 in 10)", chances(p.Likely), low, high)
}

// chances says a probability as a racer would.
func chances(p float64) string {
	switch n := math.Round(100 * p); {
	case n < 1:
		return "less than 1 chance in 100"
	case n > 99:
		return "more than 99 chances in 100"
	default:
		return fmt.Sprintf("%.0f chances in 100", n)
	}
}
