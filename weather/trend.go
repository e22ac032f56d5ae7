package weather

import (
	"math"
	"slices"

	"slipcase/weather/units"
)

// possible takes out the water that a straight line has too much or too little of.
func (a Air) possible() Air {
	saturated := saturatedVapourPa(a.pressurePa(), a.kelvin()) / units.PascalPerInHg
	a.VapourInHg = max(0, min(a.VapourInHg, saturated))
	return a
}

// riseAbout is the slope per hour of the density altitude through the samples within two
// hours of one, by least squares, drawn towards zero as far as the noise of the instruments
// asks (ridge regression). It is what the readings did, not what they will do; absent with one.
func riseAbout(samples []sample, at sample) units.Number {
	const within = 2.0 // hours
	around := slices.DeleteFunc(slices.Clone(samples), func(o sample) bool { return math.Abs(o.hours-at.hours) > within })
	n := float64(len(around))
	var meanH, meanFt float64
	for _, s := range around {
		meanH += s.hours / n
		meanFt += s.air.DensityAltitudeFt() / n
	}
	var sxx, sxy float64
	for _, s := range around {
		sxx += (s.hours - meanH) * (s.hours - meanH)
		sxy += (s.hours - meanH) * (s.air.DensityAltitudeFt() - meanFt)
	}
	if sxx == 0 {
		return units.Number{}
	}
	// A hot morning climbs 300-500 ft an hour, an afternoon hardly at all: common practice, no source.
	const slopeFtPerHour = 250.0
	return units.Some(sxy / (sxx + readingFt*readingFt/(slopeFtPerHour*slopeFtPerHour)))
}
