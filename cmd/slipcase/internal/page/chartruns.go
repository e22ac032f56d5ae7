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
	unheld := len(newest) - len(js)
	c := Chart{
		Kind:  "forecasts",
		Units: p.Units,
		Title: fmt.Sprintf("%s: runs against their forecasts", brief(v.Name(), 24)),
	}
	if len(js) == 0 {
		c.Says = []string{fmt.Sprintf("No run of %s with a forecast from runs before it yet.", v.Name())}
		return c
	}
	js, more := newestOf(js, all-unheld, 2, "runs")
	c.X = orderAxis(judgedRuns(js))
	between := Series{Name: "the forecast: 8 of 10 runs fall in here", Shape: Whiskers, Color: Quiet}
	wide := Series{Name: "one beyond the scale, its end beside", Shape: Whiskers, Color: Quiet, Off: true}
	widest := 2 * middle(each(js, widthOf))
	within := Series{Name: "run within it", Shape: Dot, Color: Own}
	slower := Series{Name: "slower than that", Shape: Up, Color: Other}
	quicker := Series{Name: "quicker than that", Shape: Down, Color: Third}
	off := offSeries()
	for i, j := range js {
		b, late := heldAgainst(j)
		at := Spot{X: float64(i + 1), Y: late, Of: j.Run.Slip.ID}
		low, high := b.Low80-b.Centre, b.High80-b.Centre
		bar := Spot{X: at.X, Y: 0, Low: units.Some(low), High: units.Some(high), Of: at.Of}
		if high-low > widest {
			wide.Points = append(wide.Points, bar)
		} else {
			between.Points = append(between.Points, bar)
		}
		switch {
		case isOff(j):
			off.Points = append(off.Points, at)
		case at.Y > high:
			slower.Points = append(slower.Points, at)
		case at.Y < low:
			quicker.Points = append(quicker.Points, at)
		default:
			within.Points = append(within.Points, at)
		}
	}
	counted := len(js) - len(off.Points)
	says := fmt.Sprintf(
		"%d of %s within the range; %.0f expected",
		len(within.Points),
		count(counted, "run"),
		0.8*float64(counted),
	)
	if n := len(off.Points); n > 0 {
		says += fmt.Sprintf("; %d more not counted", n)
	}
	c.Says = append([]string{
		says + ".", fmt.Sprintf("%d quicker than it, %d slower.", len(quicker.Points), len(slower.Points)),
	}, forecastNotes(js, unheld)...)
	c.Says = append(c.Says, more...)
	y := Axis{Head: "run minus forecast (up is slower)", Name: "difference", Of: units.Seconds, Signed: true}
	c.Panels = []Panel{{Y: y, Rules: []Rule{{}}, Series: some(between, wide, within, slower, quicker, off)}}
	c.toEdge()
	return c
}

// forecastNotes say which runs had no forecast and after what the forecasts were wide.
func forecastNotes(js []crew.Judged, unheld int) (says []string) {
	if unheld > 0 {
		says = append(says, fmt.Sprintf("%s had no forecast from runs before.", capital(count(unheld, "more run"))))
	}
	all := each(js, widthOf)
	const much = 2
	for i := 1; i < len(js); i++ {
		a, b := js[i-1].Run, js[i].Run
		if (a.Setup.ID != b.Setup.ID || a.Slip.Track != b.Slip.Track) && all[i] > much*middle(all) {
			return append(says, "Widest where the setup or the track was new.")
		}
	}
	return says
}

// widthOf is how wide the forecast of a run was.
func widthOf(j crew.Judged) float64 {
	b, _ := heldAgainst(j)
	return b.High80 - b.Low80
}

// heldAgainst is what a run was held against, and how late it was: one that does not count at the
// finish, as its slip has it, and not only up to where it was let go.
func heldAgainst(j crew.Judged) (b crew.Band, late float64) {
	if isOff(j) {
		printed := crew.PrintedSplits(j.Run.Slip)
		for m := crew.Mark(crew.Marks) - 1; m > j.Judgement.Mark; m-- {
			if b, et := j.Judgement.Forecast.ETs[m], printed.ETs[m]; et.Known() && b.Centre > 0 {
				return b, et.Value() - b.Centre
			}
		}
	}
	return j.Judgement.Forecast.ETs[j.Judgement.Mark], j.Judgement.Difference
}

