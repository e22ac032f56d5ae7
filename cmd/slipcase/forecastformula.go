package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather"
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
	LossPct  units.Number  `json:"loss_pct,omitzero"` // when the power was taken from the wheels
	DoubtPct float64       `json:"doubt_pct"`
	Basis    string        `json:"basis"`
	Warnings []string      `json:"warnings"`

	inAir bool // the power is that in the air given
}

// formulaMachine reads weight and power flags as one machine.
func formulaMachine(c *cobra.Command) (m predict.Machine, loss float64, err error) {
	if m.WeightLb, err = numberFlag(c, "weight", units.Weight); err != nil {
		return m, 0, err
	}
	if m.PowerHP, err = numberFlag(c, "power", units.Power); err != nil {
		return m, 0, err
	}
	for _, w := range []struct {
		flag string
		at   *string
		any  []string
	}{
		{"power-at", (*string)(&m.PowerAt), []string{string(predict.AtWheels), string(predict.AtClutch)}},
		{"standard", (*string)(&m.Standard), []string{string(predict.SAE), string(predict.StandardJ607), string(predict.DIN), string(predict.Uncorrected), ""}},
		{"kind", (*string)(&m.Kind), []string{string(predict.Car), string(predict.Motorcycle)}},
		{"aspiration", (*string)(&m.Aspiration), []string{string(predict.Natural), string(predict.Supercharged), string(predict.Turbocharged)}},
		{"drive", (*string)(&m.Drive), []string{string(predict.RearDrive), string(predict.FrontDrive), string(predict.AllDrive)}},
	} {
		if *w.at, err = oneOf(c, w.flag, w.any...); err != nil {
			return m, 0, err
		}
	}
	loss = predict.DefaultLoss(m.Kind, m.Drive)
	given, err := numberFlag(c, "loss", units.Percent)
	if err != nil {
		return m, 0, err
	}
	if given.Known() {
		if v := given.Value(); v < 0 || v >= 60 {
			return m, 0, usagef("--loss %v: want 0 to under 60 percent", v)
		}
		loss = given.Value() / 100
	}
	return m, loss, nil
}

func (a *app) forecastFormula(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return usage(err)
	}
	if !m.PowerHP.Known() {
		return usagef("--power is missing: want power such as 312hp, or --et or --mph to get the power from")
	}
	air, known, notes, err := a.givenAir(c)
	if err != nil {
		return err
	}
	stated := predict.StatedPower{HP: m.PowerHP.Value(), At: m.PowerAt, Standard: m.Standard, Loss: loss}
	hp, err := stated.Clutch()
	if known {
		hp, err = stated.ClutchIn(m.Aspiration, air)
	}
	if err != nil {
		return usage(err)
	}
	remarks := slices.Concat(page.AirNotes(notes, a.units), page.Notes(stated.Assumed(known), a.units), a.machineDoubts(m))
	if m.Kind == predict.Motorcycle {
		remarks = append(remarks, fmt.Sprintf("there is no motorcycle among those %d: how far the formulas miss one is not known", predict.DoubtCars))
	}
	if known && !c.Flags().Changed("aspiration") {
		remarks = append(remarks, "taken as naturally aspirated: the air works on a blown engine differently, --aspiration says so")
	}
	out := formulasJSON{WeightLb: m.WeightLb.Value(), ClutchHP: hp, DoubtPct: 100 * predict.Doubt, Basis: page.FormulaDoubt(), Warnings: append([]string{}, remarks...), inAir: known}
	if m.PowerAt == predict.AtWheels {
		out.LossPct = units.Some(100 * loss)
	}
	quick := predict.Splits{}
	for _, f := range predict.Formulas {
		one, err := a.oneFormula(f, out.WeightLb, hp)
		if err != nil {
			return usage(err)
		}
		out.Formulas = append(out.Formulas, one)
		if f.Name == predict.Fox.Name {
			quick.ETs[predict.At1320] = units.Some(one.ET1320 * (1 - 2*predict.Doubt))
			quick.ETs[predict.At660] = units.Some(one.ET660 * (1 - 2*predict.Doubt))
			quick.MPHs[predict.At1320] = units.Some(one.MPH * (1 + 2*predict.Doubt))
		}
	}
	cautions := page.Cautions(predict.Cautions(m, quick), a.units)
	out.Warnings = append(out.Warnings, cautions...)
	a.aside(out.Warnings)
	return a.answer(out.rounded(), a.formulaTable(out), func(w io.Writer) { a.formulaText(w, m, out, remarks, cautions) })
}

