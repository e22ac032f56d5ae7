package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

func (a *app) forecastCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "forecast",
		Short: "ET and speed from weight and power, or the next run of a vehicle",
		Long: `With --weight and --power: ET and trap speed by the three published formulas, and back
to power with --et or --mph. With --vehicle: its next run, from its setup, its own runs
and the air given here, or that of the log at --at.`,
		Example: `  slipcase forecast --weight 3450 --power 312
  slipcase forecast --weight 3450lb --et 13.2 --mph 105.8
  slipcase forecast --vehicle heron --track saltgrass --temp 84F --rh 50 --station 28.90inHg
  slipcase forecast --vehicle heron --track saltgrass --at "2026-05-02 16:30"
  slipcase forecast --vehicle heron --track saltgrass --gain 90hp --lose 40lb
  slipcase forecast --vehicle heron --track saltgrass --target 11.99`,
		Args: cobra.NoArgs,
		RunE: do(func(c *cobra.Command, args []string) error {
			if asksChange(c) {
				return a.reads(a.forecastChange)(c, args)
			}
			if c.Flags().Changed("vehicle") || !c.Flags().Changed("weight") {
				for _, flag := range []string{"weight", "power", "power-at", "standard", "loss", "kind", "drive", "et", "mph"} {
					if c.Flags().Changed(flag) {
						return usagef("--%s does not go with a vehicle of the log, whose setup says it; for a bare formula give --weight and no --vehicle", flag)
					}
				}
				return a.reads(a.forecastVehicle)(c, args)
			}
			return a.forecastFormula(c)
		}),
	}
	f := c.Flags()
	f.String("weight", "", "ready to run, with driver or rider, as 3450lb or 1565kg")
	f.String("power", "", "as 312hp or 233kW")
	f.String("power-at", "wheels", "where it was measured: wheels or clutch")
	f.String("standard", "", "what the power is corrected to: sae, standard, din or none")
	f.String("loss", "", "driveline loss in percent; by kind and drive when left out")
	f.String("kind", "car", "car or motorcycle")
	f.String("drive", "rear", "rear, front or all")
	f.String("et", "", "a quarter-mile time, to get the power from")
	f.String("mph", "", "a quarter-mile speed, to get the power from")
	f.String("vehicle", "", "a vehicle of the log")
	f.String("track", "", "the track it will run at")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	f.String("elevation", "", "with --weight: of the track, for --altimeter or --sea-level")
	registerReading(c)
	registerChange(c)
	return c
}

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

// numberFlag reads a quantity flag; absent when it was not given.
func numberFlag(c *cobra.Command, name string, kind units.Kind) (units.Number, error) {
	text, _ := c.Flags().GetString(name)
	if !c.Flags().Changed(name) {
		return units.Number{}, nil
	}
	v, err := kind.Parse(text)
	if err != nil {
		return units.Number{}, usagef("--%s: %v", name, err)
	}
	return units.Some(v), nil
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
		{"power-at", (*string)(&m.PowerAt), []string{"wheels", "clutch"}},
		{"standard", (*string)(&m.Standard), []string{"sae", "standard", "din", "none", ""}},
		{"kind", (*string)(&m.Kind), []string{"car", "motorcycle"}},
		{"drive", (*string)(&m.Drive), []string{"rear", "front", "all"}},
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

func oneOf(c *cobra.Command, flag string, words ...string) (string, error) {
	text, _ := c.Flags().GetString(flag)
	for _, w := range words {
		if text == w {
			return text, nil
		}
	}
	return "", usagef("--%s %q: want one of %v", flag, text, words)
}

func (a *app) forecastFormula(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return usage(err)
	}
	if c.Flags().Changed("et") || c.Flags().Changed("mph") {
		return a.impliedPower(c, m, loss)
	}
	if !m.PowerHP.Known() {
		return usagef("--power is missing: want power such as 312hp, or --et or --mph to get the power from")
	}
	air, known, remarks, err := a.givenAir(c)
	if err != nil {
		return err
	}
	stated := predict.StatedPower{HP: m.PowerHP.Value(), At: m.PowerAt, Standard: m.Standard, Loss: loss}
	hp, err := stated.Clutch()
	if known {
		hp, err = stated.ClutchIn(predict.Natural, air)
	}
	if err != nil {
		return usage(err)
	}
	remarks = append(remarks, stated.Remarks(known)...)
	for _, check := range []func() (string, error){
		func() (string, error) { return predict.CheckWeight(m.WeightLb.Value()) },
		func() (string, error) { return predict.CheckPower(m.PowerHP.Value()) },
	} {
		if doubt, _ := check(); doubt != "" {
			remarks = append(remarks, doubt)
		}
	}
	out := formulasJSON{WeightLb: m.WeightLb.Value(), ClutchHP: hp, DoubtPct: 100 * predict.Doubt, Basis: predict.DoubtBasis, Warnings: append([]string{}, remarks...), inAir: known}
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
	cautions := predict.Cautions(m, quick)
	out.Warnings = append(out.Warnings, cautions...)
	return a.answer(out, a.formulaTable(out), func(w io.Writer) { a.formulaText(w, m, out, remarks, cautions) })
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
		*want.at = tidy(units.Some(v)).Value()
	}
	return out, nil
}

