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

// orderAxis counts runs, the oldest first, with the days as its names.
func orderAxis(runs []crew.Run) Axis {
	a := Axis{Head: "runs in order", Name: "order"}
	day := ""
	for i, r := range runs {
		if d := r.Slip.Time.Format(time.DateOnly); d != day {
			day = d
			a.Ticks = append(a.Ticks, Tick{float64(i + 1), r.Slip.Time.Format(DayForm)})
		}
	}
	return a
}

func judgedRuns(js []crew.Judged) (runs []crew.Run) {
	for _, j := range js {
		runs = append(runs, j.Run)
	}
	return runs
}

// ForecastChart holds each run against the range of its forecast.
func (p *Page) ForecastChart(v crew.Vehicle, newest []crew.Judged, all int) Chart {
	js := slices.DeleteFunc(slices.Clone(newest), unheld)
	c := Chart{
		Kind:  "forecasts",
		Units: p.Units,
		Title: fmt.Sprintf("%s: runs against their forecasts", brief(v.Name(), 24)),
	}
	if len(js) == 0 {
		c.Says = []string{fmt.Sprintf("No run of %s with a forecast from runs before it yet.", v.Name())}
		return c
	}
	js, more := newestOf(js, all-(len(newest)-len(js)), 2, "runs")
	c.X = orderAxis(judgedRuns(js))
	between := Series{Name: "the forecast: 8 of 10 runs fall in here", Shape: Whiskers, Color: Quiet}
	within := Series{Name: "run within it", Shape: Dot, Color: Own}
	slower := Series{Name: "slower than that", Shape: Up, Color: Other}
	quicker := Series{Name: "quicker than that", Shape: Down, Color: Third}
	for i, j := range js {
		b := j.Judgement.Forecast.ETs[j.Judgement.Mark]
		at := Spot{X: float64(i + 1), Y: j.Judgement.Difference, Of: j.Run.Slip.ID}
		low, high := b.Low80-b.Centre, b.High80-b.Centre
		between.Points = append(between.Points, Spot{X: at.X, Y: 0, Low: units.Some(low), High: units.Some(high), Of: at.Of})
		switch {
		case at.Y > high:
			slower.Points = append(slower.Points, at)
		case at.Y < low:
			quicker.Points = append(quicker.Points, at)
		default:
			within.Points = append(within.Points, at)
		}
	}
	c.Says = append([]string{fmt.Sprintf("%d of %s within the range; 8 of 10 would be %.0f.",
		len(within.Points), count(len(js), "run"), 0.8*float64(len(js)))}, more...)
	y := Axis{Head: "run minus forecast (up is slower)", Name: "difference", Of: units.Seconds, Signed: true}
	c.Panels = []Panel{{Y: y, Rules: []Rule{{}}, Series: some(between, within, slower, quicker)}}
	return c
}

// unheld reports a run without a forecast from runs before it: only a guess went before.
func unheld(j crew.Judged) bool { return j.Unjudged != nil || j.Judgement.Forecast.RunsUsed == 0 }

// parts of a run, each a panel.
var parts = []crew.TrackPart{crew.PartLaunch, crew.PartMiddle, crew.PartTopEnd}

// partFt are where they lie.
var partFt = []string{", to 60 ft", ", to 660 ft", ", from 660 ft"}

// SplitsChart shows where each run picked up or gave up against its forecast.
func (p *Page) SplitsChart(v crew.Vehicle, newest []crew.Judged, all int) Chart {
	c := Chart{
		Kind:  "splits",
		Units: p.Units,
		Title: fmt.Sprintf("%s: each part against its forecast", brief(v.Name(), 24)),
	}
	js := slices.DeleteFunc(slices.Clone(newest), func(j crew.Judged) bool {
		return unheld(j) || len(j.Judgement.Pieces) < 2
	})
	if len(js) == 0 {
		c.Says = []string{fmt.Sprintf("No run of %s with split times and runs before it yet: nothing to draw.", v.Name())}
		return c
	}
	js, more := newestOf(js, all-(len(newest)-len(js)), len(parts), "runs")
	c.X = orderAxis(judgedRuns(js))
	sizes := make([]float64, len(parts))
	c.SameY = true
	for n, part := range parts {
		up := Series{Name: "picked up", Shape: Stems, Color: Own}
		down := Series{Name: "gave up", Shape: Stems, Color: Other}
		var sizesHere []float64
		for i, j := range js {
			for _, piece := range j.Judgement.Pieces {
				if piece.Parts[len(piece.Parts)-1] != part {
					continue
				}
				at := Spot{X: float64(i + 1), Y: piece.Seconds, Of: j.Run.Slip.ID}
				if sizesHere = append(sizesHere, math.Abs(at.Y)); at.Y < 0 {
					up.Points = append(up.Points, at)
				} else {
					down.Points = append(down.Points, at)
				}
			}
		}
		sizes[n] = middle(sizesHere)
		y := Axis{
			Head:   string(part) + partFt[n] + " (up is slower)",
			Name:   "gave_up_" + strings.ReplaceAll(string(part), " ", "_"),
			Of:     units.Seconds,
			Signed: true,
		}
		c.Panels = append(c.Panels, Panel{Y: y, Rules: []Rule{{}}, Series: some(up, down)})
	}
	most := slices.Index(sizes, slices.Max(sizes))
	c.Says = append(
		[]string{
			fmt.Sprintf(
				"The %s moves it most. Half the runs are off their forecast by more than %s at the launch, "+
					"%s in the middle, %s at the top end.",
				parts[most],
				short(sizes[0], 3),
				short(sizes[1], 3),
				short(sizes[2], 3),
			),
		},
		more...)
	return c
}

