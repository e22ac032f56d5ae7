package page

import (
	"fmt"
	"math"

	"slipcase/weather/units"
)

// How many decimals what was worked out has in JSON: what a timer or an instrument
// prints of it, one more where many runs are put together. What was read is passed on
// as it was read.
const (
	ToS       = 3
	ToMeanS   = 4 // of many runs: means, spreads, differences of setups
	ToMPH     = 2
	ToFt      = 0 // altitudes
	ToGapFt   = 1 // how far apart two lanes are
	ToHP      = 1
	ToG       = 3
	ToPct     = 1
	ToShare   = 4 // probabilities and shares, 0 to 1
	ToDegF    = 1
	ToInHg    = 4
	ToDensity = 4 // kg/m3
	ToGrains  = 1 // of water in a pound of dry air
	ToFactor  = 4 // correction factors
	ToRPM     = 0
	ToInch    = 2
	ToRatio   = 3
)

// rounded is v to so many decimals, and 0 where that is -0.
func rounded(v float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}

// roundedNumber is rounded of what may be absent.
func roundedNumber(n units.Number, decimals int) units.Number {
	if !n.Known() {
		return n
	}
	return units.Some(rounded(n.Value(), decimals))
}

// someRounded is a figure that is known, rounded.
func someRounded(v float64, decimals int) units.Number { return units.Some(rounded(v, decimals)) }

// round4 is for the plans of changes, whose gains are means.
func round4(v float64) float64 { return rounded(v, ToMeanS) }

// Seconds is a time as a slip prints it, "" where it is absent.
func Seconds(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf("%.3f", n.Value())
}

// signed is a difference in thousandths; nothing is neither more nor less.
func signed(s float64) string {
	if math.Abs(s) < 0.0005 {
		return "0.000"
	}
	return fmt.Sprintf("%+.3f", s)
}

func minus(a, b units.Number) units.Number {
	if !a.Known() || !b.Known() {
		return units.Number{}
	}
	return units.Some(a.Value() - b.Value())
}
