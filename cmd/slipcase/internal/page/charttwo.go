package page

import (
	"fmt"
	"math"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// TwoChart lays two runs over each other: what the second is behind at each distance.
// Told are runs of the vehicle in one air, both among them where that is known.
func (p *Page) TwoChart(a, b crew.Run, told []crew.Told) Chart {
	first, second := runNames(a, b)
	c := Chart{Kind: "two", Units: p.Units, Title: fmt.Sprintf("Run of %s against %s", runWhen(b), runWhen(a))}
	x, y := crew.PrintedSplits(a.Slip), crew.PrintedSplits(b.Slip)
	line := Series{Shape: Line, Color: Quiet}
	behind := Series{Name: second + " behind at this point", Shape: Up, Color: Other}
	ahead := Series{Name: second + " ahead at this point", Shape: Dot, Color: Own}
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
	from, last := turn(line.Points), line.Points[n-1]
	c.Says = []string{
		fmt.Sprintf("%s is %s at %s: %s by %s, %s from there on.", capital(second), quickerBy(last.Y), bare(p.Units, last.X),
			quickerBy(from.Y), bare(p.Units, from.X), quickerBy(last.Y-from.Y)),
	}
	if n == 1 {
		c.Says[0] = fmt.Sprintf("%s is %s at %s.", capital(second), quickerBy(last.Y), bare(p.Units, last.X))
		line.Points = nil
	}
	if d := inOneAir(a, b, told, far); d.Known() {
		c.Says = append(c.Says, fmt.Sprintf("With both in the same air: %s at %s.", quickerBy(d.Value()), bare(p.Units, last.X)))
	}
	if apart := crew.UsualApart(told, far); apart.Known() {
		c.Says = append(c.Says, fmt.Sprintf(
			"Usual scatter: half of its runs lie more than %s from the one before, same day and setup.", short(apart.Value(), 3)))
	}
	what := second + " minus " + first
	if len(what) > len("Round 12 minus Round 11") {
		what = "difference"
	}
	pace := Axis{
		Head: fmt.Sprintf("%s (up: %s is slower)", what, second), Name: "difference", Of: units.Seconds, Signed: true,
	}
	c.Panels = []Panel{{Y: pace, Rules: []Rule{{}}, Series: some(line, ahead, behind)}}
	return c
}

// turn is where most of what was still to come came after: the last of several places alike.
func turn(points []Spot) Spot {
	last := points[len(points)-1]
	at := points[0]
	for _, p := range points[:max(1, len(points)-1)] {
		if math.Abs(p.Y-last.Y) >= math.Abs(at.Y-last.Y)-1e-9 {
			at = p
		}
	}
	return at
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

// runNames are short names of two runs: their rounds, where these tell them apart, else when
// they were.
func runNames(a, b crew.Run) (first, second string) {
	if r, s := brief(a.Slip.Round, 8), brief(b.Slip.Round, 8); r != "" && s != "" && r != s {
		return r, s
	}
	form := DayForm + " 15:04"
	if a.Slip.Time.Format(time.DateOnly) == b.Slip.Time.Format(time.DateOnly) {
		form = "15:04"
	}
	return "run of " + a.Slip.Time.Format(form), "run of " + b.Slip.Time.Format(form)
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
