package page

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// TwoChart lays two runs over each other: what the second is behind at each distance.
// Told has both as they would be in one air, where that is known.
func (p *Page) TwoChart(a, b crew.Run, told []crew.Told) Chart {
	form := DayForm
	if a.Slip.Time.Format(time.DateOnly) == b.Slip.Time.Format(time.DateOnly) {
		form = "15:04"
	}
	first, second := a.Slip.Time.Format(form), b.Slip.Time.Format(form)
	c := Chart{Kind: "two", Units: p.Units, Title: fmt.Sprintf("Run of %s against %s", runWhen(b), runWhen(a))}
	x, y := crew.PrintedSplits(a.Slip), crew.PrintedSplits(b.Slip)
	line := Series{Shape: Line, Color: Own}
	behind := Series{Name: "behind at this point", Shape: Up, Color: Other}
	ahead := Series{Name: "ahead at this point", Shape: Dot, Color: Own}
	c.X = Axis{Head: "distance", Name: "distance", Of: units.Length}
	var far crew.Mark
	for m := range crew.Mark(crew.Marks) {
		d := minus(y.ETs[m], x.ETs[m])
		if !d.Known() {
			continue
		}
		far = m
		at := Spot{X: m.Ft(), Y: d.Value(), Of: b.Slip.ID}
		line.Points = append(line.Points, at)
		if d.Value() > 0.0005 {
			behind.Points = append(behind.Points, at)
		} else {
			ahead.Points = append(ahead.Points, at)
		}
		place := units.Length.In(p.Units, m.Ft())
		c.X.Ticks = append(c.X.Ticks, Tick{place, fmt.Sprintf("%.0f", place)})
	}
	n := len(line.Points)
	if n == 0 {
		c.Says = []string{"The two runs have no distance in common: nothing to draw."}
		return c
	}
	from, last := line.Points[0], line.Points[n-1]
	c.Says = []string{
		fmt.Sprintf("%s at %s: %s by %s, %s from there on.", capital(quickerBy(last.Y)), bare(p.Units, last.X),
			quickerBy(from.Y), bare(p.Units, from.X), quickerBy(last.Y-from.Y)),
	}
	if n == 1 {
		c.Says[0] = fmt.Sprintf("%s at %s.", capital(quickerBy(last.Y)), bare(p.Units, last.X))
		line.Points = nil
	}
	if d := inOneAir(a, b, told, far); d.Known() {
		c.Says = append(c.Says, fmt.Sprintf("With both in the same air: %s.", quickerBy(d.Value())))
	}
	pace := Axis{
		Head: fmt.Sprintf("%s minus %s (up: %s is slower)", second, first, second), Name: "difference", Of: units.Seconds, Signed: true,
	}
	c.Panels = []Panel{{Y: pace, Rules: []Rule{{}}, Series: some(line, ahead, behind)}}
	return c
}

// inOneAir is how much later the second of two runs is at a mark, both in standard air.
func inOneAir(a, b crew.Run, told []crew.Told, m crew.Mark) (late units.Number) {
	in := map[string]units.Number{}
	for _, t := range told {
		if t.InAir {
			in[t.Run.Slip.ID] = t.Standard.ETs[m]
		}
	}
	return minus(in[b.Slip.ID], in[a.Slip.ID])
}

func runWhen(r crew.Run) string {
	when := r.Slip.Time.Format(DayForm + " 15:04")
	if r.Slip.Round != "" {
		when += " " + brief(r.Slip.Round, 8)
	}
	return when
}

func quickerBy(s float64) string {
	switch {
	case math.Abs(s) < 0.0005:
		return "even"
	case s < 0:
		return short(-s, 3) + " quicker"
	}
	return short(s, 3) + " slower"
}

func capital(words string) string {
	if words[0] >= 'a' && words[0] <= 'z' {
		return string(words[0]-'a'+'A') + words[1:]
	}
	return words
}

