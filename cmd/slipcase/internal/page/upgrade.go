package page

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// upgradeJSON is what a change makes of a vehicle's next run.
type upgradeJSON struct {
	Vehicle    string     `json:"vehicle"`
	Setup      string     `json:"setup"`
	Change     string     `json:"change"`
	Before     bandsJSON  `json:"before"`
	After      bandsJSON  `json:"after"`
	Difference bandsJSON  `json:"difference"`
	CubeRoot   cubeJSON   `json:"cube_root_difference"`
	Why        string     `json:"why"`
	Launch     limitsJSON `json:"launch_limits"`
	Runs       int        `json:"runs_used"`
	AirHow     string     `json:"air_how"`
	Warnings   []string   `json:"warnings"`
}

// limitsJSON are the chances of what limits the launch.
type limitsJSON struct {
	Tires     float64 `json:"tires"`
	Wheelie   float64 `json:"wheelie"`
	Torque    float64 `json:"torque"`
	Converter float64 `json:"converter"`
}

func newLimitsJSON(l crew.Limits) limitsJSON {
	return limitsJSON{
		round4(l[crew.ByTires]),
		round4(l[crew.ByWheelie]),
		round4(l[crew.ByTorque]),
		round4(l[crew.ByConverter]),
	}
}

type cubeJSON struct {
	ET   float64 `json:"et_s"`
	Low  float64 `json:"et_low80_s"`
	High float64 `json:"et_high80_s"`
	Ft   float64 `json:"distance_ft"`
}

// Upgrade tells what a change makes of a vehicle's next run.
func (p *Page) Upgrade(u crew.Upgraded) error {
	up, words := u.Upgrade, p.changeWords(u.Ask)
	notes, cautions := slices.Concat(p.ChangeNotes(u.Notes), Notes(up.Notes, p.Units)), p.changeCautions(u.Cautions)
	out := upgradeJSON{
		Vehicle: u.Run.Vehicle.ID, Setup: u.Run.Setup.Name, Change: words,
		Before:     newRangesJSON(u.Finish, ranges(u.Before.ETs), ranges(u.Before.MPHs)),
		After:      newRangesJSON(u.Finish, ranges(up.ETs), ranges(up.MPHs)),
		Difference: newRangesJSON(u.Finish, up.ETGain, up.MPHGain),
		CubeRoot:   cubeJSON{round4(up.CubeRootS.Likely), round4(up.CubeRootS.Low), round4(up.CubeRootS.High), u.Finish.Ft()},
		Why: CubeRootGap(
			up.Why,
			p.Units,
		), Runs: u.Before.RunsUsed, AirHow: AirHow(u.Run.Air.How), Launch: newLimitsJSON(up.Launch),
		Warnings: list(notes, cautions),
	}
	t := p.upgradeTable(u.Prospect, up)
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		p.Wrap(w, fmt.Sprintf("%s with %s: %s", u.Run.Vehicle.Name(), words, quicker(up.ETGain[u.Finish])))
		p.Wrap(w, p.place(u.Prospect))
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(w, "forecast", Basis(u.Before.Basis))
		p.cubeRootText(w, up)
		p.Say(w, "launch", Launch(up.Launch))
		p.sayAll(w, "note", notes)
		p.sayAll(w, "caution", cautions)
	})
}

// Worth tells what a change of the plan that is not in yet is worth.
func (p *Page) Worth(r crew.Worthed) error {
	u, notes, cautions := r.Upgrade, Notes(r.Upgrade.Notes, p.Units), p.changeCautions(r.Cautions)
	if r.Part.Boost != "" {
		cautions = append(cautions, BoostCautions...)
	}
	out := struct {
		crew.Planned
		Worth    worthJSON `json:"worth"`
		Why      string    `json:"why"`
		Warnings []string  `json:"warnings"`
	}{r.Part, newWorthJSON(r.Worth), CubeRootGap(u.Why, p.Units), list(notes, cautions)}
	t := p.upgradeTable(r.Prospect, u)
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		p.Wrap(w, fmt.Sprintf("%s, %s: %s", r.Part.Name, p.partWords(r.Part), quicker(r.Worth.ETGain)))
		p.Wrap(w, p.place(r.Prospect))
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.cubeRootText(w, u)
		p.Say(w, "launch", Launch(u.Launch))
		p.sayAll(w, "note", slices.Concat(p.ChangeNotes(r.Notes), notes))
		p.sayAll(w, "caution", cautions)
		fmt.Fprintf(w, "  once it is in   slipcase setup add --vehicle %s --change %s\n", r.Part.Vehicle, r.Part.Name)
	})
}

