package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

type cameJSON struct {
	Runs      int       `json:"runs"`
	ET        float64   `json:"et_s"`
	Low       float64   `json:"et_low80_s"`
	High      float64   `json:"et_high80_s"`
	ImpliedHP *needJSON `json:"implied_gain_hp,omitempty"`
}

func newCame(runs int, et crew.Range) cameJSON {
	return cameJSON{runs, round4(et.Likely), round4(et.Low), round4(et.High), nil}
}

// outcomeJSON is what a change that is in promised and brought.
type outcomeJSON struct {
	crew.Planned
	Setup    string     `json:"setup"`
	With     []string   `json:"changes_of_the_setup"`
	Ft       float64    `json:"distance_ft"`
	Promised cameJSON   `json:"promised"`
	Alone    *cameJSON  `json:"promised_alone,omitempty"` // of this change, where others came with it
	Came     []cameJSON `json:"came"`
	ClaimHP  *needJSON  `json:"claimed_gain_hp,omitempty"`
}

func newOutcomeJSON(o crew.PlanOutcome) outcomeJSON {
	was, hp := o.Was.HP, o.Was.HP.Value()
	out := outcomeJSON{
		Planned: o.Part, Setup: o.Setup.ID, With: o.Names, Ft: o.Outcome.Mark.Ft(),
		Promised: newCame(0, o.Outcome.Promised), Came: []cameJSON{},
	}
	if was.Known() && o.Outcome.Claimed != (crew.Range{}) {
		out.ClaimHP = newNeed(crew.Times(o.Outcome.Claimed, hp))
	}
	if o.Alone != nil {
		alone := newCame(0, *o.Alone)
		out.Alone = &alone
	}
	for _, came := range o.Outcome.Came {
		one := newCame(came.Runs, came.ETGain)
		if was.Known() {
			one.ImpliedHP = maybeNeed(came.Implied, hp)
		}
		out.Came = append(out.Came, one)
	}
	return out
}

// Outcome tells what a change that is in promised, and what it brought.
func (p *Page) Outcome(o crew.PlanOutcome) error {
	t := p.outcomeTable(newOutcomeJSON(o))
	promised, came := o.Outcome.Promised, o.Outcome.Came
	return p.Answer(newOutcomeJSON(o), t, func(w io.Writer) {
		since := fmt.Sprintf("%s, in since %s; ", o.Vehicle.Name(), When(o.Setup.From.Time))
		head := fmt.Sprintf("%s promised %s at %g ft", together(o), quicker(promised), o.Outcome.Mark.Ft())
		if len(came) == 0 {
			p.Wrap(w, head)
			p.Wrap(w, since+"no full-power run with it reached the finish yet")
		} else {
			p.Wrap(w, head+" and brought "+quicker(came[len(came)-1].ETGain))
			p.Wrap(w, since+"both in the air of its first run")
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		if len(o.Names) > 1 {
			p.Say(w, "note", "these came in with one setup: its runs cannot tell them apart")
		}
		if rose := minus(o.Setup.PowerHP, o.Was.HP); rose.Or(0) != 0 {
			p.Say(w, "note", fmt.Sprintf("the power that the setups state rose by %s", p.Show(units.Power, rose)))
		}
		if len(came) > 0 {
			p.Say(w, "note", trust(promised, came[len(came)-1].ETGain))
		}
	})
}

// together says which changes a promise is of.
func together(o crew.PlanOutcome) string {
	last := len(o.Names) - 1
	if last < 1 {
		return o.Part.Name
	}
	return strings.Join(o.Names[:last], ", ") + " and " + o.Names[last] + " together"
}

// trust says what the outcome says about the claim.
func trust(promised, came crew.Range) string {
	switch {
	case came.Low > promised.High:
		return "it brought less than promised: trust the next claim of this kind less"
	case came.High < promised.Low:
		return "it brought more than promised"
	}
	return "~ it brought about what was promised"
}

func (p *Page) outcomeTable(out outcomeJSON) table.Table {
	hp := p.Suffix(units.Power)
	likely, low, high := "gain_"+hp, "gain_low80_"+hp, "gain_high80_"+hp
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "of"},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 of 10 from", Key: "et_low80_s", Right: true},
		{Head: "to", Key: "et_high80_s", Right: true},
		{Head: "power", Key: likely, Right: true},
		{Head: "from", Key: low, Right: true},
		{Head: "to", Key: high, Right: true},
	}}
	row := func(of string, c cameJSON, gain *needJSON) {
		cells := table.Cells{
			"of": of, "et_s": hundredth(c.ET), "et_low80_s": hundredth(c.Low), "et_high80_s": hundredth(c.High),
		}
		if gain != nil {
			cells[likely] = p.Cell(units.Power, units.Some(gain.Likely))
			cells[low], cells[high] = p.Cell(units.Power, units.Some(gain.Low)), p.Cell(units.Power, gain.High)
		}
		t.AddCells(cells)
	}
	row("promised", out.Promised, out.ClaimHP)
	if out.Alone != nil {
		row(out.Name+" alone", *out.Alone, nil)
	}
	for _, c := range out.Came {
		of := fmt.Sprintf("by %d runs", c.Runs)
		if c.Runs == 1 {
			of = "by the first run"
		}
		row(of, c, c.ImpliedHP)
	}
	return t
}
