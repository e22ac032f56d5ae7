package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// changeFlags are those of forecast that ask what a change is worth.
var changeFlags = []string{"gain", "lose", "grip", "before", "after", "target"}

func registerChange(c *cobra.Command) {
	f := c.Flags()
	f.String("gain", "", "with --vehicle: power added, as 90hp, 12% or low/likely/high as 70/90/105hp")
	f.String("lose", "", "with --vehicle: weight taken off, as 40lb; -15lb puts it on")
	f.String("grip", "", "with --vehicle: launch grip added, as +5%")
	f.String("before", "", "with --vehicle: a dyno sheet before the change, a file or one of slipcase power list")
	f.String("after", "", "with --vehicle: the sheet after it")
	f.String("shift", "", "with --before and --after: the engine speeds that a run uses, as 4500-6000")
	f.String("target", "", "with --vehicle: a time at the finish: what power or weight it needs")
	f.String("tyre-rating", "", "with --vehicle: the speed that the tyres are rated for, as 149mph")
}

// asksChange reports whether a forecast is about a change.
func asksChange(c *cobra.Command) bool {
	return anyChanged(c, changeFlags...) || anyChanged(c, "shift", "tyre-rating")
}

func anyChanged(c *cobra.Command, flags ...string) bool {
	return slices.ContainsFunc(flags, c.Flags().Changed)
}

// forecastChange answers forecast --vehicle with a change or a target.
func (a *app) forecastChange(c *cobra.Command, _ []string, lb *crew.Session) error {
	if !anyChanged(c, changeFlags...) {
		return usagef("--shift and --tyre-rating go with a change: want --gain, --lose, --grip, --before and --after, or --target")
	}
	switch {
	case c.Flags().Changed("shift") && !anyChanged(c, "before", "after"):
		return usagef("--shift is about dyno sheets: want --before and --after with it")
	case c.Flags().Changed("power-at") && !c.Flags().Changed("gain"):
		return usagef("--power-at says where a gain counts: want --gain with it")
	}
	if c.Flags().Changed("target") {
		for _, flag := range changeFlags[:5] {
			if c.Flags().Changed(flag) {
				return usagef("--target and --%s: want one of them", flag)
			}
		}
	}
	s, err := a.subject(c, lb)
	if err != nil {
		return err
	}
	if c.Flags().Changed("target") {
		return a.forecastTarget(c, s)
	}
	change, words, notes, err := a.changeOf(c, lb, s)
	if err != nil {
		return err
	}
	if change == (predict.Change{}) {
		return usagef("nothing is changed: want a --gain, --lose or --grip other than 0")
	}
	u, err := s.prospect.Try(change)
	if err != nil {
		return usage(err)
	}
	cautions, err := a.changeCautions(c, s, change, u.Quick())
	if err != nil {
		return err
	}
	return a.answerUpgrade(s, u, words, append(notes, page.Notes(u.Notes, a.units)...), cautions)
}

// changeOf reads the flags of a change.
func (a *app) changeOf(c *cobra.Command, lb *crew.Session, s *subject) (change predict.Change, words string, notes []string, err error) {
	gain, err := threeFlag(c, "gain", units.Power, units.Percent)
	if err != nil {
		return change, "", nil, err
	}
	lose, err := threeFlag(c, "lose", units.Weight)
	if err != nil {
		return change, "", nil, err
	}
	grip, err := threeFlag(c, "grip", units.Percent)
	if err != nil {
		return change, "", nil, err
	}
	at := ""
	if c.Flags().Changed("power-at") {
		if at, err = oneOf(c, "power-at", "wheels", "clutch"); err != nil {
			return change, "", nil, err
		}
	}
	var note string
	if change.Gain, note, err = s.gainOf(gain, at); err != nil {
		return change, "", nil, usagef("--gain: %w", err)
	}
	change.WeightLb, change.Grip = times(lose.exact(), -1), times(grip.exact(), 0.01)
	var parts []string
	for _, p := range []struct {
		flag  string
		given bool
		of    string
	}{{"gain", gain.given, "power %s"}, {"lose", lose.given, "%s off"}, {"grip", grip.given, "grip %s"}} {
		if p.given {
			text, _ := c.Flags().GetString(p.flag)
			if p.flag == "gain" && !strings.HasPrefix(text, "-") {
				text = "+" + strings.TrimPrefix(text, "+")
			}
			if on, added := strings.CutPrefix(text, "-"); p.flag == "lose" && added {
				text, p.of = on, "%s on"
			}
			parts = append(parts, fmt.Sprintf(p.of, text))
		}
	}
	if c.Flags().Changed("before") || c.Flags().Changed("after") {
		if gain.given {
			return change, "", nil, usagef("--gain and the sheets of --before and --after: want one of them")
		}
		var text string
		if change.Gain, text, err = a.sheetGain(c, lb); err != nil {
			return change, "", nil, err
		}
		parts = append(parts, text)
	}
	if gain.given && gain.alone && gain.likely != 0 {
		notes = append(notes, "the gain is doubted as two dyno sheets of ±2 % would be; low/likely/high says your own doubt")
	}
	if note != "" {
		notes = append(notes, note)
	}
	return change, strings.Join(parts, ", "), notes, nil
}

