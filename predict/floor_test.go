package predict_test

import (
	"math"

	"slipcase/predict/season"
)

// floor is the filter behind the noise floor: it is given the car's true mean for
// the air and the variances of run and day, and learns the day's effect from the
// clean runs of the day. What cannot be known before the upgrade, the error of
// the power sheets times the car's own elasticity, it may learn too.
type floor struct {
	noise, day float64 // variances of ln ET
	sheet      float64 // variance of ln ET by the sheets
	// State: the offset by the sheets and today's effect.
	mean [2]float64
	cov  [2][2]float64
	on   string
}

func newFloor(s season.Season, sheets bool) *floor {
	f := &floor{noise: s.NoiseSD * s.NoiseSD, day: s.DaySD * s.DaySD}
	if sheets {
		// The forecast through two sheets is off by their difference; the filter knows
		// how large that may be, and starts from the wrong figure.
		e := s.Elasticity * 0.02
		f.sheet = 2 * e * e
		f.mean[0] = s.Elasticity * (s.SheetError[1] - s.SheetError[0])
		f.cov[0][0] = f.sheet
	}
	return f
}

// open starts a new day when the run is of one.
func (f *floor) open(day string) {
	if day == f.on {
		return
	}
	f.on = day
	f.mean[1] = 0
	f.cov[0][1], f.cov[1][0], f.cov[1][1] = 0, 0, f.day
}

// forecast is ln(next/true mean) and its standard deviation.
func (f *floor) forecast() (float64, float64) {
	v := f.noise + f.cov[0][0] + 2*f.cov[0][1] + f.cov[1][1]
	return f.mean[0] + f.mean[1], math.Sqrt(v)
}

// learn takes in ln(ET/true mean) of a clean run.
func (f *floor) learn(y float64) {
	m, sd := f.forecast()
	v := sd * sd
	k := [2]float64{(f.cov[0][0] + f.cov[0][1]) / v, (f.cov[1][0] + f.cov[1][1]) / v}
	for i := range k {
		f.mean[i] += k[i] * (y - m)
	}
	for i := range k {
		for j := range k {
			f.cov[i][j] -= k[i] * k[j] * v
		}
	}
}
