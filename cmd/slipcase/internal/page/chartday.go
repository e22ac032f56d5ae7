package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// DayChart shows the air and the runs of a day, and the rounds to come, from a moment on.
func (p *Page) DayChart(g crew.Gathered, d crew.DaySeen) Chart {
	c := Chart{Kind: "day", Units: p.Units}
	if len(g.Runs) == 0 {
		c.Says = []string{nothing(g, "")}
		return c
	}
	first := g.Runs[0].Run.Slip.Time
	c.Title = fmt.Sprintf("%s on %s", brief(g.Vehicle.Name(), 24), first.Format("Mon "+DateForm))
	c.X = Axis{Head: "time of day", Name: "time", Zone: first.Location()}
	air, times := dayAir(d), dayTimes(g, d)
	thin := densityAxis
	thin.Head += " (up is worse air)"
	for _, panel := range []Panel{{Y: thin, Series: air}, {Y: slowerUp(etAxis(g.Mark)), Series: times}} {
		if len(panel.Series) > 0 {
			c.Panels = append(c.Panels, panel)
		}
	}
	if len(d.Next) > 0 {
		key := "the last record: what is after it is forecast"
		if d.Today {
			key = "now: what is after it is forecast"
		}
		for i := range c.Panels {
			c.Panels[i].Rules = []Rule{{At: float64(d.Seen.Unix()), Upright: true, Key: key}}
		}
	}
	c.toEdge()
	c.Says = append(p.daySays(g, d), stopNote(g.Runs)...)
	return c
}

// dayAir is the air of a day, as read and as it is expected to be.
func dayAir(d crew.DaySeen) []Series {
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
	if len(readings.Points) == 0 {
		return nil
	}
	expected := Series{Shape: Ring, Color: Other}
	for _, f := range d.Next {
		if da := crew.DensityAltitude(f.Run); da.Known() {
			expected.Points = append(expected.Points, Spot{X: float64(f.Run.Slip.Time.Unix()), Y: da.Value()})
		}
	}
	return some(line, readings, expected)
}

// dayTimes are the times run on a day, and what may be run next.
func dayTimes(g crew.Gathered, d crew.DaySeen) []Series {
	runs, off := Series{Name: "run", Shape: Dot, Color: Own}, offSeries()
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
	ahead := Series{Name: "forecast: 8 of 10 runs land in here", Shape: Whiskers, Color: Other}
	centre := Series{Name: "forecast, of the air and of the run", Shape: Ring, Color: Other}
	for _, f := range d.Next {
		b := f.Forecast.ETs[g.Mark]
		at := Spot{X: float64(f.Run.Slip.Time.Unix()), Y: b.Centre}
		centre.Points = append(centre.Points, at)
		at.Low, at.High = units.Some(b.Low80), units.Some(b.High80)
		ahead.Points = append(ahead.Points, at)
	}
	return some(runs, off, ahead, centre)
}

// daySays says what the day brought, and what comes next.
func (p *Page) daySays(g crew.Gathered, d crew.DaySeen) (says []string) {
	best, counting := units.Number{}, 0
	for _, t := range g.Runs {
		et := t.Pass.Splits.ETs[g.Mark]
		if et.Known() && (!best.Known() || et.Value() < best.Value()) {
			best = et
		}
		if t.Counts(g.Mark) {
			counting++
		}
	}
	brought := count(len(g.Runs), "run")
	if best.Known() && counting < len(g.Runs) {
		brought += fmt.Sprintf(", %d of them counted", counting)
	}
	if best.Known() {
		brought += ", the best " + Seconds(best)
	} else {
		brought += fmt.Sprintf(", none with a time at %g ft", g.Mark.Ft())
	}
	says = append(says, sentence(brought))
	if len(d.Next) > 0 {
		b := d.Next[0].Forecast.ETs[g.Mark]
		lead := "Next"
		if !d.Today {
			lead = "A next run:"
		}
		at := d.Next[0].Run.Slip.Time.Format("15:04")
		says = append(says, fmt.Sprintf("%s %.2f at %s, %s.", lead, b.Centre, at, eightOf10(b)))
	}
	if d.Dial != nil {
		if dials := p.DialsSay(*d.Dial); dials != "" {
			says = append(says, sentence(dials))
		}
	}
	return says
}

// slowerUp says of the axis of a time which way is better.
func slowerUp(a Axis) Axis {
	a.Head += " (up is slower)"
	return a
}
