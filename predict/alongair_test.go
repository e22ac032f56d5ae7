package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/weather"
)

// Along the airs the vehicle is forecast as in each of them by itself, and the formula
// goes by the cube root of the power (T. Fox, Am. J. Phys. 41 (1973) 311).
func TestAlongAirIsTheForecastInEach(t *testing.T) {
	history := trialDays(4, 0, false)
	next := history[len(history)-1]
	next.Time = next.Time.AddDate(0, 0, 1)
	next.Day = "next"
	f, err := predict.Expect(history, next)
	if err != nil {
		t.Fatal(err)
	}
	from := weather.Air{TempF: 55, StationInHg: 29.5, VapourInHg: 0.2}
	to := weather.Air{TempF: 95, StationInHg: 28.5, VapourInHg: 0.8}
	points, err := f.AlongAir(predict.At1320, from, to, 5)
	if err != nil {
		t.Fatal(err)
	}
	middle := points[2]
	for i, p := range points {
		next.Air, next.AirKnown, next.AirDoubtFt = p.Air, true, 0
		alone, err := predict.Expect(history, next)
		if err != nil {
			t.Fatal(err)
		}
		// How the days of runs are told apart from the air's work depends a little on the air
		// that is asked for.
		if want := alone.ETs[predict.At1320]; math.Abs(p.Own.Centre-want.Centre) > 0.005 ||
			math.Abs(p.Own.Low80-want.Low80) > 0.01 || math.Abs(p.Own.High80-want.High80) > 0.01 {
			t.Errorf("point %d: %+v, alone %+v", i, p.Own, want)
		}
		power := predict.PowerRatio(next.Machine.Aspiration, p.Air) / predict.PowerRatio(next.Machine.Aspiration, middle.Air)
		if want := middle.Own.Centre / math.Cbrt(power); math.Abs(p.Formula-want) > 1e-6 {
			t.Errorf("point %d: the formula says %.4f, want %.4f", i, p.Formula, want)
		}
	}
	if points[0].Own.Centre >= points[4].Own.Centre {
		t.Error("thin air is not slower")
	}
}
