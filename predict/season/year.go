package season

import (
	"fmt"
	"math"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

const (
	meets     = 8
	yearMeets = 9 // a year, when there are more
	sheetSD   = 0.02
	spoiled   = 0.08
	liftShare = 0.30
)

func (y *year) hold() {
	awayMeets := map[int]bool{1 + y.r.IntN(3): true, 4 + y.r.IntN(4): true}
	seen := map[int]bool{}
	n, a := meets, y.s.Regime
	if a.Meets > 0 {
		n = a.Meets
	}
	for meet := range n {
		if meet == y.upgradeAt && !a.NoUpgrade {
			y.upgrade()
		}
		if meet == y.hiddenAt() {
			y.change(a.Hidden)
			y.hidden = true
		}
		track := 0
		if awayMeets[meet%meets] {
			track = 1
		}
		y.meet(meet, track, !seen[track] && meet > 0)
		seen[track] = true
	}
}

// change makes one that is true, whatever is entered.
func (y *year) change(c Change) {
	y.m = y.m.with(1+c.Gain, c.Weight*y.m.facts().kg, 1+c.Grip)
}

func (y *year) upgrade() {
	y.setup, y.nth = 1, 0
	air := y.ordinaryAir()
	before := y.m.run(air, effects{}).et
	stated := y.stated
	came, said := y.gain, y.gain
	if y.s.Regime.Said > 0 {
		came, said = 1+y.s.Regime.Came, 1+y.s.Regime.Said
	}
	y.m = y.m.with(came, pick(y.r, 0, 20)*units.KgPerLb, 1)
	y.stated = y.m.facts()
	if said != came {
		y.stated.watts = stated.watts * said
	}
	for m, et := range y.m.run(air, effects{}).et {
		y.s.TrueChange[m] = math.Log(et / before[m])
	}
	const e = 0.02
	up, down := y.m.with(math.Exp(e), 0, 1).run(air, effects{}), y.m.with(math.Exp(-e), 0, 1).run(air, effects{})
	y.s.Elasticity = math.Log(up.et[y.s.Finish]/down.et[y.s.Finish]) / (2 * e)
}

// dateOf is the day of a meet: every other Saturday from April on.
func (y *year) dateOf(meet int) time.Time {
	years := 0
	if y.s.Regime.Meets > 0 {
		years, meet = meet/yearMeets, meet%yearMeets
	}
	return time.Date(2026+years, 4, 4+14*meet, 0, 0, 0, 0, time.UTC)
}

func (y *year) meet(meet, track int, first bool) {
	weather := newSky(y.r, y.elevation[track])
	today := y.day.draw(y.r)
	today.shiftS = 0
	date := y.dateOf(meet)
	rounds := 4 + y.r.IntN(6)
	hour := pick(y.r, 9, 10.5)
	d := y.newDay(weather, today, date, track)
	for round := range rounds {
		at := date.Add(time.Duration(hour * float64(time.Hour))).Truncate(time.Minute)
		run := y.pass(d, hour, round)
		run.NewTrack = first
		run.Pass.ID = fmt.Sprintf("r%d-%d", meet, round)
		run.Pass.Time, run.Pass.Day = at, date.Format(time.DateOnly)
		run.Pass.Track = [2]string{"home", "away"}[track]
		y.s.Runs = append(y.s.Runs, run)
		y.nth++
		hour += pick(y.r, 0.7, 1.7)
	}
}

func (y *year) pass(d *day, hour float64, round int) Run {
	e := y.noise.draw(y.r)
	run := Run{
		Setup: y.setup, Nth: y.nth, Round: round, Clean: true, CleanFt: 1320,
		SlowDay: d.slow, Hidden: y.hidden, Driver: d.driver, Entered: true,
	}
	y.mishap(&e, &run, len(y.s.Runs) == 0 && y.s.Regime.BadFirst)
	if run.Clean {
		y.letUp(&e, &run, round)
	}
	run.Pass.Lane = [2]string{"left", "right"}[y.odd.IntN(2)]
	air := d.weather.at(hour)
	run.Air = air.exactly()
	m, lasts := y.onTheDay(d, round, run.Pass.Lane)
	y.setStop(air, lasts, &run)
	lasts.stop = run.Stop
	run.Mean = m.run(air, lasts).et
	run.Today = m.run(air, d.luck.and(lasts)).et
	was := m.run(air, e.and(d.luck).and(lasts))
	run.Pass.Machine = y.entered(d)
	run.Pass.Splits = y.slip(was)
	y.readAir(d, hour, round, &run.Pass)
	y.enter(was, &run)
	return run
}

// slip prints what the track's timer prints, rounded as it rounds.
func (y *year) slip(t timing) predict.Splits {
	var out predict.Splits
	for m := predict.At60; m <= y.s.Finish; m++ {
		printed := m == y.s.Finish || y.style < 0.7 || y.style < 0.9 && (m == predict.At60 || m == predict.At660)
		if !printed || m != y.s.Finish && y.r.Float64() < 0.03 || math.IsNaN(t.et[m]) {
			continue
		}
		out.ETs[m] = units.Some(math.Round(t.et[m]*1000) / 1000)
		if m == y.s.Finish || m == predict.At660 {
			out.MPHs[m] = units.Some(math.Round(t.mph[m]*100) / 100)
		}
	}
	return out
}
