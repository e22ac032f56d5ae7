package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// AgainstChart draws a time over a column of the slips.
func (p *Page) AgainstChart(g crew.Gathered, column crew.Column, figure string) Chart {
	c := Chart{Kind: "against", Units: p.Units}
	name := brief(strings.NewReplacer("tyre", "tire", "_", " ").Replace(column.Name), 24)
	of := func(r crew.Run) units.Number { return column.Figures[r.Slip.ID] }
	ft, y, at := g.Mark.Ft(), standardAxis(g.Mark), func(t crew.Told) units.Number { return standardET(t, g.Mark) }
	if figure == "60" {
		ft, y, at = 60, etAxis(crew.At60), func(t crew.Told) units.Number {
			if !t.Counts(crew.At60) {
				return units.Number{}
			}
			return t.Pass.Splits.ETs[crew.At60]
		}
	}
	c.Title = fmt.Sprintf("%s: %g ft time against %s", brief(g.Vehicle.Name(), 20), ft, name)
	all := slices.DeleteFunc(slices.Clone(g.Runs), func(t crew.Told) bool { return !of(t.Run).Known() || !at(t).Known() })
	if len(all) == 0 {
		c.Says = []string{nothing(g, fmt.Sprintf("No run that counts has a figure under %s: nothing to draw.", name))}
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
	c.X = Axis{Head: name, Name: "column"}
	if column.Unit != "" {
		c.X.Head += ", " + column.Unit
	}
	c.Says = append(append([]string{slopeSays(name, xs, ys)}, more...), stopNote(all)...)
	c.Panels = []Panel{{Y: slowerUp(y), Series: some(now, before)}}
	return c
}

// slopeSays says what a column does to a time, where runs show it: for a step that lies within
// what they had.
func slopeSays(name string, xs, ys []float64) string {
	slope, shown := crew.SlopeOf(xs, ys)
	if math.IsInf(slope.High, 0) {
		return "Too few runs with the setup of now to tell."
	}
	step := math.Min(1, math.Pow(10, math.Floor(math.Log10(slices.Max(xs)-slices.Min(xs)))))
	if !shown {
		slope.Low, slope.High = step*slope.Low, step*slope.High
		return sentence(notShown("with the setup of now show no effect of "+name, len(xs), slope,
			fmt.Sprintf("for %g more ", step)))
	}
	return fmt.Sprintf("Each %g more of %s goes with %s, %s with the setup of now.",
		step, name, quickerBy(step*slope.Value), count(len(xs), "run"))
}

// notShown says that runs show nothing, and how much they would not show either.
func notShown(what string, runs int, f crew.Figure, each string) string {
	return fmt.Sprintf("%s %s: less than %s %swould not show", count(runs, "run"), what, short((f.High-f.Low)/2, 3), each)
}
