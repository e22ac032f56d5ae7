package powertrain

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// drawn is how many vehicles of each limit are drawn.
func drawn() uint64 {
	switch {
	case os.Getenv("SLIPCASE_CAMPAIGN") != "":
		return 400
	case testing.Short():
		return 15
	}
	return 60
}

// answers are the elasticities of the 60 ft time, -d ln t/d ln x, to what the limits
// rest on, and of the time through a whole quarter mile to the engine's torque.
type answers struct{ grip, balance, torque, stall, quarter float64 }

func answer(v Vehicle) answers {
	const by = 0.02
	ets := func(change func(v *Vehicle, l *Luck)) [Marks]float64 {
		w, l := v, Luck{}
		change(&w, &l)
		return w.Run(Standard, l).ET
	}
	of := func(change func(v *Vehicle, l *Luck, by float64)) (at60, at1320 float64) {
		up := ets(func(v *Vehicle, l *Luck) { change(v, l, by) })
		down := ets(func(v *Vehicle, l *Luck) { change(v, l, -by) })
		return math.Log(down[0]/up[0]) / (2 * by), math.Log(down[4]/up[4]) / (2 * by)
	}
	var a answers
	a.grip, _ = of(func(_ *Vehicle, l *Luck, by float64) { l.Grip = by })
	a.balance, _ = of(func(v *Vehicle, _ *Luck, by float64) { v.Chassis.Balance *= 1 + by })
	a.torque, a.quarter = of(func(_ *Vehicle, l *Luck, by float64) { l.Power = by })
	if v.Converter != nil {
		a.stall, _ = of(func(v *Vehicle, _ *Luck, by float64) {
			c := *v.Converter
			c.StallRatio *= 1 + by
			v.Converter = &c
		})
	}
	return a
}

// TestDrawnAreLimitedByWhatTheySay tries each limit's own lever: the 60 ft time of a
// vehicle answers most to what holds it back. A steady acceleration a gives t ∝ a^-½, the
// rollout some more. The draw itself goes by another measure, the time spent at the limit.
func TestDrawnAreLimitedByWhatTheySay(t *testing.T) {
	for l, name := range []string{"tires", "wheelie", "torque", "converter"} {
		limit := Limit(l)
		var ets, lever []float64
		bikes := 0
		for seed := range drawn() {
			v := Draw(rand.New(rand.NewPCG(seed, 11)), limit, seed%2 == 1)
			if v.Chassis.Motorcycle {
				bikes++
			}
			a := answer(v)
			own := map[Limit]float64{
				TireLimit: a.grip, WheelieLimit: a.balance, TorqueLimit: a.torque,
				ConverterLimit: a.torque,
			}[limit]
			lever = append(lever, own)
			ets = append(ets, v.Run(Standard, Luck{}).ET[4])
			if own < max(a.grip, a.balance, a.torque) || own < 0.25 {
				t.Errorf("%s, vehicle %d: answers %+.2v", name, seed, a)
			}
			if limit == ConverterLimit && a.stall < 0.15 {
				t.Errorf("%s, vehicle %d answers %.2f to the torque ratio at stall", name, seed, a.stall)
			}
			if a.quarter < 0.02 {
				t.Errorf("%s, vehicle %d: power changes its quarter mile by %.3f", name, seed, a.quarter)
			}
		}
		slices.Sort(ets)
		slices.Sort(lever)
		n := len(ets)
		t.Logf(
			"%-9s %d vehicles, %d motorcycles: quarter %.2f, %.2f, %.2f s (least, median, most), 60 ft answers %.2f, %.2f, %.2f to it",
			name,
			n,
			bikes,
			ets[0],
			ets[n/2],
			ets[n-1],
			lever[0],
			lever[n/2],
			lever[n-1],
		)
		if limit != ConverterLimit && bikes != n/2 || limit == ConverterLimit && bikes != 0 {
			t.Errorf("%s: %d motorcycles", name, bikes)
		}
	}
}

// Halving the steps moves no time by a thousandth, nine of ten by less than a tenth of one.
func TestHalvedStep(t *testing.T) {
	for l := TireLimit; l <= ConverterLimit; l++ {
		var moved []float64
		for seed := range drawn() {
			v := Draw(rand.New(rand.NewPCG(seed, 13)), l, seed%2 == 1)
			luck := Luck{Launch: 0.02, ShiftS: 0.01}
			whole, half := v.Run(Standard, luck), v.timed(Standard, luck, 2, nil)
			worst := 0.
			for m := range markM {
				worst = max(worst, math.Abs(whole.ET[m]-half.ET[m]))
			}
			moved = append(moved, worst)
			if !(worst < 0.001) {
				t.Errorf("limit %d, vehicle %d: %v, in half steps %v", l, seed, whole.ET, half.ET)
			}
		}
		slices.Sort(moved)
		n := len(moved)
		t.Logf(
			"limit %d: halved steps move it by %.3f, %.3f, %.3f thousandths (median, 90 %%, most)",
			l,
			1e3*moved[n/2],
			1e3*moved[n*9/10],
			1e3*moved[n-1],
		)
		if moved[n*9/10] > 1e-4 {
			t.Errorf("limit %d: nine of ten move by up to %.6f s", l, moved[n*9/10])
		}
	}
}

// What must be, whatever the vehicle: worse luck is slower, a throttle stop costs
// time, a headwind too, a lift takes speed.
func TestRunObeysItsLuck(t *testing.T) {
	for seed := range uint64(24) {
		v := Draw(rand.New(rand.NewPCG(seed, 17)), Limit(seed%4), seed%8 >= 4)
		base := v.Run(Standard, Luck{})
		for name, l := range map[string]Luck{
			"less power":    {Power: -0.05},
			"slow shifts":   {ShiftS: 0.05},
			"a missed gear": {MissS: 0.4},
			"a worse start": {Launch: -0.05},
			"a spin":        {Spin: 0.6, SpinM: 20},
			"a lift":        {LiftM: 300, Left: 0.2},
			"a stop":        {Stop: Stop{On: 0.5, Off: 1.5, Share: 0.3}},
		} {
			if run := v.Run(Standard, l); !(run.ET[4] > base.ET[4]) {
				t.Errorf("vehicle %d, %s: %.4f, without %.4f", seed, name, run.ET[4], base.ET[4])
			}
		}
		wind := Standard
		wind.Headwind = 5
		if run := v.Run(wind, Luck{}); !(run.ET[4] > base.ET[4]) {
			t.Errorf("vehicle %d, a headwind: %.4f, without %.4f", seed, run.ET[4], base.ET[4])
		}
		stuck := v
		stuck.Engine.PeakW /= 1e3
		if run := stuck.Run(Standard, Luck{}); !math.IsNaN(run.ET[4]) {
			t.Errorf("vehicle %d without power: %v", seed, run.ET)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	for l, name := range []string{"tires", "wheelie", "torque", "converter"} {
		var some []Vehicle
		for seed := range uint64(20) {
			some = append(some, Draw(rand.New(rand.NewPCG(seed, 19)), Limit(l), seed%2 == 1))
		}
		b.Run(name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				some[i%len(some)].Run(Standard, Luck{})
			}
		})
	}
}