// changeWords name a change as it was asked about.
func (p *Page) changeWords(ask crew.ChangeAsk) string {
	var parts []string
	if ask.Gain.Given {
		text := ask.Gain.Text
		if !strings.HasPrefix(text, "-") {
			text = "+" + strings.TrimPrefix(text, "+")
		}
		parts = append(parts, "power "+text)
	}
	if ask.Off.Given {
		on, added := strings.CutPrefix(ask.Off.Text, "-")
		if added {
			parts = append(parts, on+" on")
		} else {
			parts = append(parts, on+" off")
		}
	}
	if ask.Grip.Given {
		what := "grip "
		if !ask.Grip.Percent {
			what = "60 ft in "
		}
		parts = append(parts, what+ask.Grip.Text)
	}
	for _, d := range []struct {
		what string
		kind units.Kind
		is   units.Number
	}{
		{"rear gear ", units.Ratio, ask.Drive.Final},
		{"tire ", units.Diameter, ask.Drive.TyreIn},
		{"shifts at ", units.RPM, ask.Drive.ShiftRPM},
		{"converter stall ", units.RPM, ask.Drive.StallRPM},
	} {
		if d.is.Known() {
			parts = append(parts, d.what+strings.TrimSuffix(p.Show(d.kind, d.is), " :1"))
		}
	}
	if s := ask.BySheets; s != nil {
		over := fmt.Sprintf("from %.0f to %.0f rpm", s.Before.LowRPM, s.Before.HighRPM)
		if s.After != s.Before {
			over += fmt.Sprintf(" before, %.0f to %.0f after,", s.After.LowRPM, s.After.HighRPM)
		}
		parts = append(parts, fmt.Sprintf("power %+.1f %% %s by the sheets", 100*s.Gain.Likely, over))
	}
	return strings.Join(parts, ", ")
}

func (p *Page) cubeRootText(w io.Writer, u crew.Upgrade) {
	p.Say(w, "cube root", fmt.Sprintf("%+.2f s (%+.2f to %+.2f) by the published formulas; %s",
		u.CubeRootS.Likely, u.CubeRootS.Low, u.CubeRootS.High, CubeRootGap(u.Why, p.Units)))
}

func (p *Page) sayAll(w io.Writer, label string, said []string) {
	for _, s := range said {
		p.Say(w, label, s)
	}
}

// newRangesJSON are ranges up to a mark: et_1320_s, et_1320_low80_s, mph_1320 and so
// on.
func newRangesJSON(far crew.Mark, ets, mphs [crew.Marks]crew.Range) bandsJSON {
	out := bandsJSON{}
	put := func(name, unit string, r crew.Range) {
		for end, v := range map[string]float64{"": r.Likely, "_low80": r.Low, "_high80": r.High} {
			out[name+end+unit] = round4(v)
		}
	}
	for m := crew.At60; m <= far; m++ {
		put(fmt.Sprintf("et_%g", m.Ft()), "_s", ets[m])
		if mphs[m] != (crew.Range{}) {
			put(fmt.Sprintf("mph_%g", m.Ft()), "", mphs[m])
		}
	}
	return out
}

// ranges are the 80 % of bands.
func ranges(bands [crew.Marks]crew.Band) (out [crew.Marks]crew.Range) {
	for m, b := range bands {
		out[m] = crew.Range{Low: b.Low80, Likely: b.Centre, High: b.High80}
	}
	return out
}

func (p *Page) upgradeTable(s *crew.Prospect, u crew.Upgrade) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "figure"},
		{Head: "now", Key: "before", Right: true},
		{Head: "after", Key: "after", Right: true},
		{Head: "difference", Key: "difference", Right: true},
		{Head: "8 of 10 from", Key: "difference_low80", Right: true},
		{Head: "to", Key: "difference_high80", Right: true},
	}}
	for m := crew.At60; m <= s.Finish; m++ {
		et, mph := fmt.Sprintf("%g ft", m.Ft()), "  "+units.Speed.Symbol(p.Units)
		if p.Format == table.CSV {
			et, mph = fmt.Sprintf("et_%g_s", m.Ft()), fmt.Sprintf("speed_%g_%s", m.Ft(), p.Suffix(units.Speed))
		}
		g := u.ETGain[m]
		t.AddCells(table.Cells{
			"figure": et, "before": fmt.Sprintf("%.3f", s.Before.ETs[m].Centre), "after": fmt.Sprintf("%.3f", u.ETs[m].Centre),
			"difference": fmt.Sprintf("%+.3f", g.Likely), "difference_low80": fmt.Sprintf("%+.2f", g.Low),
			"difference_high80": fmt.Sprintf("%+.2f", g.High),
		})
		if g := u.MPHGain[m]; g != (crew.Range{}) {
			in := func(format string, mph float64) string { return fmt.Sprintf(format, units.Speed.In(p.Units, mph)) }
			t.AddCells(table.Cells{
				"figure": mph, "before": in("%.2f", s.Before.MPHs[m].Centre), "after": in("%.2f", u.MPHs[m].Centre),
				"difference": in("%+.2f", g.Likely), "difference_low80": in("%+.1f", g.Low),
				"difference_high80": in("%+.1f", g.High),
			})
		}
	}
	return t
}

// RegearHint says how what a change of gearing is told by goes on file.
func RegearHint(sys units.System) string {
	return units.Examples(sys, "on file by   slipcase setup amend last --rear 4.10 --tire {28in|711mm} --shift-at 6500 "+
		"--stall 4200 --sheet stock")
}
