package main

import (
	"math"

	"slipcase/weather/units"
)

// How many decimals what was worked out has in JSON: what a timer or an instrument
// prints of it, one more where many runs are put together. What was read is passed on
// as it was read.
const (
	toS       = 3
	toMeanS   = 4 // of many runs: means, spreads, differences of setups
	toMPH     = 2
	toFt      = 0 // altitudes
	toGapFt   = 1 // how far apart two lanes are
	toHP      = 1
	toG       = 3
	toPct     = 1
	toShare   = 4 // probabilities and shares, 0 to 1
	toDegF    = 1
	toInHg    = 4
	toDensity = 4 // kg/m3
	toGrains  = 1 // of water in a pound of dry air
	toFactor  = 4 // correction factors
	toRPM     = 0
	toInch    = 2
	toRatio   = 3
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
func round4(v float64) float64 { return rounded(v, toMeanS) }
