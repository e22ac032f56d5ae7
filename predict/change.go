package predict

import (
	"fmt"
	"math"

	"slipcase/weather/units"
)

// Change is what a part, or several, does to a vehicle. The zero Change does
// nothing.
type Change struct {
	Gain     Range // power added, as a share of today's
	WeightLb Range // lb added, below 0 when it comes off
	Grip     Range // grip of the tires added, as a share of today's
	Launch   Range // acceleration of the launch added, as a share, whatever brings it
}

// claimSD is the standard deviation, in the log of the power after over that
// before, of a gain that comes with no range of its own: two dyno sheets of ±2 %
// (common practice, no source).
const claimSD = 0.028

// ClaimedGain gives a bare gain, as a share of today's power, the doubt of two
// dyno sheets; no gain is no doubt.
func ClaimedGain(share float64) Range {
	if share == 0 {
		return Range{}
	}
	return claimed(share, claimSD)
}

func claimed(share, sd float64) Range {
	end := func(z float64) float64 { return (1+share)*math.Exp(z*sd) - 1 }
	return Range{end(-z80), share, end(z80)}
}

// With joins two changes: what they add, adds up, and their doubts, which have
// nothing to do with each other, as their squares.
func (c Change) With(d Change) Change {
	return Change{c.Gain.plus(d.Gain), c.WeightLb.plus(d.WeightLb), c.Grip.plus(d.Grip), c.Launch.plus(d.Launch)}
}

// mostPower is how many times today's power a change may make of it, and
// lightestLb the least that a vehicle and its driver can weigh.
const (
	mostPower  = 5
	lightestLb = 200
)

// CheckGain refuses a loss of power, as a share of today's, that leaves none.
func CheckGain(gain Range) error {
	if least := min(gain.Low, gain.Likely); least <= -1 {
		return fmt.Errorf("a loss of %.0f %% leaves no power: want less than all of it", -100*least)
	}
	return nil
}

// Check refuses what cannot be done to a vehicle of this weight, lb with driver;
// of one whose weight is not known, what could be done to none.
func (c Change) Check(weightLb units.Number) error {
	if err := CheckGain(c.Gain); err != nil {
		return err
	}
	for _, r := range []struct {
		what string
		v    Range
	}{{"gain", c.Gain}, {"weight", c.WeightLb}, {"grip", c.Grip}, {"launch", c.Launch}} {
		if !(r.v.Low <= r.v.Likely && r.v.Likely <= r.v.High) || math.IsInf(r.v.Low, 0) || math.IsInf(r.v.High, 0) {
			return fmt.Errorf("%s %g, %g, %g: want low, likely and high, rising", r.what, r.v.Low, r.v.Likely, r.v.High)
		}
	}
	weight := weightLb.Or(math.Inf(1))
	switch {
	case 1+c.Gain.Likely > mostPower:
		return fmt.Errorf(
			"a gain of %.0f %% makes %.1f times today's power: want up to %d times",
			100*c.Gain.Likely,
			1+c.Gain.Likely,
			mostPower,
		)
	case weight+c.WeightLb.Low < lightestLb:
		return units.Errorf(
			"%v off %v leaves %v with driver: want %v or more",
			units.Weight.Of(-c.WeightLb.Low),
			units.Weight.Of(weight),
			units.Weight.Of(weight+c.WeightLb.Low),
			units.Weight.Of(lightestLb),
		)
	case c.WeightLb.High > weight:
		return units.Errorf("%v more doubles the weight: want less", units.Weight.Of(c.WeightLb.High))
	case c.Grip.Low <= -0.9 || c.Grip.High > 2:
		return fmt.Errorf("grip %+.0f to %+.0f %%: want more than -90, up to 200", 100*c.Grip.Low, 100*c.Grip.High)
	case c.Launch.Low <= -0.9 || c.Launch.High > 2:
		return fmt.Errorf("launch %+.0f to %+.0f %%: want more than -90, up to 200", 100*c.Launch.Low, 100*c.Launch.High)
	}
	return nil
}

// Applied is the power in hp and the weight in lb after the change's likely
// figures; what is not known stays so.
func (c Change) Applied(hp, lb units.Number) (units.Number, units.Number) {
	if hp.Known() {
		hp = units.Some(hp.Value() * (1 + c.Gain.Likely))
	}
	if lb.Known() {
		lb = units.Some(lb.Value() + c.WeightLb.Likely)
	}
	return hp, lb
}