// sheetGain is the gain between two dyno sheets over the engine speeds of a run.
func (a *app) sheetGain(c *cobra.Command, lb *crew.Session) (predict.Range, string, error) {
	var curves [2]predict.Curve
	var first logbook.Sheet
	for i, flag := range []string{"before", "after"} {
		name, _ := c.Flags().GetString(flag)
		if name == "" {
			return predict.Range{}, "", usagef("--%s is missing: a gain by sheets wants both", flag)
		}
		if _, err := os.Stat(name); err == nil || name == "-" {
			if curves[i], err = a.readCurve(name); err != nil {
				return predict.Range{}, "", err
			}
			continue
		}
		sheet, err := lb.Sheet(name)
		if err != nil {
			return predict.Range{}, "", fmt.Errorf("--%s: neither a file nor a sheet of slipcase power list: %w", flag, err)
		}
		to := sheet.Standard
		if i == 1 && first.Name != "" {
			if to = first.Standard; sheet.At != first.At {
				return predict.Range{}, "", usagef("%s is at the %s, %s at the %s: want both at one place", first.Name, first.At, sheet.Name, sheet.At)
			}
		}
		one, err := restated(sheet, to)
		if err != nil {
			return predict.Range{}, "", usagef("%s: %w", name, err)
		}
		if one.curve == nil {
			return predict.Range{}, "", usagef("%s is a peak alone: a gain by sheets wants curves, --gain takes a figure", name)
		}
		first, curves[i] = sheet, one.curve
	}
	low, high := curves[0].SharedShiftRange(curves[1])
	if text, _ := c.Flags().GetString("shift"); text != "" {
		var err error
		if low, high, err = rpmRange(text); err != nil {
			return predict.Range{}, "", usagef("--shift %q: %w", text, err)
		}
	}
	gain, err := curves[1].GainOver(curves[0], low, high)
	if err != nil {
		return predict.Range{}, "", usage(err)
	}
	return predict.ClaimedGain(gain), fmt.Sprintf("power %+.1f %% from %.0f to %.0f rpm by the sheets", 100*gain, low, high), nil
}

// changeCautions are all that a change calls for.
func (a *app) changeCautions(c *cobra.Command, s *subject, change predict.Change, quick predict.Splits) ([]string, error) {
	machine := crew.MachineOf(s.next.Vehicle, s.next.Setup)
	before, after := upTo(s.prospect.Before.Quick(), s.prospect.Finish), upTo(quick, s.prospect.Finish)
	cautions := page.Cautions(predict.ChangeCautions(machine, change, before, after), a.units)
	rating, err := numberFlag(c, "tyre-rating", units.Speed)
	if err != nil {
		return nil, err
	}
	if rating.Known() {
		if v := rating.Value(); v < 50 || v > 350 {
			return nil, usagef("--tyre-rating %s: want 50 to 350 mph, as the tyre's maker says it", rating)
		}
		if fastest := after.Fastest(); fastest >= rating.Value() {
			whole := func(mph float64) string {
				return fmt.Sprintf("%.0f %s", units.Speed.In(a.units, mph), units.Speed.Symbol(a.units))
			}
			cautions = append(cautions, fmt.Sprintf("%s may be run, the tyres are rated for %s: no run on them; the tyre's maker and the rulebook in force say which may be used",
				whole(fastest), whole(rating.Value())))
		}
	}
	return cautions, nil
}

// marksShown are the distances timed at the track.
func (s *subject) marksShown() []predict.Mark {
	var marks []predict.Mark
	for m := predict.At60; m <= s.prospect.Finish; m++ {
		marks = append(marks, m)
	}
	return marks
}

// bandsJSON writes bands under the stable keys of splits.
func bandsJSON(marks []predict.Mark, ets, mphs [predict.Marks]predict.Range) map[string]float64 {
	out := map[string]float64{}
	for _, m := range marks {
		put := func(name, unit string, r predict.Range) {
			for suffix, v := range map[string]float64{"": r.Likely, "_low80": r.Low, "_high80": r.High} {
				out[fmt.Sprintf("%s_%g%s%s", name, m.Ft(), suffix, unit)] = round4(v)
			}
		}
		put("et", "_s", ets[m])
		if mphs[m] != (predict.Range{}) {
			put("mph", "", mphs[m])
		}
	}
	return out
}

// ranges are the 80 % of bands.
func ranges(bands [predict.Marks]predict.Band) (out [predict.Marks]predict.Range) {
	for m, b := range bands {
		out[m] = predict.Range{Low: b.Low80, Likely: b.Centre, High: b.High80}
	}
	return out
}