// unheld reports a run without a forecast from runs before it: only a guess went before.
func unheld(j crew.Judged) bool { return j.Unjudged != nil || j.Judgement.Forecast.RunsUsed == 0 }

// isOff reports a run that was let go or looks wrong: no forecast is for such a one.
func isOff(j crew.Judged) bool {
	noted := j.Run.Slip.FullPower
	return noted != "" && noted != string(crew.FullPower) || !j.FullPull || j.Doubted()
}

// parts of a run, each a panel.
var parts = []crew.TrackPart{crew.PartLaunch, crew.PartMiddle, crew.PartTopEnd}

// partFt are where they lie.
var partFt = []string{", to 60 ft", ", 60-660 ft", ", past 660 ft"}

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
		up := Series{Name: "quicker", Shape: Stems, Color: Own}
		down := Series{Name: "slower", Shape: Stems, Color: Other}
		off := offSeries()
		var sizesHere []float64
		for i, j := range js {
			for _, piece := range pieces(j) {
				if piece.Parts[len(piece.Parts)-1] != part {
					continue
				}
				at := Spot{X: float64(i + 1), Y: piece.Seconds, Of: j.Run.Slip.ID}
				if isOff(j) {
					off.Points = append(off.Points, at)
				} else if sizesHere = append(sizesHere, math.Abs(at.Y)); at.Y < 0 {
					up.Points = append(up.Points, at)
				} else {
					down.Points = append(down.Points, at)
				}
			}
		}
		sizes[n] = middle(sizesHere)
		y := Axis{
			Head:   string(part) + partFt[n] + ": worth at the finish (up is slower)",
			Name:   "gave_up_" + strings.ReplaceAll(string(part), " ", "_"),
			Of:     units.Seconds,
			Signed: true,
		}
		c.Panels = append(c.Panels, Panel{Y: y, Rules: []Rule{{}}, Series: some(up, down, off)})
	}
	c.toEdge()
	most := slices.Index(sizes, slices.Max(sizes))
	c.Says = append(
		[]string{
			fmt.Sprintf(
				"%s Half the runs are off their forecast by more than %s at the launch, "+
					"%s in the middle, %s at the top end.",
				mover(sizes, most),
				short(sizes[0], 3),
				short(sizes[1], 3),
				short(sizes[2], 3),
			),
			"A part is what it was worth at the finish: a good 60 ft is not counted again further on.",
		},
		append(letGo(js), more...)...)
	return c
}

// letGo says how runs that were let go are drawn, where there are some.
func letGo(js []crew.Judged) []string {
	if !slices.ContainsFunc(js, func(j crew.Judged) bool {
		_, late := heldAgainst(j)
		return late != j.Judgement.Difference
	}) {
		return nil
	}
	return []string{"Of a run that was lifted the crosses add up to its whole slip: what the lift cost is in them."}
}

// pieces are what the parts of a run were worth; of one that was let go they add up to what its
// slip is late by: all that was lost after the mark up to which it counts is in the part past that.
func pieces(j crew.Judged) []crew.Piece {
	_, late := heldAgainst(j)
	lost := late - j.Judgement.Difference
	if lost == 0 {
		return j.Judgement.Pieces
	}
	in := crew.PartTopEnd
	if j.Judgement.Mark < crew.At660 {
		in = crew.PartMiddle
	}
	all := slices.Clone(j.Judgement.Pieces)
	for i, p := range all {
		if p.Parts[len(p.Parts)-1] == in {
			all[i].Seconds += lost
			return all
		}
	}
	return append(all, crew.Piece{Parts: []crew.TrackPart{in}, Seconds: lost})
}

// middle is the median, 0 of none.
func middle(all []float64) float64 {
	if len(all) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(all))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// mover says which part moves a run most: two that do so about alike are both named.
func mover(sizes []float64, most int) string {
	const alike = 0.8
	for i, size := range sizes {
		if i != most && size > alike*sizes[most] {
			return fmt.Sprintf("The %s and the %s move it about alike.", parts[min(i, most)], parts[max(i, most)])
		}
	}
	return fmt.Sprintf("The %s moves it most.", parts[most])
}
