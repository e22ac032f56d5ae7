package page

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// formulaJSON is what one formula says.
type formulaJSON struct {
	Name   string  `json:"name"`
	ET1320 float64 `json:"et_1320_s"`
	MPH    float64 `json:"mph_1320"`
	ET660  float64 `json:"et_660_s"`
	MPH660 float64 `json:"mph_660"`
}

type formulasJSON struct {
	Formulas []formulaJSON `json:"formulas"`
	WeightLb float64       `json:"weight_lb"`
	ClutchHP float64       `json:"power_clutch_hp"`
	HP       float64       `json:"power_formulas_hp"` // what moves the formulas' cars as much
	LossPct  units.Number  `json:"loss_pct,omitzero"` // when the power was taken from the wheels
	DoubtPct float64       `json:"doubt_pct"`
	Basis    string        `json:"basis"`
	Warnings []string      `json:"warnings"`
}

// Formulas tells what the published formulas make of a weight and a power; doubts are
// those about the figures.
func (p *Page) Formulas(f crew.ByFormulas) error {
	m, t := f.Ask.Machine, p.formulaTable(f.Formulas)
	var notes []string
	if f.Ask.Air != nil {
		notes = AirNotes(f.Ask.Air.Notes, p.Units)
	}
	notes = slices.Concat(notes, Notes(f.Notes, p.Units), p.Unusual(f.Unusual))
	if m.Kind == crew.Motorcycle {
		notes = append(notes, fmt.Sprintf("none of those %d is a motorcycle: how far off the formulas are for one is not known",
			crew.FormulaCars))
	}
	cautions := Cautions(f.Cautions, p.Units)
	if f.Ask.Air != nil && !f.Ask.AspirationSaid {
		notes = append(notes, "naturally aspirated assumed: air works on a blown engine differently, "+
			"--aspiration says so")
	}
	out := formulasJSON{
		WeightLb: m.WeightLb.Value(), ClutchHP: rounded(f.ClutchHP, ToHP), HP: rounded(f.HP, ToHP),
		DoubtPct: 100 * crew.FormulaDoubt,
		Basis:    FormulaDoubt(), Warnings: list(notes, cautions),
	}
	if m.PowerAt == crew.AtWheels {
		out.LossPct = units.Some(100 * f.Loss)
	}
	for _, one := range f.Formulas {
		out.Formulas = append(out.Formulas, formulaJSON{
			strings.ToLower(one.Name), rounded(one.ET1320, ToS), rounded(one.MPH1320, ToMPH),
			rounded(one.ET660, ToS), rounded(one.MPH660, ToMPH),
		})
	}
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		p.clutchText(w, f)
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(w, "give or take", fmt.Sprintf("%.0f %%, %.1f s: %s", out.DoubtPct,
			f.Fox().ET1320*crew.FormulaDoubt, out.Basis))
		p.Say(w, "your own slips", "five narrow it to hundredths: slipcase init")
		for _, r := range notes {
			p.Say(w, "note", r)
		}
		for _, r := range cautions {
			p.Say(w, "caution", r)
		}
	})
}

// clutchText says which weight and power were taken, and what that is at the clutch.
func (p *Page) clutchText(w io.Writer, f crew.ByFormulas) {
	m := f.Ask.Machine
	fmt.Fprintf(w, "%s, %s at the %s\n", p.Show(units.Weight, m.WeightLb), p.Show(units.Power, m.PowerHP), m.PowerAt)
	where, loss := "at the clutch", ""
	if f.Ask.Air != nil {
		where += " in this air"
	}
	if m.PowerAt == crew.AtWheels {
		loss = fmt.Sprintf(", %.0f %% driveline loss assumed; --loss sets it", 100*f.Loss)
	}
	if loss != "" || f.ClutchHP != m.PowerHP.Value() {
		fmt.Fprintf(w, "about %s %s%s\n", p.Show(units.Power, units.Some(f.ClutchHP)), where, loss)
	}
	if math.Abs(f.HP-f.ClutchHP) > 0.5 {
		fmt.Fprintf(
			w,
			"the formulas' rear-driven cars have as much at the wheels from %s\n",
			p.Show(units.Power, units.Some(f.HP)),
		)
	}
}