// TrendChart shows speed and ET in standard air over the days, setups marked.
func (p *Page) TrendChart(g crew.Gathered, t crew.Trend) Chart {
	c := Chart{Kind: "trend", Units: p.Units, Title: fmt.Sprintf("%s: is it getting tired?", brief(g.Vehicle.Name(), 24))}
	runs := slices.DeleteFunc(slices.Clone(g.Runs), func(r crew.Told) bool { return !r.InAir || !r.Counts(g.Mark) })
	if len(runs) == 0 {
		c.Says = []string{nothing(g, "No full run with known air yet: nothing to draw. Record the air: slipcase air add")}
		return c
	}
	zone := runs[len(runs)-1].Run.Slip.Time.Location()
	c.X = Axis{Head: "day", Name: "time", Zone: zone}
	said := each(p.trendSays(t), func(s string) string { return strings.TrimPrefix(s, "~ ") })
	runs, more := newest(runs, 4, "runs that count")
	rules, keys := setupRules(runs)
	c.Keys = keys
	if len(keys) > 1 && len(said) > 0 {
		said[0] = "setups apart, " + said[0] // what a setup brought is no wear
	}
	c.Says = append(each(said, func(s string) string { return sentence(capital(s)) }), more...)
	speed := Axis{Head: "speed in standard air", Name: fmt.Sprintf("speed_%g_standard_air", g.Mark.Ft()), Of: units.Speed}
	for _, panel := range []struct {
		y  Axis
		of func(crew.Splits) units.Number
	}{
		{speed, func(s crew.Splits) units.Number { return s.MPHs[g.Mark] }},
		{standardAxis(g.Mark), func(s crew.Splits) units.Number { return s.ETs[g.Mark] }},
	} {
		single, days := daysOf(runs, panel.of)
		if len(single.Points) == 0 {
			continue
		}
		c.Panels = append(c.Panels, Panel{
			Y: panel.y, Rules: rules, Series: some(append(within(rules, days), single, days)...),
		})
	}
	if len(c.Panels) > 1 {
		c.Panels[1].Rules = unnamed(rules)
	}
	return c
}

// daysOf are the figures of runs, and the median of each day, at its first run.
func daysOf(runs []crew.Told, of func(crew.Splits) units.Number) (single, days Series) {
	single = Series{Name: "a run", Shape: Ring, Color: Quiet}
	days = Series{Name: "the middle run of a day", Shape: Dot, Color: Own}
	var day []float64
	var began float64
	end := func() {
		if len(day) > 0 {
			days.Points = append(days.Points, Spot{X: began, Y: middle(day)})
		}
		day = nil
	}
	for i, r := range runs {
		at := r.Run.Slip.Time
		if i == 0 || at.Format(time.DateOnly) != runs[i-1].Run.Slip.Time.Format(time.DateOnly) {
			end()
			began = float64(at.Unix())
		}
		if v := of(r.Standard); v.Known() {
			day = append(day, v.Value())
			single.Points = append(single.Points, Spot{X: began, Y: v.Value(), Of: r.Run.Slip.ID})
		}
	}
	end()
	return single, days
}

// middle is the median, 0 of none.
func middle(all []float64) float64 {
	if len(all) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(all))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// mostSetups are as many as are marked by letters.
const mostSetups = 6

// setupRules marks where the setup changes by letters, and says what they are.
func setupRules(runs []crew.Told) (rules []Rule, keys []string) {
	was := ""
	for i, r := range runs {
		if r.Run.Setup.ID == was {
			continue
		}
		was = r.Run.Setup.ID
		letter := string(rune('A' + len(rules)%26))
		name := r.Run.Setup.Name
		if name == "" {
			name = "no setup recorded"
		}
		if len(rules) < mostSetups {
			keys = append(keys, fmt.Sprintf("%s  setup %s", letter, brief(name, 28)))
		}
		at := r.Run.Setup.From.Time
		switch {
		case i == 0:
			at = r.Run.Slip.Time.Add(-runs[len(runs)-1].Run.Slip.Time.Sub(r.Run.Slip.Time.Time) / 40)
		case at.Before(runs[i-1].Run.Slip.Time.Time):
			at = r.Run.Slip.Time.Add(-time.Minute)
		}
		rules = append(rules, Rule{At: float64(at.Unix()), Upright: true, Name: letter})
	}
	if n := len(rules) - mostSetups; n > 0 {
		keys = append(keys, fmt.Sprintf("and %d more setups", n))
	}
	if len(rules) == 1 {
		return nil, nil
	}
	return rules, keys
}

// within are lines between the days of each setup.
func within(rules []Rule, days Series) (lines []Series) {
	var at int
	line := Series{Shape: Line, Color: Own}
	for _, d := range days.Points {
		for at < len(rules) && rules[at].At <= d.X {
			lines, at = append(lines, line), at+1
			line.Points = nil
		}
		line.Points = append(line.Points, d)
	}
	return slices.DeleteFunc(append(lines, line), func(s Series) bool { return len(s.Points) < 2 })
}

func unnamed(rules []Rule) []Rule {
	out := slices.Clone(rules)
	for i := range out {
		out[i].Name = ""
	}
	return out
}
