package predict

import (
	"math"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// pausedRun is a run at constant power k per mass from rest that pauses at constant speed
// from one moment for a time, by the equations of motion alone: v = sqrt(2 k t) while it
// pulls (constant power, Fox 1973, whose v and s are those of predict's own formulas), v
// held while it pauses. It gives the time at each mark, s.
func pausedRun(k, from, pause float64) (ets [Marks]float64) {
	const step = 1e-4
	m, s, pulled := 0, 0., 0.
	for t := 0.; m < int(Marks); t += step {
		if t < from || t >= from+pause {
			pulled += step
		}
		if s += math.Sqrt(2*k*pulled) * step; s >= Mark(m).Ft() {
			ets[m] = t
			m++
		}
	}
	return ets
}

// TestStopCostsWhatMotionSays: a pause of a second costs 1 - v/u seconds at the finish.
func TestStopCostsWhatMotionSays(t *testing.T) {
	const k, from = 4500., 0.3
	free := pausedRun(k, from, 0)[At1320]
	v, u := math.Sqrt(2*k*from), math.Sqrt(2*k*free)
	for _, pause := range []float64{0.2, 1.0, 1.6} {
		cost := (pausedRun(k, from, pause)[At1320] - free) / pause
		if want := 1 - v/u; math.Abs(cost-want) > 0.02 {
			t.Errorf("%.1f s of stop cost %.3f each, motion says %.3f", pause, cost, want)
		}
		if math.Abs(cost-stopSlope) > 2*stopSlopeSD {
			t.Errorf("%.3f is no usual cost of a stop, %.2f +/- %.2f", cost, stopSlope, stopSlopeSD)
		}
	}
}

// stopPass is a run of a car that its stop costs so much a second, in standard air.
func stopPass(i int, stop, slope, noise float64) Pass {
	free := [Marks]float64{1.10, 2.95, 4.48, 5.80, 7.62}
	p := Pass{
		ID: string(rune('a' + i)), Time: time.Date(2026, 5, 2, 9, 30*i, 0, 0, time.UTC), Track: "saltgrass",
		Air: weather.Standard, AirKnown: true, StopFromS: 0.2, StopS: stop,
		Machine: Machine{Kind: Car, Setup: "u1", WeightLb: units.Some(2300), PowerHP: units.Some(1000), PowerAt: AtWheels},
	}
	for m, et := range free {
		et += slope*math.Min(stop, math.Max(0, et-0.2)) + noise*(0.4+0.15*float64(m))
		p.Splits.ETs[m] = units.Some(math.Round(1000*et) / 1000)
	}
	p.Splits.MPHs[At1320] = units.Some(175)
	return p
}

// TestStopIsNoSlowCar: before any run of it a car with 1.4 s of stop is forecast that much
// slower, and its first slip is no lift.
func TestStopIsNoSlowCar(t *testing.T) {
	with := stopPass(0, 1.4, 0.9, 0)
	without := with
	without.StopS = 0
	slow, err := Expect(nil, with)
	if err != nil {
		t.Fatal(err)
	}
	free, err := Expect(nil, without)
	if err != nil {
		t.Fatal(err)
	}
	if d := slow.ETs[At1320].Centre - free.ETs[At1320].Centre; math.Abs(d-1.4*stopSlope) > 0.05 {
		t.Errorf("the stop makes it %.3f slower, want about %.3f", d, 1.4*stopSlope)
	}
	if b := slow.ETs[At1320]; with.Splits.ETs[At1320].Value() > b.High95 {
		t.Errorf("%v is slow by %+v", with.Splits.ETs[At1320], b)
	}
	if full, why := FullPull(with, [Marks]units.Number{}); !full {
		t.Errorf("the stop passes for a lift: %+v", why)
	}
	if full, _ := FullPull(without, [Marks]units.Number{}); full {
		t.Error("an 8.9 at 175 mph without a stop is no full pull")
	}
}

// TestStopSlopeIsLearned: stops that vary tell what a second of them costs this car, and the
// next run with another one is forecast by it; stops that are alike tell nothing.
func TestStopSlopeIsLearned(t *testing.T) {
	for _, truth := range []float64{0.70, 0.95} {
		var history []Pass
		noises := []float64{0.004, -0.006, 0.008, -0.002, -0.008, 0.005, 0.001, -0.004, 0.006, -0.003, 0.002, -0.005}
		for i, n := range noises {
			history = append(history, stopPass(i, 1.20+0.05*float64(i%6), truth, n))
		}
		next := stopPass(len(noises), 1.60, truth, 0)
		f, err := Expect(history, next)
		if err != nil {
			t.Fatal(err)
		}
		s, sd, told := f.StopSlope()
		if !told || math.Abs(s-truth) > 0.05 || math.Abs(s-truth) > 3*sd {
			t.Errorf("slope %.3f +/- %.3f (told %v), true %.2f", s, sd, told, truth)
		}
		if off := f.ETs[At1320].Centre - next.Splits.ETs[At1320].Value(); math.Abs(off) > 0.03 {
			t.Errorf("slope %.2f: the next with 1.60 s is off by %.3f", truth, off)
		}
		alike := history[:0:0]
		for i, n := range noises {
			alike = append(alike, stopPass(i, 1.30, truth, n))
		}
		if f, err = Expect(alike, next); err != nil {
			t.Fatal(err)
		}
		if _, sd, told := f.StopSlope(); told {
			t.Errorf("stops all alike told the slope, to %.3f", sd)
		}
	}
}
