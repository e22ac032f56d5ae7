package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

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
	if len(rules) > 1 && len(said) > 0 && !crew.CannotTell(t) {
		said[0] = "setups apart, " + said[0] // what a setup brought is no wear
	}
	c.Says = each(said, func(s string) string { return sentence(capital(s)) })
	if len(t.Days) > 1 && len(t.Shifts) == 0 && !stopsDiffer(runs) {
		c.Says = append(c.Says, p.perSetup(runs, g.Mark)...)
	}
	c.Says = append(append(c.Says, stopNote(runs)...), more...)
	speed := Axis{Head: "speed in standard air (up is faster)", Name: fmt.Sprintf("speed_%g_standard_air", g.Mark.Ft()), Of: units.Speed}
	for _, panel := range []struct {
		y  Axis
		of func(crew.Splits) units.Number
	}{
		{speed, func(s crew.Splits) units.Number { return s.MPHs[g.Mark] }},
		{slowerUp(standardAxis(g.Mark)), func(s crew.Splits) units.Number { return s.ETs[g.Mark] }},
	} {
		single, days := daysOf(runs, panel.of)
		if len(single.Points) == 0 {
			continue
		}
		c.Panels = append(c.Panels, Panel{
			Y: panel.y, Rules: rules, Series: some(append(within(rules, days, runs), single, days)...),
		})
	}
	c.X.Ticks = dayTicks(runs, zone)
	c.Keys = append(c.Keys, daysAt(runs, c.X.Ticks)...)
	return c
}

// daysOf are the figures of runs, and the median of each day, at its first run.
func daysOf(runs []crew.Told, of func(crew.Splits) units.Number) (single, days Series) {
	single = Series{Name: "a run", Shape: Ring, Color: Quiet}
	days = Series{Name: "median of a day", Shape: Dot, Color: Own}
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
		key := ""
		if len(rules) < mostSetups {
			key = fmt.Sprintf("from %s: %s", letter, brief(name, 28))
		}
		at := r.Run.Setup.From.Time
		switch {
		case i == 0:
			at = r.Run.Slip.Time.Add(-runs[len(runs)-1].Run.Slip.Time.Sub(r.Run.Slip.Time.Time) / 14)
		case at.Before(runs[i-1].Run.Slip.Time.Time):
			at = r.Run.Slip.Time.Add(-time.Minute)
		}
		rules = append(rules, Rule{At: float64(at.Unix()), Upright: true, Name: letter, Key: key})
	}
	if n := len(rules) - mostSetups; n > 0 {
		keys = append(keys, fmt.Sprintf("and %d more setups", n))
	}
	if len(rules) == 1 {
		return nil, nil
	}
	return rules, keys
}

// daysAt says at which tracks named days were, where they were at several.
func daysAt(runs []crew.Told, ticks []Tick) []string {
	var said, tracks []string
	was := ""
	for _, r := range runs {
		day, track := r.Run.Slip.Time.Format(DayForm), brief(cmp.Or(r.Run.Track.Name(), r.Run.Slip.Track), 16)
		if day == was {
			continue
		}
		if was = day; !slices.Contains(tracks, track) {
			tracks = append(tracks, track)
		}
		said = append(said, day+" "+track)
	}
	switch {
	case len(tracks) < 2:
		return nil
	case ticks == nil:
		return []string{fmt.Sprintf("at %d tracks: a line joins days at one", len(tracks))}
	}
	return []string{strings.Join(said, ", ")}
}

// within are lines between the days of each setup, one after the other at one track: from track
// to track the air's correction is too rough to join them.
func within(rules []Rule, days Series, runs []crew.Told) (lines []Series) {
	track := map[float64]string{}
	for _, r := range slices.Backward(runs) {
		track[float64(r.Run.Slip.Time.Unix())] = r.Run.Slip.Track
	}
	var at int
	line := Series{Shape: Line, Color: Own}
	for _, d := range days.Points {
		for at < len(rules) && rules[at].At <= d.X {
			lines, at = append(lines, line), at+1
			line.Points = nil
		}
		if n := len(line.Points); n > 0 && track[line.Points[n-1].X] != track[d.X] {
			lines, line.Points = append(lines, line), nil
		}
		line.Points = append(line.Points, d)
	}
	return slices.DeleteFunc(append(lines, line), func(s Series) bool { return len(s.Points) < 2 })
}

// perSetup says what each of the last two setups did from its first day to its last.
func (p *Page) perSetup(runs []crew.Told, m crew.Mark) (says []string) {
	for from, setups := 0, 0; from < len(runs); {
		to := from
		for to < len(runs) && runs[to].Run.Setup.ID == runs[from].Run.Setup.ID {
			to++
		}
		if setups++; to == len(runs) || !slices.ContainsFunc(runs[to:], func(r crew.Told) bool {
			return r.Run.Setup.ID != runs[to].Run.Setup.ID
		}) {
			says = append(says, p.firstToLast(runs[from:to], m))
		}
		from = to
	}
	return says
}

// firstToLast says what runs with one setup did from their first day to their last.
func (p *Page) firstToLast(runs []crew.Told, m crew.Mark) string {
	name := capital(cmp.Or(brief(runs[0].Run.Setup.Name, 20), "no setup recorded"))
	_, ets := daysOf(runs, func(s crew.Splits) units.Number { return s.ETs[m] })
	n := len(ets.Points)
	if n < 2 {
		return name + ": one day only, too early to tell."
	}
	says := fmt.Sprintf("%s: %s", name, quickerBy(ets.Points[n-1].Y-ets.Points[0].Y))
	_, speeds := daysOf(runs, func(s crew.Splits) units.Number { return s.MPHs[m] })
	if k := len(speeds.Points); k > 1 {
		by := units.Speed.In(p.Units, speeds.Points[k-1].Y-speeds.Points[0].Y)
		way := "up"
		if by < 0 {
			by, way = -by, "down"
		}
		if by >= 0.05 {
			says += fmt.Sprintf(" and %.1f %s %s", by, units.Speed.Symbol(p.Units), way)
		}
	}
	says = fmt.Sprintf("%s, first of its %d days to last", says, n)
	if runs[0].Run.Slip.Track != runs[len(runs)-1].Run.Slip.Track {
		says += ", but at two tracks: cannot tell"
	}
	return sentence(says)
}

// dayTicks are race days, where they are few enough to be named; nil for the calendar's.
func dayTicks(runs []crew.Told, zone *time.Location) (ticks []Tick) {
	const most = 6
	first, last := runs[0].Run.Slip.Time, runs[len(runs)-1].Run.Slip.Time
	if last.Sub(first.Time) > 300*24*time.Hour {
		return nil
	}
	was := ""
	for _, r := range runs {
		day := r.Run.Slip.Time.Format(time.DateOnly)
		if day == was {
			continue
		}
		if was = day; len(ticks) == most {
			return nil
		}
		y, m, d := r.Run.Slip.Time.Date()
		ticks = append(ticks, Tick{float64(time.Date(y, m, d, 0, 0, 0, 0, zone).Unix()), r.Run.Slip.Time.Format(DayForm)})
	}
	return ticks
}
