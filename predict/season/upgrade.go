package season

import (
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Upgrade is a vehicle, its runs so far, and a change to it whose true worth is
// known.
type Upgrade struct {
	Finish predict.Mark
	Runs   []predict.Pass // before the change
	Now    predict.Pass   // the vehicle as it is, in the air in which both are told
	// Gain is the true share of power that is added, Stated what two dyno sheets,
	// each with its own error, make of it.
	Gain, Stated  float64
	AddedLb       float64 // below 0 when it comes off
	Before, After predict.Timing
}

// NewUpgrade invents the upgrade of a seed: 5 to 40 % of power and up to 10 % of
// weight, on or off, after three to five meets.
func NewUpgrade(seed uint64) Upgrade {
	y := begin(seed, 0x09ade)
	y.s.Sheet = true
	for meet := range y.upgradeAt {
		y.meet(meet, meet%2, false)
	}
	air := sky{morningC: 22, dewC: 12, stationKPa: stationKPa(y.elevation[0])}.at(9)
	u := Upgrade{Finish: y.s.Finish, Gain: y.gain - 1, AddedLb: pick(y.r, -0.1, 0.1) * y.m.mass / units.KgPerLb}
	for _, r := range y.s.Runs {
		u.Runs = append(u.Runs, r.Pass)
	}
	u.Now = predict.Pass{
		Time: time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC), Day: "2026-12-01", Track: "home",
		Machine: y.machine(), Air: air.exactly(), AirKnown: true,
	}
	u.Before = predict.Timing{ET: y.m.run(air, effects{}).et, MPH: y.m.run(air, effects{}).mph}
	stated := y.machine().PowerHP.Value()
	y.m.peak *= y.gain
	y.m.mass += u.AddedLb * units.KgPerLb
	u.After = predict.Timing{ET: y.m.run(air, effects{}).et, MPH: y.m.run(air, effects{}).mph}
	y.setup = 1 // another pull, another error
	u.Stated = y.machine().PowerHP.Value()/stated - 1
	return u
}
