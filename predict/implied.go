package predict

import (
	"fmt"

	"slipcase/weather/units"
)

// Implied is the power at the clutch that one run shows, in the air it was made
// in, once by its time and once by its speed.
type Implied struct {
	ByET, ByMPH float64 // hp
	pull        float64 // the run's ET x MPH, scaled to the quarter mile
	formula     Formula
}

// ImpliedPower reads the power from the time in s and the speed in mph at a mark.
func ImpliedPower(f Formula, m Mark, weightLb, et, mph float64) (Implied, error) {
	byET, err := f.PowerFromET(m, weightLb, et)
	if err != nil {
		return Implied{}, err
	}
	byMPH, err := f.PowerFromMPH(m, weightLb, mph)
	if err != nil {
		return Implied{}, err
	}
	return Implied{byET, byMPH, pullAt(m, et, mph), f}, nil
}

// Says tells in a sentence what the gap between the two powers means. ET x MPH
// alone decides it, since ByET/ByMPH = (AB/(ET x MPH))^3: the formula's constants
// cancel only against a car that has the same product, so the car's own median
// (absent when it has none) is the better judge.
func (i Implied) Says(ownPull units.Number) string {
	own := i.formula.A * i.formula.B
	usual := fmt.Sprintf("%s's own %.0f", i.formula.Name, own)
	if ownPull.Known() {
		own = ownPull.Value()
		usual = fmt.Sprintf("this car's usual %.0f", own)
	}
	product := fmt.Sprintf("ET x MPH %.0f, %s", i.pull, usual)
	switch {
	case i.pull > own*(1+pullDoubt):
		return "traction or gearing was missing, not power (" + product + ")"
	case ownPull.Known() && i.pull < own*(1-pullDoubt):
		return "speed was missing at the end: lifted, or short of power up there (" + product + ")"
	case ownPull.Known():
		return "the gap is the formula's, not the car's (" + product + ")"
	}
	return fmt.Sprintf("the gap says nothing yet (%s, constant power %d); compare with the car's own runs", product, idealPull)
}
