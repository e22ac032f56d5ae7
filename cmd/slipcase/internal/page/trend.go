package page

import (
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

type trendJSON struct {
	Vehicle    string         `json:"vehicle"`
	DistanceFt float64        `json:"distance_ft"`
	Days       []trendDayJSON `json:"days"`
	Shifts     []shiftJSON    `json:"shifts"`
	Says       []string       `json:"says"`
}

type trendDayJSON struct {
	Time    crew.Time   `json:"time"`
	Track   string      `json:"track"`
	Setup   string      `json:"setup"`
	Runs    int         `json:"runs"`
	PowerHP *figureJSON `json:"power_hp"`
	LaunchG *figureJSON `json:"launch_g"`
	RollS   *figureJSON `json:"et_after_60_s"`
}

// shiftJSON is a step or a drift; slower above 0.
type shiftJSON struct {
	Kind    string      `json:"kind"` // step or drift
	Since   crew.Time   `json:"since"`
	ByS     *figureJSON `json:"by_s"`
	LateS   float64     `json:"by_past_half_s"`
	PowerHP *figureJSON `json:"power_hp"`
	LaunchG *figureJSON `json:"launch_g"`
}

func newTrendJSON(vehicle string, t crew.Trend, says []string) trendJSON {
	out := trendJSON{vehicle, t.Mark.Ft(), []trendDayJSON{}, []shiftJSON{}, says}
	for _, d := range t.Days {
		out.Days = append(out.Days, trendDayJSON{
			crew.Time{Time: d.Began},
			d.Track, d.Setup, d.Runs,
			newFigureJSON(d.PowerHP, ToHP), newFigureJSON(d.LaunchG, ToG), newFigureJSON(d.RollS, ToS),
		})
	}
	for _, s := range t.Shifts {
		kind := "step"
		if s.Drift {
			kind = "drift"
		}
		out.Shifts = append(out.Shifts, shiftJSON{
			kind,
			crew.Time{Time: s.Since},
			newFigureJSON(s.ByS, ToMeanS), rounded(s.LateS, ToMeanS),
			newFigureJSON(s.PowerHP, ToHP), newFigureJSON(s.LaunchG, ToG),
		})
	}
	return out
}

// Trend tells what became of a vehicle over its days.
func (p *Page) Trend(v crew.Vehicle, t crew.Trend) error {
	says := p.trendSays(t)
	if slices.ContainsFunc(t.Days, func(d crew.TrendDay) bool { return d.Stopped }) {
		says = append(says, "of runs with a throttle stop the time is told as without it, their power and launch are not")
	}
	p.Aside(says)
	days := p.trendTable(t)
	return p.Answer(newTrendJSON(v.ID, t, says), days, func(w io.Writer) {
		for i, line := range says {
			p.Say(w, []string{v.Name(), ""}[min(i, 1)], line)
		}
		if len(t.Days) == 0 {
			return
		}
		fmt.Fprintln(w)
		days.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(
			w,
			"columns",
			fmt.Sprintf("all in standard air: effective power at the wheels, launch, time from 60 ft to %g ft; "+
				"from and to hold 8 of 10", t.Mark.Ft()),
		)
	})
}

// trendSays names what the luck of days does not explain.
func (p *Page) trendSays(t crew.Trend) []string {
	switch {
	case len(t.Days) == 0:
		return []string{"no full run yet: nothing to tell"}
	case len(t.Days) == 1:
		return []string{"one day of runs: a trend takes two or more"}
	case crew.CannotTell(t):
		return []string{fmt.Sprintf("cannot tell yet: of %d race days, %s", len(t.Days), alikeDays(t))}
	case len(t.Shifts) == 0:
		return []string{fmt.Sprintf("~ no change beyond the luck of the day in %d race days", len(t.Days))}
	}
	return each(t.Shifts, func(s crew.TrendShift) string { return p.shift(s, t) })
}

func alikeDays(t crew.Trend) string {
	if crew.AlikeDays(t) == 0 {
		return "no two with one setup at one track"
	}
	return "only two with one setup at one track"
}

// shift says one: when, how much, where on the track, and what of the vehicle it is.
func (p *Page) shift(s crew.TrendShift, t crew.Trend) string {
	when := "since " + dayOf(s.Since)
	if s.Drift {
		when = fmt.Sprintf("bit by bit from %s to %s", dayOf(s.Since), dayOf(t.Days[len(t.Days)-1].Began))
	}
	way, late := "slower", s.LateS
	if s.ByS.Value < 0 {
		way, late = "quicker", -late
	}
	half := "the eighth"
	if t.Mark == crew.At660 {
		half = "330 ft"
	}
	power := p.added(s.PowerHP, func(v float64) string { return fmt.Sprintf("%.0f", units.Power.In(p.Units, v)) },
		units.Power.Symbol(p.Units), "the power")
	launch := p.added(s.LaunchG, func(v float64) string { return short(v, 3) }, "g of launch", "the launch")
	return fmt.Sprintf("%s %s %s (%s), %s of it past %s: %s; %s", when, short(math.Abs(s.ByS.Value), 3), way,
		p.spanOf(s.ByS, func(v float64) string { return short(v, 3) }), short(late, 3), half, power, launch)
}

func dayOf(t time.Time) string { return t.Format("Mon 2 Jan 2006") }

// added says how much more or less of a thing there is.
func (p *Page) added(f crew.Figure, figure func(float64) string, unit, thing string) string {
	switch {
	case f.Low > 0:
		return fmt.Sprintf("%s %s (%s) more", figure(f.Value), unit, p.spanOf(f, figure))
	case f.High < 0:
		return fmt.Sprintf("%s %s (%s) less", figure(-f.Value), unit, p.spanOf(f, figure))
	}
	return thing + " is as ever"
}

// spanOf is the range that holds 8 of 10; of a figure below 0 by its size.
func (p *Page) spanOf(f crew.Figure, figure func(float64) string) string {
	if f = crew.Of10(f); f.Value < 0 {
		f = crew.Figure{Value: -f.Value, Low: -f.High, High: -f.Low}
	}
	return "8 of 10 in " + figure(f.Low) + "-" + figure(f.High)
}

func (p *Page) trendTable(t crew.Trend) table.Table {
	hp := p.Suffix(units.Power)
	out := table.Table{Columns: []table.Column{
		{Head: "day", Key: "day"},
		{Head: "track", Key: "track", Drop: 4},
		{Head: "setup", Key: "setup", Drop: 3},
		{Head: "runs", Key: "runs", Right: true, Drop: 2},
		{Head: units.Power.Symbol(p.Units), Key: "power_" + hp, Right: true},
		{Head: "from", Key: "power_low80_" + hp, Right: true},
		{Head: "to", Key: "power_high80_" + hp, Right: true},
		{Head: "launch g", Key: "launch_g", Right: true},
		{Head: "from", Key: "launch_low80_g", Right: true, Drop: 1},
		{Head: "to", Key: "launch_high80_g", Right: true, Drop: 1},
		{Head: "past 60 ft", Key: "et_after_60_s", Right: true},
		{Head: "from", Key: "et_after_60_low80_s", Right: true, Drop: 1},
		{Head: "to", Key: "et_after_60_high80_s", Right: true, Drop: 1},
	}}
	for _, d := range t.Days {
		row := table.Cells{
			"day":   d.Began.Format(time.DateOnly),
			"track": d.Track,
			"setup": d.Setup,
			"runs":  fmt.Sprint(d.Runs),
		}
		for _, c := range []struct {
			name, unit string
			of         crew.Figure
			decimals   int
		}{
			{"power_", hp, crew.Figure{
				Value: units.Power.In(p.Units, d.PowerHP.Value), Low: units.Power.In(p.Units, d.PowerHP.Low),
				High: units.Power.In(p.Units, d.PowerHP.High),
			}, 0},
			{"launch_", "g", d.LaunchG, 3},
			{"et_after_60_", "s", d.RollS, 2},
		} {
			f := crew.Of10(c.of)
			for end, v := range map[string]float64{"": f.Value, "low80_": f.Low, "high80_": f.High} {
				if row[c.name+end+c.unit] = "-"; !math.IsNaN(v) {
					row[c.name+end+c.unit] = fmt.Sprintf("%.*f", c.decimals, v)
				}
			}
		}
		out.AddCells(row)
	}
	return out
}