// AgainstChart draws a time over a column of the slips.
func (p *Page) AgainstChart(g crew.Gathered, column, figure string, of func(crew.Run) units.Number) Chart {
	c := Chart{Kind: "against", Units: p.Units}
	column = brief(strings.NewReplacer("tyre", "tire", "_", " ").Replace(column), 24)
	ft, y, at := g.Mark.Ft(), standardAxis(g.Mark), func(t crew.Told) units.Number { return standardET(t, g.Mark) }
	if figure == "60" {
		ft, y, at = 60, etAxis(crew.At60), func(t crew.Told) units.Number {
			if !t.Counts(crew.At60) {
				return units.Number{}
			}
			return t.Pass.Splits.ETs[crew.At60]
		}
	}
	c.Title = fmt.Sprintf("%s: %g ft time against %s", brief(g.Vehicle.Name(), 20), ft, column)
	all := slices.DeleteFunc(slices.Clone(g.Runs), func(t crew.Told) bool { return !of(t.Run).Known() || !at(t).Known() })
	if len(all) == 0 {
		c.Says = []string{nothing(g, fmt.Sprintf("No run that counts has a figure under %s: nothing to draw.", column))}
		return c
	}
	all, more := newest(all, 1, "runs")
	last := all[len(all)-1].Run.Setup.ID
	now := Series{Name: "runs with the setup of now", Shape: Dot, Color: Own}
	before := Series{Name: "runs with setups before it", Shape: Ring, Color: Quiet}
	var xs, ys []float64
	for _, t := range all {
		spot := Spot{X: of(t.Run).Value(), Y: at(t).Value(), Of: t.Run.Slip.ID}
		if t.Run.Setup.ID != last {
			before.Points = append(before.Points, spot)
			continue
		}
		now.Points = append(now.Points, spot)
		xs, ys = append(xs, spot.X), append(ys, spot.Y)
	}
	c.X = Axis{Head: column, Name: "column"}
	c.Says = append([]string{slopeSays(xs, ys)}, more...)
	c.Panels = []Panel{{Y: y, Series: some(now, before)}}
	return c
}

// slopeSays says what a column does to a time, where runs show it.
func slopeSays(xs, ys []float64) string {
	slope, shown := crew.SlopeOf(xs, ys)
	switch {
	case math.IsInf(slope.High, 0):
		return "Too few runs with the setup of now to tell."
	case !shown:
		return notShown("effect", len(xs), slope) + " for one more of it."
	}
	return fmt.Sprintf("One more of it goes with %s.", quickerBy(slope.Value))
}

// notShown says that runs show none, and how much they would not show either.
func notShown(what string, runs int, f crew.Figure) string {
	return fmt.Sprintf("%s show no %s; they could not show less than %s",
		count(runs, "run"), what, short((f.High-f.Low)/2, 3))
}

// DynoChart draws a dyno sheet, or two over each other.
func (p *Page) DynoChart(s crew.ComparedSheets) Chart {
	c := Chart{Kind: "dyno", Units: p.Units, Title: "Dyno: " + brief(s.Sheets[0].Of.Name, 24)}
	if len(s.Sheets) > 1 {
		c.Title += " and " + brief(s.Sheets[1].Of.Name, 24)
	}
	c.X = Axis{Head: "engine speed", Name: "engine_speed", Of: units.RPM}
	var series []Series
	for i, sheet := range s.Sheets {
		one := Series{Name: brief(sheet.Of.Name, 30), Shape: []Shape{Line, Dashes}[i], Color: []Color{Own, Other}[i]}
		for _, point := range sheet.Curve {
			one.Points = append(one.Points, Spot{X: point.RPM, Y: point.HP, Of: sheet.Of.Name})
		}
		if sheet.Curve == nil {
			one.Shape = []Shape{Dot, Box}[i]
			if sheet.Of.PeakRPM.Known() {
				one.Points = []Spot{{X: sheet.Of.PeakRPM.Value(), Y: sheet.PeakHP, Of: sheet.Of.Name}}
			}
		}
		c.Says = append(
			c.Says,
			fmt.Sprintf("%s peaks at %s%s.", brief(sheet.Of.Name, 24), p.tenths(sheet.PeakHP), atRPM(sheet.Of.PeakRPM)),
		)
		series = append(series, one)
	}
	if series = some(series...); len(series) == 0 {
		c.Says = append(c.Says, "No curve and no engine speed with it: nothing to draw.")
		return c
	}
	if len(s.Sheets) > 1 {
		c.Says = append(c.Says, p.peakGain(s.Sheets[0].PeakHP, s.Sheets[1].PeakHP))
	}
	power := Axis{Head: "power, " + standardWords(s.Sheets[0].In), Name: "power", Of: units.Power}
	c.Panels = []Panel{{Y: power, Series: series}}
	return c
}

// peakGain says what the second sheet has over the first at the peaks.
func (p *Page) peakGain(first, second float64) string {
	if second < first {
		return fmt.Sprintf("The second has %s less at its peak.", p.tenths(first-second))
	}
	return fmt.Sprintf("The second has %s more at its peak.", p.tenths(second-first))
}