// givenAir is the air of the flags of a command; known is false without any.
func (a *app) givenAir(c *cobra.Command) (air weather.Air, known bool, remarks []string, err error) {
	r, report, given, err := reading(c)
	if err != nil || !given {
		return air, false, nil, err
	}
	elevation, err := numberFlag(c, "elevation", units.Length)
	if err != nil {
		return air, false, nil, err
	}
	air, remarks, err = r.Air(elevation)
	if err != nil {
		return air, false, nil, usage(err)
	}
	remarks = append(remarks, unread(report)...)
	return air, true, append(remarks, r.Doubts(elevation)...), nil
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
	fmt.Fprintf(w, "%s, %s at the %s", a.show(units.Weight, m.WeightLb), a.show(units.Power, m.PowerHP), m.PowerAt)
	if out.LossPct.Known() {
		where := "at the clutch"
		if out.inAir {
			where += " in this air"
		}
		fmt.Fprintf(w, " (about %s %s: %.0f %% loss taken, --loss changes it)", a.show(units.Power, units.Some(out.ClutchHP)), where, out.LossPct.Value())
	} else if out.ClutchHP != m.PowerHP.Value() {
		fmt.Fprintf(w, " (%s in this air)", a.show(units.Power, units.Some(out.ClutchHP)))
	}
	fmt.Fprint(w, "\n\n")
	a.formulaTable(out).Render(w, table.Text, a.width())
	fox := out.Formulas[1].ET1320
	fmt.Fprintln(w)
	a.say(w, "give or take", fmt.Sprintf("%.0f %%, %.1f s: %s", out.DoubtPct, fox*predict.Doubt, predict.DoubtBasis))
	a.say(w, "your own slips", "five of them make it hundredths: slipcase init")
	for _, r := range remarks {
		a.say(w, "note", r)
	}
	for _, r := range cautions {
		a.say(w, "caution", r)
	}
}

// impliedPower goes from a time or a speed back to power, by each formula.
func (a *app) impliedPower(c *cobra.Command, m predict.Machine, loss float64) error {
	et, err := numberFlag(c, "et", units.Seconds)
	if err != nil {
		return err
	}
	mph, err := numberFlag(c, "mph", units.Speed)
	if err != nil {
		return err
	}
	type implied struct {
		Name        string       `json:"name"`
		ClutchByET  units.Number `json:"power_clutch_by_et_hp,omitzero"`
		WheelsByET  units.Number `json:"power_wheels_by_et_hp,omitzero"`
		ClutchByMPH units.Number `json:"power_clutch_by_mph_hp,omitzero"`
		WheelsByMPH units.Number `json:"power_wheels_by_mph_hp,omitzero"`
	}
	out := struct {
		Formulas []implied `json:"formulas"`
		LossPct  float64   `json:"loss_pct"`
		Says     string    `json:"says,omitzero"`
	}{LossPct: 100 * loss}
	hp := a.suffix(units.Power)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "by ET: clutch", Key: "power_clutch_by_et_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_et_" + hp, Right: true},
		{Head: "by speed: clutch", Key: "power_clutch_by_mph_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_mph_" + hp, Right: true},
	}}
	for _, f := range predict.Formulas {
		one := implied{Name: strings.ToLower(f.Name)}
		if et.Known() {
			p, err := f.PowerFromET(predict.At1320, m.WeightLb.Value(), et.Value())
			if err != nil {
				return usage(err)
			}
			one.ClutchByET, one.WheelsByET = units.Some(p), units.Some(predict.ToWheels(p, loss))
		}
		if mph.Known() {
			p, err := f.PowerFromMPH(predict.At1320, m.WeightLb.Value(), mph.Value())
			if err != nil {
				return usage(err)
			}
			one.ClutchByMPH, one.WheelsByMPH = units.Some(p), units.Some(predict.ToWheels(p, loss))
		}
		out.Formulas = append(out.Formulas, one)
		t.Add(f.Name, a.cell(units.Power, one.ClutchByET), a.cell(units.Power, one.WheelsByET), a.cell(units.Power, one.ClutchByMPH), a.cell(units.Power, one.WheelsByMPH))
	}
	if et.Known() && mph.Known() {
		i, err := predict.ImpliedPower(predict.Fox, predict.At1320, m.WeightLb.Value(), et.Value(), mph.Value())
		if err != nil {
			return usage(err)
		}
		out.Says = i.Says(units.Number{})
	}
	return a.answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "power that %s needs, %.0f %% driveline loss taken\n\n", a.show(units.Weight, m.WeightLb), 100*loss)
		t.Render(w, table.Text, a.width())
		fmt.Fprintf(w, "\nGive or take %.0f %%: power goes as the cube of the time.\n", 300*predict.Doubt)
		if out.Says != "" {
			fmt.Fprintln(w, "By Fox "+out.Says)
		}
	})
}

