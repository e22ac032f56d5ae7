package weather

import (
	"math"

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
	around := make([]struct{ hours, ft float64 }, 0, len(samples))
	for i := range samples {
		if s := &samples[i]; math.Abs(s.hours-at.hours) <= within {
			around = append(around, struct{ hours, ft float64 }{s.hours, s.air.DensityAltitudeFt()})
		}
	}
	n := float64(len(around))
	var meanH, meanFt float64
	for _, s := range around {
		meanH += s.hours / n
		meanFt += s.ft / n
	}
	var sxx, sxy float64
	for _, s := range around {
		sxx += (s.hours - meanH) * (s.hours - meanH)
		sxy += (s.hours - meanH) * (s.ft - meanFt)
	}
	if sxx == 0 {
		return units.Number{}
	}
	// A hot morning climbs 300-500 ft an hour, an afternoon hardly at all: common practice, no source.
	const slopeFtPerHour = 250.0
	return units.Some(sxy / (sxx + readingFt*readingFt/(slopeFtPerHour*slopeFtPerHour)))
}