// PlanChart shows what each change of the plan should bring.
func (p *Page) PlanChart(r crew.Ranked) Chart {
	c := Chart{
		Kind:  "plan",
		Units: p.Units,
		Title: fmt.Sprintf("%s: what the plan should bring", brief(r.Run.Vehicle.Name(), 22)),
	}
	worth := r.Worth[:min(len(r.Worth), mostChanges)]
	c.X = Axis{Head: "gain in ET (right is quicker)", Name: "gain", Of: units.Seconds, Signed: true}
	y := Axis{Head: "change and its cost", Name: "change", Named: true}
	ranges := Series{Name: "8 of 10 times between", Shape: Whiskers, Color: Quiet}
	likely := Series{Name: "likely", Shape: Dot, Color: Own}
	for i, w := range worth {
		row := float64(len(worth) - i)
		y.Ticks = append(y.Ticks, Tick{row, fmt.Sprintf("%s, $%s", brief(w.Name, 14), thousands(w.Cost.Likely))})
		at := Spot{X: -w.ETGain.Likely, Y: row}
		likely.Points = append(likely.Points, at)
		at.Low, at.High = units.Some(-w.ETGain.High), units.Some(-w.ETGain.Low)
		ranges.Points = append(ranges.Points, at)
	}
	c.Says = []string{
		fmt.Sprintf(
			"%s brings most: %s, for $%s.",
			capital(brief(worth[0].Name, 24)),
			short(-worth[0].ETGain.Likely, 3),
			thousands(worth[0].Cost.Likely),
		),
	}
	if n := len(r.Worth) - len(worth); n > 0 {
		c.Says = append(c.Says, fmt.Sprintf("%d more: slipcase plan rank.", n))
	}
	c.Panels = []Panel{{Y: y, Rules: []Rule{{Upright: true}}, Series: []Series{ranges, likely}}}
	return c
}

func thousands(v float64) string { return units.Group(fmt.Sprintf("%.0f", v)) }

// mostChanges are as many as a picture of a plan has rows for.
const mostChanges = 12

// Nothing is a picture of which there is only a sentence.
func (p *Page) Nothing(kind, says string) Chart {
	return Chart{Kind: kind, Units: p.Units, Says: []string{capital(sentence(says))}}
}

// DayChart shows the air and the runs of a day, and the rounds to come.
func (p *Page) DayChart(g crew.Gathered, d crew.DaySeen) Chart {
	c := Chart{Kind: "day", Units: p.Units}
	if len(g.Runs) == 0 {
		c.Says = []string{nothing(g, "")}
		return c
	}
	first := g.Runs[0].Run.Slip.Time
	c.Title = fmt.Sprintf("%s on %s", brief(g.Vehicle.Name(), 24), first.Format("Mon "+DateForm))
	c.X = Axis{Head: "time of day", Name: "time", Zone: first.Location()}
	line := Series{Shape: Line, Color: Own}
	for _, a := range d.Air {
		if a.Air.Known {
			line.Points = append(line.Points, Spot{X: float64(a.At.Unix()), Y: a.Air.Air.DensityAltitudeFt()})
		}
	}
	readings := Series{Name: "reading of the air", Shape: Box, Color: Own}
	for _, r := range d.Readings {
		if r.Err == nil {
			at := Spot{X: float64(r.Reading.Time.Unix()), Y: r.Air.DensityAltitudeFt(), Of: r.Reading.ID}
			readings.Points = append(readings.Points, at)
		}
	}
	runs := Series{Name: "run", Shape: Dot, Color: Own}
	off := Series{Name: "run that does not count", Shape: Cross, Color: Quiet}
	for _, t := range g.Runs {
		et := t.Pass.Splits.ETs[g.Mark]
		at := Spot{X: float64(t.Run.Slip.Time.Unix()), Y: et.Or(0), Of: t.Run.Slip.ID}
		switch {
		case !et.Known():
		case t.Counts(g.Mark):
			runs.Points = append(runs.Points, at)
		default:
			off.Points = append(off.Points, at)
		}
	}
	ahead := Series{Name: "next rounds: 8 of 10 in here", Shape: Whiskers, Color: Other}
	centre := Series{Name: "their forecast", Shape: Ring, Color: Other}
	for _, f := range d.Next {
		b := f.Forecast.ETs[g.Mark]
		at := Spot{X: float64(f.Run.Slip.Time.Unix()), Y: b.Centre}
		centre.Points = append(centre.Points, at)
		at.Low, at.High = units.Some(b.Low80), units.Some(b.High80)
		ahead.Points = append(ahead.Points, at)
	}
	for _, panel := range []Panel{
		{Y: densityAxis, Series: some(line, readings)},
		{Y: etAxis(g.Mark), Series: some(runs, off, ahead, centre)},
	} {
		if len(panel.Series) > 0 {
			c.Panels = append(c.Panels, panel)
		}
	}
	c.Says = p.daySays(g, d.Next)
	return c
}

// daySays says what the day brought, and what comes next.
func (p *Page) daySays(g crew.Gathered, next []crew.Forecasted) (says []string) {
	best := units.Number{}
	for _, t := range g.Runs {
		if et := t.Pass.Splits.ETs[g.Mark]; et.Known() && (!best.Known() || et.Value() < best.Value()) {
			best = et
		}
	}
	if best.Known() {
		says = append(says, fmt.Sprintf("%s, the best %s.", count(len(g.Runs), "run"), Seconds(best)))
	}
	if len(next) > 0 {
		b := next[0].Forecast.ETs[g.Mark]
		says = append(
			says,
			fmt.Sprintf("Next %.2f at %s, %s.", b.Centre, next[0].Run.Slip.Time.Format("15:04"), eightOf10(b)),
		)
	}
	return says
}