// rounded is out as JSON gives it.
func (out formulasJSON) rounded() formulasJSON {
	out.ClutchHP = rounded(out.ClutchHP, page.ToHP)
	out.Formulas = slices.Clone(out.Formulas)
	for i, f := range out.Formulas {
		f.ET1320, f.ET660 = rounded(f.ET1320, page.ToS), rounded(f.ET660, page.ToS)
		f.MPH, f.MPH660 = rounded(f.MPH, page.ToMPH), rounded(f.MPH660, page.ToMPH)
		out.Formulas[i] = f
	}
	return out
}

func (a *app) oneFormula(f predict.Formula, weightLb, hp float64) (formulaJSON, error) {
	out := formulaJSON{Name: strings.ToLower(f.Name)}
	for _, want := range []struct {
		at  *float64
		of  func(predict.Mark, float64, float64) (float64, error)
		far predict.Mark
	}{{&out.ET1320, f.ET, predict.At1320}, {&out.MPH, f.MPH, predict.At1320}, {&out.ET660, f.ET, predict.At660}, {&out.MPH660, f.MPH, predict.At660}} {
		v, err := want.of(want.far, weightLb, hp)
		if err != nil {
			return out, err
		}
		*want.at = v
	}
	return out, nil
}

// givenAir is the air of the flags of a command; known is false without any.
func (a *app) givenAir(c *cobra.Command) (air weather.Air, known bool, notes []weather.Note, err error) {
	r, report, given, err := reading(c)
	if err != nil || !given {
		return air, false, nil, err
	}
	elevation, err := numberFlag(c, "elevation", units.Length)
	if err != nil {
		return air, false, nil, err
	}
	air, notes, err = r.Air(elevation)
	if err != nil {
		return air, false, nil, usage(err)
	}
	doubts, err := a.doubted(c, r.Doubts(elevation))
	return air, true, slices.Concat(notes, report.Notes(), doubts), err
}

func (a *app) formulaTable(out formulasJSON) table.Table {
	mph := a.suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "ET", Key: "et_1320_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_1320_" + mph, Right: true},
		{Head: "1/8 ET", Key: "et_660_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_660_" + mph, Right: true},
	}}
	for i, f := range out.Formulas {
		speed := func(v float64) string { return fmt.Sprintf("%.1f", units.Speed.In(a.units, v)) }
		t.Add(predict.Formulas[i].Name, fmt.Sprintf("%.2f", f.ET1320), speed(f.MPH), fmt.Sprintf("%.2f", f.ET660), speed(f.MPH660))
	}
	return t
}

func (a *app) formulaText(w io.Writer, m predict.Machine, out formulasJSON, remarks, cautions []string) {
	fmt.Fprintf(w, "%s, %s at the %s\n", a.show(units.Weight, m.WeightLb), a.show(units.Power, m.PowerHP), m.PowerAt)
	where := "at the clutch"
	if out.inAir {
		where += " in this air"
	}
	if out.LossPct.Known() {
		fmt.Fprintf(w, "about %s %s, %.0f %% driveline loss taken: --loss\n", a.show(units.Power, units.Some(out.ClutchHP)), where, out.LossPct.Value())
	} else if out.ClutchHP != m.PowerHP.Value() {
		fmt.Fprintf(w, "about %s %s\n", a.show(units.Power, units.Some(out.ClutchHP)), where)
	}
	fmt.Fprintln(w)
	a.formulaTable(out).Render(w, table.Text, a.width())
	fox := out.Formulas[1].ET1320
	fmt.Fprintln(w)
	a.say(w, "give or take", fmt.Sprintf("%.0f %%, %.1f s: %s", out.DoubtPct, fox*predict.Doubt, out.Basis))
	a.say(w, "your own slips", "five of them make it hundredths: slipcase init")
	for _, r := range remarks {
		a.say(w, "note", r)
	}
	for _, r := range cautions {
		a.say(w, "caution", r)
	}
}
