package crew

import (
	"math"
	"path/filepath"
	"testing"
	"time"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// fadingAir is a log of a car with runs, each in air read that minute, and of a reading a day later.
func fadingAir(t *testing.T, tempF, inHg float64) (s *Session, read time.Time) {
	t.Helper()
	read = time.Date(2026, 5, 3, 16, 0, 0, 0, time.UTC)
	lb, err := logbook.Init(filepath.Join(t.TempDir(), "log"), logbook.Options{Now: func() time.Time { return read }})
	if err != nil {
		t.Fatal(err)
	}
	of := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	reading := func(at time.Time, tempF, inHg float64) *Reading {
		return &Reading{Time: Time{Time: at}, Track: "saltgrass", Reading: weather.Reading{
			TempF: units.Some(tempF), DewPointF: units.Some(40), StationInHg: units.Some(inHg),
		}}
	}
	of(lb.AddVehicle(&logbook.Vehicle{Entry: logbook.Entry{ID: "heron"}, Kind: "car", Aspiration: "natural"}))
	of(lb.AddTrack(&logbook.Track{Entry: logbook.Entry{ID: "saltgrass"}, ElevationFt: units.Some(812)}))
	of(lb.AddSetup(&logbook.Setup{
		Vehicle: "heron", From: Time{Time: read.AddDate(0, -1, 0)}, WeightLb: units.Some(3450),
		PowerHP: units.Some(312), PowerAt: "wheels", PowerStandard: "sae",
	}))
	before := read.AddDate(0, 0, -1)
	for i, et := range []float64{13.21, 13.23, 13.20} {
		of(lb.AddReading(reading(before.Add(time.Duration(i)*20*time.Minute), 75, 29.0)))
		of(lb.AddSlips(&Slip{
			Vehicle: "heron", Track: "saltgrass", Time: Time{Time: before.Add(time.Duration(i) * 20 * time.Minute)},
			ET60S: units.Some(
				1.91,
			), ET660S: units.Some(8.41), MPH660: units.Some(83.7), ET1320S: units.Some(et), MPH1320: units.Some(105.8),
		}))
	}
	of(lb.AddReading(reading(read, tempF, inHg)))
	return NewSession(lb, time.Now), read
}

// expected is the forecast of a run so long after the reading.
func expected(t *testing.T, s *Session, at time.Time) Band {
	t.Helper()
	est, err := s.Next(NextAsk{Vehicle: "heron", Track: "saltgrass", At: at})
	if err != nil {
		t.Fatal(err)
	}
	f, err := est.Expect()
	if err != nil {
		t.Fatal(err)
	}
	return f.ETs[At1320]
}

// At any age of the reading air that was denser never makes a slower forecast, and from one
// minute to the next nothing steps: not past two hours, nor past a day.
func TestForecastAsAirFades(t *testing.T) {
	usual, read := fadingAir(t, 80, 29.0)
	var better []*Session
	for _, air := range [][2]float64{{70, 29.0}, {80, 29.3}, {60, 29.4}} {
		s, _ := fadingAir(t, air[0], air[1])
		better = append(better, s)
	}
	for _, age := range []time.Duration{
		0, 30 * time.Minute, time.Hour, 119 * time.Minute, 2 * time.Hour, 4 * time.Hour, 8 * time.Hour,
		10 * time.Hour, 12 * time.Hour,
		23 * time.Hour, 25 * time.Hour, 48 * time.Hour, 4 * 24 * time.Hour, 7 * 24 * time.Hour, 30 * 24 * time.Hour,
		300 * 24 * time.Hour,
	} {
		is := expected(t, usual, read.Add(age))
		for i, s := range better {
			if b := expected(t, s, read.Add(age)); b.Centre > is.Centre+1e-9 {
				t.Errorf("%v after the reading the air %d is better, and %.4f slower", age, i, b.Centre-is.Centre)
			}
		}
		// A day's luck is learned by the day: midnight is not looked across.
		next := expected(t, usual, read.Add(age+time.Minute))
		if math.Abs(next.Centre-is.Centre) > 0.002 || math.Abs((next.High80-next.Low80)-(is.High80-is.Low80)) > 0.004 {
			t.Errorf("%v after the reading: from %.4f (%.4f to %.4f) to %.4f (%.4f to %.4f) in a minute",
				age, is.Centre, is.Low80, is.High80, next.Centre, next.Low80, next.High80)
		}
	}
	// Every minute about where something used to end.
	for _, about := range []time.Duration{time.Hour, 2 * time.Hour, 4 * time.Hour} {
		was := expected(t, usual, read.Add(about-5*time.Minute))
		for minute := -4; minute <= 5; minute++ {
			is := expected(t, usual, read.Add(about+time.Duration(minute)*time.Minute))
			if math.Abs(is.Centre-was.Centre) > 0.001 {
				t.Errorf("%v%+d min: %.4f after %.4f", about, minute, is.Centre, was.Centre)
			}
			was = is
		}
	}
}
