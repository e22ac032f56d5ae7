package page

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// newest are so many of the last, and the sentence that says it where there are more; each
// takes so many marks of those that a picture may have.
func newest[T any](all []T, marksEach int, what string) (kept []T, says []string) {
	return newestOf(all, len(all), marksEach, what)
}

// newestOf is newest where of all so many the last alone are at hand.
func newestOf[T any](last []T, all, marksEach int, what string) (kept []T, says []string) {
	kept = last[max(0, len(last)-MostMarks/marksEach):]
	if len(kept) == len(last) && (len(last) < MostMarks/marksEach || all == len(last)) {
		return kept, nil
	}
	return kept, []string{fmt.Sprintf("The newest %d of %s %s.", len(kept), units.Group(fmt.Sprint(all)), what)}
}

// LinePoints are so many as a line over the air is drawn by.
const LinePoints = 9

// MostMarks are as many as a picture may have, beside its lines.
const MostMarks = 300

// etAxis is a time at a mark.
func etAxis(m crew.Mark) Axis {
	return Axis{Head: fmt.Sprintf("%g ft ET", m.Ft()), Name: fmt.Sprintf("et_%g", m.Ft()), Of: units.Seconds}
}

// standardAxis is a time at a mark in standard air.
func standardAxis(m crew.Mark) Axis {
	a := etAxis(m)
	a.Head, a.Name = a.Head+" in standard air", a.Name+"_standard_air"
	return a
}

var densityAxis = Axis{Head: "density altitude", Name: "density_altitude", Of: units.Length}

// AirChart draws the times over the air, the vehicle's own line beside the formula's.
func (p *Page) AirChart(g crew.Gathered, l crew.AirLine) Chart {
	name := brief(g.Vehicle.Name(), 24)
	c := Chart{
		Kind: "air", Units: p.Units, X: densityAxis,
		Title: fmt.Sprintf("%s: what the air does to its ET", name),
	}
	if len(l.Points) == 0 {
		c.Says = []string{nothing(g, "No run with known air yet: nothing to draw. Record the air: slipcase air add")}
		return c
	}
	c.Says = p.lineSays(g.Vehicle, l, g.Mark)
	runs, more := newest(g.Runs, 1, "runs")
	last := g.Runs[len(g.Runs)-1].Run.Setup.ID
	now := Series{Name: "runs with the setup of now", Shape: Dot, Color: Own}
	before := Series{Name: "runs with setups before it: not of this band", Shape: Ring, Color: Quiet}
	out := offSeries()
	airless := 0
	for _, r := range runs {
		et := r.Pass.Splits.ETs[g.Mark]
		switch at := (Spot{X: crew.DensityAltitude(r.Run).Or(0), Y: et.Or(0), Of: r.Run.Slip.ID}); {
		case !et.Known():
		case !r.Run.Air.Known:
			airless++
		case !r.Counts(g.Mark):
			out.Points = append(out.Points, at)
		case r.Run.Setup.ID == last:
			now.Points = append(now.Points, at)
		default:
			before.Points = append(before.Points, at)
		}
	}
	if len(before.Points) == 0 {
		now.Name = "runs"
	}
	if l.At.Format(time.DateOnly) != g.Runs[len(g.Runs)-1].Run.Slip.Time.Format(time.DateOnly) {
		c.Says = append(c.Says, "On a race day its own forecast is closer: see the picture of the day.")
	}
	c.Says = append(append(c.Says, stopNote(runs)...), more...)
	if airless > 0 {
		c.Says = append(c.Says, fmt.Sprintf("%s without known air left out.", count(airless, "run")))
	}
	lines := airLines(l, g.Runs[len(g.Runs)-1].Run)
	if len(before.Points) > 0 {
		lines = append(lines, where(lines[len(lines)-1], now))
	}
	c.Panels = []Panel{{Y: slowerUp(etAxis(g.Mark)), Series: some(append(lines, airFormula(l), now, before, out)...)}}
	c.toEdge()
	return c
}

// airLines are the range of the vehicle's own line, and the line.
func airLines(l crew.AirLine, last crew.Run) []Series {
	name := "the car as it is now: its forecast"
	if l.At.Format(time.DateOnly) != last.Slip.Time.Format(time.DateOnly) {
		name += " for another day"
	}
	band := Series{Name: "8 of 10 such runs fall in here", Shape: Between, Color: Own}
	own := Series{Name: name, Shape: Line, Color: Own}
	for _, at := range l.Points {
		x := at.Air.DensityAltitudeFt()
		own.Points = append(own.Points, Spot{X: x, Y: at.Own.Centre})
		band.Points = append(band.Points, Spot{
			X: x, Y: at.Own.Centre, Low: units.Some(at.Own.Low80), High: units.Some(at.Own.High80),
		})
	}
	return []Series{band, own}
}

func airFormula(l crew.AirLine) Series {
	formula := Series{Name: "the formula: ET by the cube root of power", Shape: Dashes, Color: Other}
	for _, at := range l.Points {
		formula.Points = append(formula.Points, Spot{X: at.Air.DensityAltitudeFt(), Y: at.Formula})
	}
	return formula
}

// where is the piece of a line along which there are runs: beyond it nothing was run.
func where(line, runs Series) Series {
	piece := Series{Name: "where this setup has run", Shape: Thick, Color: line.Color}
	if len(runs.Points) == 0 {
		return piece
	}
	byX := func(a, b Spot) int { return cmp.Compare(a.X, b.X) }
	low, high := slices.MinFunc(runs.Points, byX).X, slices.MaxFunc(runs.Points, byX).X
	for i, b := range line.Points[1:] {
		a := line.Points[i]
		if a.X > b.X {
			a, b = b, a
		}
		if from, to := max(a.X, low), min(b.X, high); from < to {
			height := func(x float64) Spot { return Spot{X: x, Y: a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)} }
			piece.Points = append(piece.Points, height(from), height(to))
		}
	}
	return piece
}

// some are the series that have points.
func some(all ...Series) (kept []Series) {
	for _, s := range all {
		if len(s.Points) > 0 {
			kept = append(kept, s)
		}
	}
	return kept
}

// nothing is what to say where there is nothing to draw: that there are no runs, or else
// what else it is.
func nothing(g crew.Gathered, otherwise string) string {
	if len(g.Runs) == 0 {
		return fmt.Sprintf("No run of %s to draw yet.", g.Vehicle.Name())
	}
	return otherwise
}

// sentence ends words as one.
func sentence(words string) string { return words + "." }
