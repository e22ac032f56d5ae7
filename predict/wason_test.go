package predict

import (
	"math"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// ofSplits is a run with times at 60, 330, 660, 1000 and 1320 ft; 0 where there is none.
func ofSplits(at time.Time, ets ...float64) Pass {
	p := Pass{ID: at.String(), Time: at, Track: "saltgrass", Air: weather.Standard, AirKnown: true}
	for m, et := range ets {
		if et > 0 {
			p.Splits.ETs[m] = units.Some(et)
		}
	}
	return p
}

// TestWasOnHolds lets every run of invented days go after 330 ft and asks what it was on:
// what it would have run lies in the 80 % range about 8 times in 10, and nearer than the
// forecast that does not know its splits. The runs are made here, by a law of our own: a
// launch and an engine that vary on their own, no source.
func TestWasOnHolds(t *testing.T) {
	t.Parallel()
	seed := uint64(1)
	normal := func() float64 { // the sum of twelve even ones
		sum := -6.
		for range 12 {
			seed = seed*6364136223846793005 + 1442695040888963407
			sum += float64(seed>>11) / (1 << 53)
		}
		return sum
	}
	day := time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC)
	made := func(i int) Pass {
		launch, engine := 0.02*normal(), 0.012*normal()
		own := func() float64 { return 0.003 * normal() }
		return ofSplits(day.Add(time.Duration(i)*25*time.Minute),
			1.30+launch/2, 3.55+launch+engine*0.3+own(), 5.50+launch+engine*0.6+own(),
			7.20+launch+engine*0.85+own(), 8.64+launch+engine+own())
	}
	var history []Pass
	for i := range 12 {
		history = append(history, made(i))
	}
	const runs = 120
	held, off, blind := 0, 0., 0.
	for i := range runs {
		run := made(12 + i%6)
		truth := run.Splits.ETs[At1320].Value()
		f, err := Expect(history, run)
		if err != nil {
			t.Fatal(err)
		}
		lifted := run
		lifted.Effort, lifted.FullFt = Lifted, units.Some(600.)
		lifted.Splits.ETs[At660] = units.Some(5.7)
		lifted.Splits.ETs[At1000], lifted.Splits.ETs[At1320] = units.Some(8.), units.Some(10.5)
		w, ok := f.WasOn(lifted, units.Number{}, At1320)
		if !ok || !w.About || w.AtFt != 600 || w.Effort != Lifted {
			t.Fatalf("was on: %+v, %v", w, ok)
		}
		if truth >= w.ET.Low80 && truth <= w.ET.High80 {
			held++
		}
		off += math.Abs(w.ET.Centre-truth) / runs
		blind += math.Abs(f.ETs[At1320].Centre-truth) / runs
	}
	t.Logf("held %d of %d; off by %.4f, the forecast by %.4f", held, runs, off, blind)
	if share := float64(held) / runs; share < 0.70 || share > 0.95 {
		t.Errorf("%.2f of the ranges hold, want 0.70 to 0.95", share)
	}
	if off > blind*0.75 {
		t.Errorf("off by %.4f with its splits, %.4f without: they should tell", off, blind)
	}
}

// TestWasOnBounds: a run driven to its end was on nothing, nor one of which no split is
// sound; where the figures alone tell a lift, the last sound mark is its place.
func TestWasOnBounds(t *testing.T) {
	day := time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC)
	var history []Pass
	for i := range 6 {
		s := 0.01 * float64(i%3)
		history = append(history, ofSplits(day.Add(time.Duration(i)*time.Hour), 1.3+s/3, 3.55+s, 5.5+s, 7.2+s, 8.64+s))
	}
	run := ofSplits(day.Add(8*time.Hour), 1.303, 3.56, 5.51, 7.4, 9.5)
	f, err := Expect(history, run)
	if err != nil {
		t.Fatal(err)
	}
	if w, ok := f.WasOn(run, units.Number{}, At1320); ok {
		t.Errorf("a full run was on %+v", w)
	}
	w, ok := f.WasOn(run, units.Some(660.), At1320)
	if !ok || w.AtFt != 660 || w.About || w.Effort != "" || math.Abs(w.ET.Centre-8.65) > 0.02 {
		t.Errorf("looks lifted past 660: %+v, %v", w, ok)
	}
	if _, ok := f.WasOn(run, units.Some(660.), At660); ok {
		t.Error("it was driven to 660 ft")
	}
	spun := run
	spun.Effort = Spun
	if _, ok := f.WasOn(spun, units.Number{}, At1320); ok {
		t.Error("nothing of a run that spun is sound")
	}
}
