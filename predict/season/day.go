package season

import (
	"math"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// lasting are the effects that a regime brings, as large as they were asked for.
type lasting struct {
	lane  effects // of the slow lane
	fresh vehicle // as it began: wear is told on it
	et    float64 // its time at the finish in standard air, s
}

// prepare sizes them on the vehicle as it begins.
func (y *year) prepare() {
	g, at := y.s.Regime, y.s.Finish
	et := y.m.run(standardAir, effects{}).et[at]
	y.lasting = lasting{fresh: y.m, et: et}
	if g.LaneS > 0 {
		y.lasting.lane = slower(y.m, standardAir, at, 1+g.LaneS/et, poorLane)
	}
	if g.Index {
		// Shut a while after the launch; the index is a tenth over what it runs at home.
		y.stop = Stop{OnS: pick(y.odd, 0.3, 1), Share: pick(y.odd, 0.15, 0.35)}
		y.stop.OnS = math.Round(100*y.stop.OnS) / 100
		y.s.Index = math.Ceil(10*1.08*y.m.run(y.ordinaryAir(), effects{}).et[at]) / 10
	}
}

// hiddenAt is the meet before which the change that nobody enters is made.
func (y *year) hiddenAt() int {
	if y.s.Regime.Hidden == (Change{}) {
		return -1
	}
	return y.upgradeAt
}

// day is one day at a track.
type day struct {
	weather sky
	luck    effects // the day's
	lasts   effects // what is true of all its runs beside the vehicle
	slow    bool
	driver  string
	read    reading
}

const daysPerMonth = 365.25 / 12

func (y *year) newDay(weather sky, luck effects, date time.Time, track int) *day {
	g := y.s.Regime
	d := &day{weather: weather, luck: luck, driver: "first"}
	if g.SlowDays > 0 && y.odd.Float64() < g.SlowDays {
		d.slow = true
		d.luck = d.luck.and(slower(y.m, weather.at(12), y.s.Finish, 1+pick(y.odd, 0.02, 0.06), poorTrack))
	}
	if track == 1 {
		d.lasts.grip += g.AwayGrip
	}
	months := date.Sub(y.dateOf(0)).Hours() / 24 / daysPerMonth
	if g.WearS > 0 && months > 0 {
		// So much time a month, to the end; so much power a month would stop a car in five
		// years.
		by := 1 + g.WearS*months/y.lasting.et
		d.lasts = d.lasts.and(slower(y.lasting.fresh, standardAir, y.s.Finish, by, wornEngine))
	}
	if g.OtherDriver && y.odd.Float64() < 0.4 {
		d.driver = "other"
		if g.OtherLb == 0 {
			d.lasts = d.lasts.and(effects{launch: -0.03, shiftS: 0.03})
		}
	}
	return d
}

// onTheDay is the vehicle with who drives it, and what lasts of effects for a run.
func (y *year) onTheDay(d *day, round int, lane string) (vehicle, effects) {
	g, e, m := y.s.Regime, d.lasts, y.m
	e.power += g.HeatRun * float64(round)
	if lane == "right" {
		e = e.and(y.lasting.lane)
	}
	if d.driver == "other" && g.OtherLb != 0 {
		m = m.with(1, g.OtherLb*units.KgPerLb, 1)
	}
	return m, e
}

// entered is the machine as the racer enters it.
func (y *year) entered(d *day) predict.Machine {
	f := y.stated
	if g := y.s.Regime; d.driver == "other" && g.OtherEntered {
		f.kg += g.OtherLb * units.KgPerLb
	}
	return f.entered([2]string{"first", "upgraded"}[y.setup], y.s.Sheet, y.s.SheetError[y.setup])
}
