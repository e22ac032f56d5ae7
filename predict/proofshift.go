package predict

import (
	"math"

	"slipcase/weather/units"
)

const (
	chanceShifted = 0.002 // of a slip typed from a line too high or too low, each way of it
	anyReactions  = 0.01  // of reactions, those that are anything below unracedS
	anySlip       = -1.5  // log density of a figure of which nothing is known, in logs
)

// Column is all that a slip was typed to say, some of it perhaps in the wrong line.
type Column struct {
	Pass
	ReactionS units.Number
	Other     [2]units.Number // time and speed of the other lane, where no more is told of it
}

// LikelierShifted holds a slip against itself moved by a line: how much likelier is the
// same run of figures, as a log of odds? Below 0 it stands as typed.
func (f *Forecast) LikelierShifted(typed, moved Column, perfectS float64) float64 {
	return math.Log(chanceShifted) + f.weight(moved, perfectS) - f.weight(typed, perfectS)
}

// weight is the log density of a slip's figures: each in its own unit, so that the same
// figures in other lines can be compared.
func (f *Forecast) weight(c Column, perfectS float64) float64 {
	y, has := c.Splits.typedLogs()
	log := 0.
	if _, timed := c.Splits.Finish(); timed {
		a, ok := f.trueSlips().of(figuresOf{has, c.Effort})
		if !ok {
			return math.Inf(-1)
		}
		log = a.logDensity(y)
	}
	for k := range channels {
		if has[k] {
			log -= y[k]
		}
	}
	for _, n := range c.Other {
		if n.Known() {
			log += anySlip - math.Log(n.Value())
		}
	}
	if r := c.ReactionS; r.Known() {
		any := 0.
		if math.Abs(r.Value()) < unracedS {
			any = anyReactions / (2 * unracedS)
		}
		log += math.Log((1-anyReactions)*newLight(perfectS, nil).density(r.Value()) + any + math.SmallestNonzeroFloat64)
	}
	return log
}