func (p *Page) formulaTable(fs []crew.ByFormula) table.Table {
	mph := units.Speed.Symbol(p.Units)
	quarter, eighth := "speed_1320_"+p.Suffix(units.Speed), "speed_660_"+p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "ET", Key: "et_1320_s", Right: true},
		{Head: mph, Key: quarter, Right: true},
		{Head: "1/8 ET", Key: "et_660_s", Right: true},
		{Head: mph, Key: eighth, Right: true},
	}}
	speed := func(v float64) string { return fmt.Sprintf("%.1f", units.Speed.In(p.Units, v)) }
	for _, f := range fs {
		t.AddCells(table.Cells{
			"formula": f.Name, "et_1320_s": fmt.Sprintf("%.2f", f.ET1320), quarter: speed(f.MPH1320),
			"et_660_s": fmt.Sprintf("%.2f", f.ET660), eighth: speed(f.MPH660),
		})
	}
	return t
}

// impliedJSON is the power that one formula gives, by the time and by the speed.
type impliedJSON struct {
	Name        string       `json:"name"`
	ClutchByET  units.Number `json:"power_clutch_by_et_hp,omitzero"`
	WheelsByET  units.Number `json:"power_wheels_by_et_hp,omitzero"`
	ClutchByMPH units.Number `json:"power_clutch_by_mph_hp,omitzero"`
	WheelsByMPH units.Number `json:"power_wheels_by_mph_hp,omitzero"`
}

type impliedPowerJSON struct {
	Formulas []impliedJSON `json:"formulas"`
	LossPct  float64       `json:"loss_pct"`
	Standard string        `json:"corrected_to,omitzero"`
	Times    units.Number  `json:"correction,omitzero"`
	Says     string        `json:"says,omitzero"`
	Warnings []string      `json:"warnings"`
}

// ImpliedPower tells the power that moved a run.
func (p *Page) ImpliedPower(i crew.ImpliedPower) error {
	out := impliedPowerJSON{LossPct: 100 * i.Loss}
	if i.Gap != nil {
		out.Says = Gap(*i.Gap)
	}
	in, notes := "in the air of the run", []string(nil)
	if i.Ask.Air != nil {
		out.Standard, out.Times = string(i.Standard), units.Some(rounded(i.Times, ToFactor))
		in = fmt.Sprintf("%s: times %.4f for the air of the run", standardWords(string(i.Standard)), i.Times)
		notes = AirNotes(i.Ask.Air.Notes, p.Units)
	}
	out.Warnings = list(notes)
	hp := func(n units.Number) units.Number { return roundedNumber(n, ToHP) }
	for _, f := range i.Formulas {
		out.Formulas = append(out.Formulas, impliedJSON{
			strings.ToLower(f.Name), hp(f.ClutchByET), hp(f.WheelsByET), hp(f.ClutchByMPH), hp(f.WheelsByMPH),
		})
	}
	t := p.impliedTable(i.Formulas)
	return p.Answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "power that moved %s, %s\n%.0f %% driveline loss assumed; --loss sets it\n\n",
			p.Show(units.Weight, i.Ask.Machine.WeightLb), in, out.LossPct)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(w, "give or take", fmt.Sprintf("%.0f %%: power goes as the cube of the time", 300*crew.FormulaDoubt))
		if out.Says != "" {
			p.Say(w, "by Fox", out.Says)
		}
		p.sayAll(w, "note", notes)
	})
}

func (p *Page) impliedTable(fs []crew.Implied) table.Table {
	hp := p.Suffix(units.Power)
	key := func(at, by string) string { return "power_" + at + "_by_" + by + "_" + hp }
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "by ET: clutch", Key: key("clutch", "et"), Right: true},
		{Head: "wheels", Key: key("wheels", "et"), Right: true},
		{Head: "by speed: clutch", Key: key("clutch", "mph"), Right: true},
		{Head: "wheels", Key: key("wheels", "mph"), Right: true},
	}}
	for _, f := range fs {
		t.AddCells(table.Cells{
			"formula":            f.Name,
			key("clutch", "et"):  p.Cell(units.Power, f.ClutchByET),
			key("wheels", "et"):  p.Cell(units.Power, f.WheelsByET),
			key("clutch", "mph"): p.Cell(units.Power, f.ClutchByMPH),
			key("wheels", "mph"): p.Cell(units.Power, f.WheelsByMPH),
		})
	}
	return t
}
