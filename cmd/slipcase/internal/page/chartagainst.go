package page

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// AgainstChart draws a time over a column of the slips.
func (p *Page) AgainstChart(g crew.Gathered, column crew.Column, figure string) Chart {
	c := Chart{Kind: "against", Units: p.Units, Spread: true}
	name := brief(plainName(column.Name), 24)
	of := func(r crew.Run) units.Number { return column.Figures[r.Slip.ID] }
	ft, y, at := g.Mark.Ft(), standardAxis(g.Mark), func(t crew.Told) units.Number { return t.StandardET(g.Mark) }
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
	c.X = Axis{Head: name, Name: "column", Free: true}
	if column.Unit != "" {
		c.X.Head += ", " + column.Unit
	}
	c.X.Ticks = columnTicks(all, of)
	c.Says = append(append([]string{slopeSays(name, xs, ys)}, byValue(xs, ys)...), append(more, stopNote(all)...)...)
	c.Panels = []Panel{{Y: slowerUp(y), Series: some(now, before)}}
	return c
}

// mostValues are as many values of a column as are named one by one.
const mostValues = 7

// columnTicks are the values that a column had, nil where they are many.
func columnTicks(runs []crew.Told, of func(crew.Run) units.Number) (ticks []Tick) {
	var xs []float64
	for _, t := range runs {
		xs = append(xs, of(t.Run).Value())
	}
	slices.Sort(xs)
	for _, x := range slices.Compact(xs) {
		ticks = append(ticks, Tick{x, fmt.Sprintf("%g", x)})
	}
	if len(ticks) < 2 || len(ticks) > mostValues {
		return nil
	}
	return ticks
}

// byValue says the median at each value of a column, the quickest first: a slope tells no best
// one in the middle.
func byValue(xs, ys []float64) []string {
	at := map[float64][]float64{}
	for i, x := range xs {
		at[x] = append(at[x], ys[i])
	}
	if len(at) < 2 || len(at) > mostValues {
		return nil
	}
	values := slices.SortedFunc(maps.Keys(at), func(a, b float64) int { return cmp.Compare(middle(at[a]), middle(at[b])) })
	said := each(values, func(x float64) string {
		return fmt.Sprintf("%g %.3f (%d)", x, middle(at[x]), len(at[x]))
	})
	return []string{"Medians with it (runs): " + strings.Join(said, ", ") + "."}
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
		return sentence(notShown("with the setup of now show no steady effect of "+name, len(xs), slope,
			fmt.Sprintf("for %g more ", step)))
	}
	return fmt.Sprintf("Each %g more of %s goes with %s, %s with the setup of now.",
		step, name, quickerBy(step*slope.Value), count(len(xs), "run"))
}

// notShown says that runs show nothing, and how much they would not show either.
func notShown(what string, runs int, f crew.Figure, each string) string {
	return fmt.Sprintf("%s %s: less than %s %swould not show", count(runs, "run"), what, short((f.High-f.Low)/2, 3), each)
}
