package weather

import (
	"math"
	"time"

	"slipcase/weather/units"
)

const (
	trendLimit   = time.Hour // a trend is carried no further
	trendDamping = 1.0       // hours in which a trend loses 1-1/e of itself
)

// drifted moves the air of s along the trend of the samples to the time asked for.
func drifted(samples []sample, s sample) Air {
	hours := math.Min(math.Abs(s.hours), trendLimit.Hours())
	hours = math.Copysign(trendDamping*(1-math.Exp(-hours/trendDamping)), -s.hours)
	move := func(of func(Air) float64) float64 {
		slope, _ := trend(samples, of)
		return of(s.air) + hours*slope.Value()
	}
	return Air{
		TempF:       move(func(a Air) float64 { return a.TempF }),
		StationInHg: move(func(a Air) float64 { return a.StationInHg }),
		VapourInHg:  move(func(a Air) float64 { return a.VapourInHg }),
	}.possible()
}

// possible takes out the water that a straight line has too much or too little of.
func (a Air) possible() Air {
	saturated := saturatedVapourPa(a.pressurePa(), a.kelvin()) / units.PascalPerInHg
	a.VapourInHg = max(0, min(a.VapourInHg, saturated))
	return a
}

// trend is the slope per hour of a quantity through the samples, by least
// squares, drawn towards zero as far as the noise of the instruments asks
// (ridge regression); trust, 0 to 1, is how little that is.
func trend(samples []sample, of func(Air) float64) (slope units.Number, trust float64) {
	n := float64(len(samples))
	var meanH, meanV float64
	for _, s := range samples {
		meanH += s.hours / n
		meanV += of(s.air) / n
	}
	var sxx, sxy float64
	for _, s := range samples {
		sxx += (s.hours - meanH) * (s.hours - meanH)
		sxy += (s.hours - meanH) * (of(s.air) - meanV)
	}
	if sxx == 0 {
		return units.Number{}, 0
	}
	const noise = (instrumentFt / slopeFtPerH) * (instrumentFt / slopeFtPerH)
	return units.Some(sxy / (sxx + noise)), sxx / (sxx + noise)
}
