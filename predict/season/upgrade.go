package season

import (
	"math/rand/v2"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Upgrade is a vehicle, its runs so far, and a change to it whose true worth is
// known.
type Upgrade struct {
	Finish predict.Mark
	Limit  Limit          // what holds it back in the launch, before
	Runs   []predict.Pass // before the change
	Now    predict.Pass   // the vehicle as it is, in the air in which both are told
	// Gain is the true share of power that is added, Stated what two dyno sheets,
	// each with its own error, make of it; Grip the true share of grip.
	Gain, Stated, Grip float64
	AddedLb            float64 // below 0 when it comes off
	Before, After      predict.Timing
}

// NewUpgrade invents the upgrade of a seed by the first simulator: 5 to 40 % of power
// and up to 10 % of weight, on or off, after three to five meets.
func NewUpgrade(seed uint64) Upgrade {
	y := beginUpgrade(First, seed, AnyLimit)
	weight := pick(y.r, -0.1, 0.1)
	return y.try(Change{Gain: y.gain - 1, Weight: weight})
}

// NewUpgradeOf invents the upgrade of a seed by either simulator. The second draws a
// vehicle that the limit holds back; of the first, what comes tells its limit.
func NewUpgradeOf(by Simulator, seed uint64, limit Limit, c Change) Upgrade {
	return beginUpgrade(by, seed, limit).try(c)
}

// NewUpgradesOf invents several upgrades of one vehicle, each made to it as it was.
func NewUpgradesOf(by Simulator, seed uint64, limit Limit, changes ...Change) (all []Upgrade) {
	y := beginUpgrade(by, seed, limit)
	for _, c := range changes {
		as := *y
		all = append(all, as.try(c))
	}
	return all
}

// Lever is what a change works by.
type Lever string

// The levers.
const (
	Power  Lever = "power"
	Weight Lever = "weight"
	Grip   Lever = "grip"
)

// SomeChange draws a change by one lever: 5 to 60 % of power or grip more, or 2 to
// 15 % of the weight on or off.
func SomeChange(seed uint64, by Lever) Change {
	r := rand.New(rand.NewPCG(seed, 0xc4a6e))
	switch by {
	case Power:
		return Change{Gain: pick(r, 0.05, 0.6)}
	case Grip:
		return Change{Grip: pick(r, 0.05, 0.6)}
	}
	share := pick(r, 0.02, 0.15)
	if r.Float64() < 0.5 {
		share = -share
	}
	return Change{Weight: share}
}

func beginUpgrade(by Simulator, seed uint64, limit Limit) *year {
	y := begin(by, seed, 0x09ade, limit, Regime{})
	y.s.Sheet = true
	for meet := range y.upgradeAt {
		y.meet(meet, meet%2, false)
	}
	return y
}

// try makes the change and tells what it did.
func (y *year) try(c Change) Upgrade {
	air, d := y.ordinaryAir(), &day{}
	u := Upgrade{
		Finish: y.s.Finish, Limit: y.s.Limit, Gain: c.Gain, Grip: c.Grip,
		AddedLb: c.Weight * y.m.facts().kg / units.KgPerLb,
	}
	for _, r := range y.s.Runs {
		u.Runs = append(u.Runs, r.Pass)
	}
	u.Now = predict.Pass{
		Time: time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC), Day: "2026-12-01", Track: "home",
		Machine: y.entered(d), Air: air.exactly(), AirKnown: true,
	}
	was := y.m.run(air, effects{})
	stated := u.Now.Machine.PowerHP.Value()
	y.change(c)
	is := y.m.run(air, effects{})
	u.Before, u.After = predict.Timing{ET: was.et, MPH: was.mph}, predict.Timing{ET: is.et, MPH: is.mph}
	y.stated, y.setup = y.m.facts(), 1 // another pull, another error
	u.Stated = y.entered(d).PowerHP.Value()/stated - 1
	return u
}