// vehicleForecastJSON is the forecast of a vehicle's next run.
type vehicleForecastJSON struct {
	Vehicle string `json:"vehicle"`
	Setup   string `json:"setup"`
	expectedJSON
	DensityAltitudeFt units.Number `json:"density_altitude_ft"`
	AirHow            string       `json:"air_how"`
}

func (a *app) forecastVehicle(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	track, err := a.theTrack(c, lb)
	if err != nil {
		return err
	}
	at, err := a.at(c, "at", a.zone(track))
	if err != nil {
		return err
	}
	next, err := a.nextRun(c, lb, v, track, logbook.Time{Time: at})
	if err != nil {
		return err
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return err
	}
	e, err := expect(passesOf(runs), passOf(next))
	if err != nil {
		return fmt.Errorf("%s: %w", v.ID, err)
	}
	e.Splits = timedAt(track, e.Splits)
	out := vehicleForecastJSON{v.ID, next.Setup.Name, newExpectedJSON(e), units.Number{}, next.Air.How}
	if next.Air.Known {
		out.DensityAltitudeFt = units.Some(next.Air.Air.DensityAltitudeFt())
	}
	cautions := predict.Cautions(machineOf(v, next.Setup), e.Splits)
	out.Warnings = append(append(out.Warnings, next.Missing...), cautions...)
	j := judged{run: next, standard: out.DensityAltitudeFt}
	return a.answer(out, a.expectedTable(e), func(w io.Writer) {
		if m, ok := e.Splits.Finish(); ok {
			fmt.Fprintf(w, "%s at %s, %s: %s at %g ft\n\n", v.Name(), orDash(track.Name()), when(at), a.runText(e.Splits, m), m.Ft())
		}
		a.expectedTable(e).Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "setup", orDash(next.Setup.Name))
		a.say(w, "air", a.airLine(j))
		a.say(w, "forecast", e.Basis)
		for _, r := range append(e.Remarks, append(next.Air.Remarks, next.Missing...)...) {
			a.say(w, "note", r)
		}
		for _, l := range e.LeftOut {
			a.say(w, "left out", "run "+l.ID+": "+l.Why)
		}
		for _, r := range cautions {
			a.say(w, "caution", r)
		}
	})
}

// timedAt leaves out the marks beyond the longest distance timed at a track.
func timedAt(track logbook.Track, s predict.Splits) predict.Splits {
	if len(track.LengthsFt) == 0 {
		return s
	}
	longest := slices.Max(track.LengthsFt)
	for m := range predict.Marks {
		if m.Ft() > longest {
			s.ETs[m], s.MPHs[m] = units.Number{}, units.Number{}
		}
	}
	return s
}

// nextRun is the run to come: the setup in force at its time and the air of the
// flags, or that of the log as it can be known now.
func (a *app) nextRun(c *cobra.Command, lb *logbook.Logbook, v logbook.Vehicle, track logbook.Track, at logbook.Time) (logbook.Run, error) {
	j, err := lb.Joiner(v.ID)
	if err != nil {
		return logbook.Run{}, err
	}
	r, report, given, err := reading(c)
	if err != nil {
		return logbook.Run{}, err
	}
	run := j.Run(logbook.Slip{Vehicle: v.ID, Track: track.ID, Time: at})
	run.Missing = nil
	if !run.SetupKnown() {
		run.Missing = append(run.Missing, "no setup in force: slipcase setup add")
	}
	switch {
	case given:
		air, remarks, err := r.Air(track.ElevationFt)
		if err != nil {
			return run, usage(err)
		}
		remarks = append(append(remarks, unread(report)...), r.Doubts(track.ElevationFt)...)
		run.Air = weather.Estimate{Air: air, Known: true, How: "given here", WindMPH: r.WindMPH, WindFromDeg: r.WindFromDeg, Remarks: remarks}
	case track.ID != "":
		if run.Air, err = j.AirAhead(track.ID, a.now(), at.Time); err != nil {
			return run, err
		}
	default:
		run.Air = weather.Estimate{How: "no track named: --track"}
	}
	return run, nil
}

func (a *app) expectedTable(e expectation) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "ft", Key: "distance_ft", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + a.suffix(units.Speed), Right: true},
	}}
	for m := range predict.Marks {
		if e.Splits.ETs[m].Known() {
			t.Add(fmt.Sprintf("%g", m.Ft()), seconds(e.Splits.ETs[m]), a.speed(e.Splits.MPHs[m]))
		}
	}
	return t
}
