package weather

import (
	"math"
	"slices"
	"time"

	"slipcase/weather/units"
)

// possible takes out the water that a straight line has too much or too little of.
func (a Air) possible() Air {
	saturated := saturatedVapourPa(a.pressurePa(), a.kelvin()) / units.PascalPerInHg
	a.VapourInHg = max(0, min(a.VapourInHg, saturated))
	return a
}

// Turn is what the newest reading has moved from the one before it, where that is no going
// on: a shower, a front, or the other way than the ones before. What comes next is not known from it.
type Turn struct {
	ByFt  float64 // of density altitude
	Since time.Time
}

// turnedShare is the part of a turn that may be undone, or gone on with, within hours: fitted as
// in course.go, so that 8 in 10 of what came after one in the odd months lie in the range.
const turnedShare = 0.5

// variance is what a turn adds to the doubt about the density altitude, ft², so many hours from
// the newest reading: nothing at its own minute.
func (t Turn) variance(hours float64) float64 {
	return math.Pow(turnedShare*t.ByFt, 2) * -math.Expm1(-math.Abs(hours))
}

const (
	trendHours = 2.0 // a trend is that of the readings within so long of one
	// A hot morning climbs 300-500 ft an hour, an afternoon hardly at all: common practice, no source.
	usualFtPerHour, mostFtPerHour = 250.0, 500.0
	// What two readings of the same air may differ by: twice the noise of their difference.
	sameAirFt = 2 * math.Sqrt2 * readingFt
)

// step reports that the air leapt from one sample to the next: faster than by the sun.
func step(a, b sample) bool {
	moved := math.Abs(b.daFt - a.daFt)
	return moved > mostFtPerHour*(b.hours-a.hours)+sameAirFt
}

// trendAt is the slope per hour of the density altitude about one of the samples, absent
// with one, and whether the newest of them turned: a step is no slope, so that the trend is
// that of the samples on this side of it.
func trendAt(samples []sample, at sample) (rise units.Number, turned Turn) {
	i := slices.IndexFunc(samples, func(s sample) bool { return s.at == at.at })
	near := func(j int) bool { return math.Abs(samples[j].hours-at.hours) <= trendHours }
	first, last := i, i
	for first > 0 && near(first-1) && !step(samples[first-1], samples[first]) {
		first--
	}
	for last < len(samples)-1 && near(last+1) && !step(samples[last], samples[last+1]) {
		last++
	}
	rise = riseOf(samples[first : last+1])
	if i == 0 || i < len(samples)-1 || !near(i-1) {
		return rise, turned
	}
	moved := at.daFt - samples[i-1].daFt
	against := math.Abs(moved) > sameAirFt && moved*riseOf(samples[first:i]).Value() < 0
	if first == i || against {
		return units.Number{}, Turn{moved, samples[i-1].Time}
	}
	return rise, turned
}

// riseOf is the slope per hour of the density altitude through samples, by least squares,
// drawn towards zero as far as the noise of the instruments asks (ridge regression). It is
// what the readings did, not what they will do; absent with one.
func riseOf(samples []sample) units.Number {
	n := float64(len(samples))
	var meanH, meanFt float64
	for i := range samples {
		meanH += samples[i].hours / n
		meanFt += samples[i].daFt / n
	}
	var sxx, sxy float64
	for i := range samples {
		h := samples[i].hours - meanH
		sxx += h * h
		sxy += h * (samples[i].daFt - meanFt)
	}
	if sxx == 0 {
		return units.Number{}
	}
	return units.Some(sxy / (sxx + readingFt*readingFt/(usualFtPerHour*usualFtPerHour)))
}
