package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func toldRuns(all []crew.Told) (runs []crew.Run) {
	for _, t := range all {
		runs = append(runs, t.Run)
	}
	return runs
}

// ReactionChart shows the lights after the perfect one, a panel a lane.
func (p *Page) ReactionChart(g crew.Gathered) Chart {
	c := Chart{Kind: "reaction", Units: p.Units, SameY: true, Title: brief(g.Vehicle.Name(), 24) + ": the lights"}
	all := slices.DeleteFunc(
		slices.Clone(g.Runs),
		func(t crew.Told) bool { return !crew.LateBy(t.Run.Slip, t.Run.Track).Known() },
	)
	if len(all) == 0 {
		c.Says = []string{nothing(g, "No reaction recorded yet: nothing to draw.")}
		return c
	}
	all, more := newest(all, 1, "runs")
	c.X = orderAxis(toldRuns(all))
	var lights []float64
	var by, spread []string
	reds := 0
	for _, lane := range []string{"left", "right", ""} {
		var here []float64
		green := Series{Name: "green light", Shape: Dot, Color: Third}
		tried := Series{Name: "green light, practice", Shape: Ring, Color: Third}
		red := Series{Name: "red: left before the perfect light", Shape: Cross, Color: Other}
		for i, t := range all {
			if t.Run.Slip.Lane != lane {
				continue
			}
			late := crew.LateBy(t.Run.Slip, t.Run.Track).Value()
			here = append(here, late)
			at := Spot{X: float64(i + 1), Y: late, Of: t.Run.Slip.ID}
			if crew.Red(t.Run.Slip, t.Run.Track) {
				red.Points = append(red.Points, at)
				reds++
			} else if crew.KindOf(t.Run.Slip) == crew.Practice {
				tried.Points = append(tried.Points, at)
			} else {
				green.Points = append(green.Points, at)
			}
		}
		name := cmp.Or(lane, "unknown") + " lane"
		head := Axis{
			Head: name + ", reaction (0 perfect, below 0 red)", Name: "reaction_after_perfect",
			Of: units.Seconds, Signed: true,
		}
		lights = append(lights, here...)
		if len(here) > 1 {
			by = append(by, fmt.Sprintf("%s: half under %s, all in %s to %s.", capital(name), short(middle(here), 3),
				short(slices.Min(here), 3), short(slices.Max(here), 3)))
			low, high := middleHalf(here)
			spread = append(spread, fmt.Sprintf("%s %s to %s", cmp.Or(lane, "unknown"), short(low, 3), short(high, 3)))
		}
		if s := some(green, tried, red); len(s) > 0 {
			c.Panels = append(c.Panels, Panel{Y: head, Rules: []Rule{{}}, Series: s})
		}
	}
	if len(spread) > 0 {
		by = append(by, sentence("The middle half of them: "+strings.Join(spread, ", ")))
	}
	c.Says = append([]string{fmt.Sprintf("Half your reactions are under %s after perfect; %d of %d red.",
		short(middle(lights), 3), reds, len(lights))}, append(by, more...)...)
	return c
}

// middleHalf is what is left between the lowest and the highest quarter of figures, whole ones
// left out at either end.
func middleHalf(all []float64) (low, high float64) {
	s := slices.Sorted(slices.Values(all))
	out := len(s) / 4
	return s[out], s[len(s)-1-out]
}

// strip draws figures by groups side by side, and the middle of each.
func strip(
	groups []string,
	of func(t crew.Told) (group int, v units.Number),
	all []crew.Told,
) (x Axis, series []Series, values [][]float64) {
	x = Axis{Named: true}
	marks := Series{Name: "a run", Shape: Ring, Color: Quiet}
	middles := Series{Name: "their median", Shape: Bar, Color: Own}
	values = make([][]float64, len(groups))
	for _, t := range all {
		if at, v := of(t); at >= 0 && v.Known() {
			marks.Points = append(marks.Points, Spot{X: float64(at + 1), Y: v.Value(), Of: t.Run.Slip.ID})
			values[at] = append(values[at], v.Value())
		}
	}
	for i, name := range groups {
		x.Ticks = append(x.Ticks, Tick{float64(i + 1), brief(name, 20)})
		if len(values[i]) > 0 {
			middles.Points = append(middles.Points, Spot{X: float64(i + 1), Y: middle(values[i])})
		}
	}
	slices.SortStableFunc(marks.Points, func(a, b Spot) int { return int(a.X - b.X) })
	return x, some(marks, middles), values
}