func (a *app) answerUpgrade(s *subject, u predict.Upgrade, words string, notes, cautions []string) error {
	marks, before := s.marksShown(), s.prospect.Before
	type cubeJSON struct {
		ET   float64 `json:"et_s"`
		Low  float64 `json:"et_low80_s"`
		High float64 `json:"et_high80_s"`
		Ft   float64 `json:"distance_ft"`
	}
	out := struct {
		Vehicle    string             `json:"vehicle"`
		Setup      string             `json:"setup"`
		Change     string             `json:"change"`
		Before     map[string]float64 `json:"before"`
		After      map[string]float64 `json:"after"`
		Difference map[string]float64 `json:"difference"`
		CubeRoot   cubeJSON           `json:"cube_root_difference"`
		Why        string             `json:"why"`
		Runs       int                `json:"runs_used"`
		AirHow     string             `json:"air_how"`
		Warnings   []string           `json:"warnings"`
	}{
		s.next.Vehicle.ID, s.next.Setup.Name, words,
		bandsJSON(marks, ranges(before.ETs), ranges(before.MPHs)), bandsJSON(marks, ranges(u.ETs), ranges(u.MPHs)),
		bandsJSON(marks, u.ETGain, u.MPHGain),
		cubeJSON{round4(u.CubeRootS.Likely), round4(u.CubeRootS.Low), round4(u.CubeRootS.High), s.prospect.Finish.Ft()},
		page.CubeRootGap(u.Why, a.units), before.RunsUsed, page.AirHow(s.next.Air.How), append(append([]string{}, notes...), cautions...),
	}
	t := a.upgradeTable(marks, before, u)
	a.aside(out.Warnings)
	return a.answer(out, t, func(w io.Writer) {
		g := u.ETGain[s.prospect.Finish]
		a.wrapped(w, fmt.Sprintf("%s with %s: %s", s.next.Vehicle.Name(), words, quicker(g)))
		a.wrapped(w, a.place(s))
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "forecast", page.Basis(before.Basis))
		a.say(w, "cube root", fmt.Sprintf("%+.2f s (%+.2f to %+.2f) by the published formulas; %s", u.CubeRootS.Likely, u.CubeRootS.Low, u.CubeRootS.High, out.Why))
		for _, n := range notes {
			a.say(w, "note", n)
		}
		for _, n := range cautions {
			a.say(w, "caution", n)
		}
	})
}

// quicker says a difference in time in words, with the digits its doubt deserves.
func quicker(g predict.Range) string {
	word, likely, low, high := "quicker", -g.Likely, -g.High, -g.Low
	if g.Likely > 0 {
		word, likely, low, high = "slower", g.Likely, g.Low, g.High
	}
	if max(likely, -low, high) < 0.005 {
		return "no difference"
	}
	if low < 0 {
		return fmt.Sprintf("~ no sure difference: %.2f s %s, but %.2f to %.2f in 8 of 10", likely, word, low, high)
	}
	return fmt.Sprintf("%.2f s %s (%.2f to %.2f, 8 in 10)", likely, word, low, high)
}

func (a *app) upgradeTable(marks []predict.Mark, before predict.Forecast, u predict.Upgrade) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "figure"},
		{Head: "now", Key: "before", Right: true},
		{Head: "after", Key: "after", Right: true},
		{Head: "difference", Key: "difference", Right: true},
		{Head: "8 in 10 from", Key: "difference_low80", Right: true},
		{Head: "to", Key: "difference_high80", Right: true},
	}}
	for _, m := range marks {
		g, et, mph := u.ETGain[m], fmt.Sprintf("%g ft", m.Ft()), "  "+units.Speed.Symbol(a.units)
		if a.format == table.CSV {
			et, mph = fmt.Sprintf("et_%g_s", m.Ft()), fmt.Sprintf("speed_%g_%s", m.Ft(), a.suffix(units.Speed))
		}
		t.Add(et, fmt.Sprintf("%.3f", before.ETs[m].Centre), fmt.Sprintf("%.3f", u.ETs[m].Centre),
			fmt.Sprintf("%+.3f", g.Likely), fmt.Sprintf("%+.2f", g.Low), fmt.Sprintf("%+.2f", g.High))
		if v := u.MPHGain[m]; v != (predict.Range{}) {
			speed := func(mph float64) float64 { return units.Speed.In(a.units, mph) }
			t.Add(mph, fmt.Sprintf("%.2f", speed(before.MPHs[m].Centre)), fmt.Sprintf("%.2f", speed(u.MPHs[m].Centre)),
				fmt.Sprintf("%+.2f", speed(v.Likely)), fmt.Sprintf("%+.1f", speed(v.Low)), fmt.Sprintf("%+.1f", speed(v.High)))
		}
	}
	return t
}