// LanesChart sets the lanes against each other.
func (p *Page) LanesChart(g crew.Gathered, k crew.Alike, told error) Chart {
	c := Chart{Kind: "lanes", Units: p.Units, Title: brief(g.Vehicle.Name(), 24) + ": the lanes"}
	names := []string{"left", "right"}
	all := slices.DeleteFunc(slices.Clone(g.Runs), func(t crew.Told) bool {
		return t.Run.Setup.ID != k.Setup || !t.StandardET(g.Mark).Known() || !slices.Contains(names, t.Run.Slip.Lane)
	})
	if told != nil || len(all) == 0 {
		c.Says = []string{nothing(g, "No full run with its lane and known air yet: nothing to draw.")}
		return c
	}
	all, more := newest(all, 2, "runs")
	x, series, values := strip(names, func(t crew.Told) (int, units.Number) {
		return slices.Index(names, t.Run.Slip.Lane), t.StandardET(g.Mark)
	}, all)
	c.X, c.Panels = x, []Panel{{Y: slowerUp(standardAxis(g.Mark)), Series: series}}
	c.X.Head, c.X.Name = "lane, its runs side by side", "lane"
	f := k.Figures[crew.AlikeET]
	says := "Too few runs to tell the lanes apart."
	switch {
	case !f.Shown && !math.IsInf(f.LeftLessRight.High, 0):
		says = sentence(notShown("show no difference between the lanes", len(all), f.LeftLessRight, ""))
	case f.Shown:
		way := "slower"
		if f.LeftLessRight.Value < 0 {
			way = "quicker"
		}
		says = fmt.Sprintf("The left lane is %s %s, real.", short(math.Abs(f.LeftLessRight.Value), 3), way)
	}
	c.Says = append([]string{says, fmt.Sprintf(
		"Runs with the setup of now: %d left, %d right.", len(values[0]), len(values[1]),
	)}, append(lanesApart(all), append(stopNote(all), more...)...)...)
	return c
}

// ChangeChart sets the runs with a setup against those with another.
func (p *Page) ChangeChart(g crew.Gathered, setups [2]crew.Setup, told crew.Compared) Chart {
	names := []string{told.A.Setup, told.B.Setup}
	c := Chart{Kind: "change", Units: p.Units, Title: fmt.Sprintf("%s: %s, then %s",
		brief(g.Vehicle.Name(), 20), brief(names[0], 18), brief(names[1], 18))}
	all := slices.DeleteFunc(slices.Clone(g.Runs), func(t crew.Told) bool {
		return !t.StandardET(told.Mark).Known() || t.Run.Setup.ID != setups[0].ID && t.Run.Setup.ID != setups[1].ID
	})
	if len(all) == 0 {
		c.Says = []string{nothing(g, "No full run with known air on these setups yet: nothing to draw.")}
		return c
	}
	all, more := newest(all, 2, "runs")
	x, series, values := strip(names, func(t crew.Told) (int, units.Number) {
		of := slices.IndexFunc(setups[:], func(s crew.Setup) bool { return s.ID == t.Run.Setup.ID })
		return of, t.StandardET(told.Mark)
	}, all)
	c.X, c.Panels = x, []Panel{{Y: slowerUp(standardAxis(told.Mark)), Series: series}}
	c.X.Head, c.X.Name = "setup, its runs side by side", "setup"
	c.Says = append([]string{sentence(Comparison(told.Comparison))}, alsoChanged(setups, all)...)
	c.Says = append(append(c.Says, stopNote(all)...), more...)
	if len(values[0]) > 0 && len(values[1]) > 0 {
		c.Says = append(c.Says, fmt.Sprintf("Medians here %s apart: the %s weighs the luck of the days too (%s, then %s).",
			short(math.Abs(middle(values[1])-middle(values[0])), 3), short(math.Abs(told.Difference.Centre), 3),
			count(told.A.Days, "day"), count(told.B.Days, "day")))
	}
	return c
}
