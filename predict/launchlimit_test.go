package predict

import (
	"fmt"
	"math"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// leaving are runs of a car whose launch takes a share of its power, 0 or 1: five days
// from 29.9 to 27.4 inHg, two runs each. A launch of constant force gives t ∝ F^-½, the
// rest of constant power (t ∝ P^-⅓, v ∝ P^⅓); the runs scatter by 4 thousandths.
func leaving(share float64) (runs []Pass) {
	p := Pass{
		Machine:  Machine{Kind: Car, Drive: RearDrive, Setup: "now", WeightLb: units.Some(3200), PowerHP: units.Some(330)},
		AirKnown: true,
	}
	for day := range 5 {
		for round := range 2 {
			p.Day = fmt.Sprint("day ", day)
			p.Time = time.Date(2026, 5, 1+day, 12+round, 0, 0, 0, time.UTC)
			p.Air = weather.Air{TempF: 59, StationInHg: 29.92 - 0.6*float64(day)}
			ratio := PowerRatio(Natural, p.Air)
			luck := 0.004 * float64(2*(round+day)%3-1)
			sixty := 1.80*math.Pow(ratio, -share/2) + luck
			p.Splits = Splits{}
			p.Splits.ETs[At60] = units.Some(sixty)
			p.Splits.ETs[At660] = units.Some(sixty + 6.05*math.Pow(ratio, -1./3))
			p.Splits.ETs[At1320] = units.Some(sixty + 10.5*math.Pow(ratio, -1./3))
			p.Splits.MPHs[At1320] = units.Some(110 * math.Cbrt(ratio))
			runs = append(runs, p)
		}
	}
	return runs
}

// What the runs say of the launch moves what is believed of it: one that takes the power
// is held back by the engine, one that takes none of it by tires or front wheel.
func TestRunsTellTheLimit(t *testing.T) {
	engine := func(runs []Pass) float64 {
		now := runs[0]
		now.Time, now.Day = now.Time.AddDate(0, 1, 0), "now"
		p, err := NewProspect(runs, now)
		if err != nil {
			t.Fatal(err)
		}
		l := p.car.launch
		sum := 0.
		for _, chance := range l {
			sum += chance
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("%v sums to %v", l, sum)
		}
		return l[ByTorque] + l[ByConverter]
	}
	untold := engine(leaving(0)[:4])
	grips, pulls := engine(leaving(0)), engine(leaving(1))
	if grips > 0.5*untold || grips > 0.1 || pulls < 0.8 {
		t.Errorf(
			"held back by the engine: %.2f before runs tell, %.2f where the launch takes no power, %.2f where all",
			untold,
			grips,
			pulls,
		)
	}
}

// By the limits' meaning: more grip does nothing to a launch that front wheel, torque or
// converter hold back, and something, doubted, where it may be the tires; more power
// and less weight make a launch by torque harder, one by the tires hardly.
func TestWhatALaunchTakes(t *testing.T) {
	p := drag(t)
	sixty := func(limit LaunchLimit, c Change) Range {
		p.car.launch = only(limit)
		var err error
		if p.logs, err = p.run(p.car); err != nil {
			t.Fatal(err)
		}
		u, err := p.Try(c)
		if err != nil {
			t.Fatal(err)
		}
		return u.ETGain[At60]
	}
	grip, power, weight := Change{Grip: Exactly(0.1)}, Change{Gain: Exactly(0.1)}, Change{WeightLb: Exactly(-300)}
	for limit, most := range map[LaunchLimit]float64{ByWheelie: 0.005, ByTorque: 0.005, ByConverter: 0.005} {
		if g := sixty(limit, grip); g.Likely < -most || g.Likely > 0 {
			t.Errorf("limit %d: grip gives %v", limit, g)
		}
	}
	if g := sixty(ByTires, grip); g.Likely > -0.02 || g.High > 0 || g.High-g.Low < 0.02 {
		t.Errorf("tires: grip gives %v", g)
	}
	// t ∝ F^-½ of a launch by torque alone: 10 % are 0.047 of 1.8 s.
	for what, c := range map[string]Change{"power": power, "weight": weight} {
		if torque, tires := sixty(ByTorque, c).Likely, sixty(ByTires, c).Likely; torque > -0.05 || torque < -0.10 ||
			math.Abs(tires) > 0.015 {
			t.Errorf("%s: by torque %.3f, by tires %.3f", what, torque, tires)
		}
	}
	if conv, torque := sixty(ByConverter, power).Likely, sixty(ByTorque, power).Likely; conv > torque {
		t.Errorf("converter %.3f, torque %.3f: its stall rises with the power", conv, torque)
	}
	// All carried: the range spans the parts.
	p.car.launch = Limits{ByTires: 0.5, ByTorque: 0.5}
	p.logs, _ = p.run(p.car)
	u, err := p.Try(power)
	torque, tires := sixty(ByTorque, power).Likely, sixty(ByTires, power).Likely
	if err != nil || u.ETGain[At60].Low > torque || u.ETGain[At60].High < tires {
		t.Errorf("%v, %v holds %.3f and %.3f", u.ETGain[At60], err, torque, tires)
	}
}

// Tires hold a part of the launch and the engine the rest: the more of it the runs show to
// follow the power, the more a change of power or weight brings, and the less one of grip.
func TestRunsTellTheShare(t *testing.T) {
	sixty := func(share float64, c Change) float64 {
		runs := leaving(share)
		now := runs[0]
		now.Time, now.Day = now.Time.AddDate(0, 1, 0), "now"
		p, err := NewProspect(runs, now)
		if err != nil {
			t.Fatal(err)
		}
		p.car.launch = only(ByTires)
		if p.logs, err = p.run(p.car); err != nil {
			t.Fatal(err)
		}
		u, err := p.Try(c)
		if err != nil {
			t.Fatal(err)
		}
		return u.ETGain[At60].Likely
	}
	for what, c := range map[string]Change{
		"power": {Gain: Exactly(0.2)}, "weight": {WeightLb: Exactly(-300)}, "grip": {Grip: Exactly(0.1)},
	} {
		none, half := sixty(0, c), sixty(0.5, c)
		more := none - half
		if what == "grip" {
			more = -more
		}
		if more < 0.002 {
			t.Errorf("%s: %.4f s of a launch that takes no power, %.4f of one that takes half", what, none, half)
		}
	}
}

// A motorcycle has no converter, wheels that pull do not lift.
func TestLimitsThatCannotBe(t *testing.T) {
	bike, front := bare(t, Machine{Kind: Motorcycle}), bare(t, Machine{Kind: Car, Drive: FrontDrive})
	if bike.car.launch[ByConverter] != 0 || front.car.launch[ByWheelie] != 0 {
		t.Errorf("motorcycle %v, front drive %v", bike.car.launch, front.car.launch)
	}
}

// The launch for a 60 ft time, tried, runs it, whatever is changed beside it.
func TestLaunchForSixty(t *testing.T) {
	p := drag(t)
	for _, beside := range []Change{
		{}, {Gain: Exactly(0.16)}, {Gain: Range{0.1, 0.16, 0.2}, WeightLb: Exactly(-150), Launch: Exactly(-0.05)},
	} {
		for _, by := range []float64{-0.1, -0.02, 0, 0.05} {
			want := p.Before.ETs[At60].Centre + by
			launch, err := p.LaunchFor(want, beside)
			if err != nil {
				t.Fatal(err)
			}
			u, err := p.Try(beside.With(Change{Launch: Exactly(launch)}))
			if ran := p.Before.ETs[At60].Centre + u.ETGain[At60].Likely; err != nil || math.Abs(ran-want) > 2e-4 {
				t.Errorf("%+v: %.3f: %v, %v", beside, want, ran, err)
			}
		}
	}
	if x, err := p.LaunchFor(0.5, Change{}); err == nil {
		t.Errorf("60 ft in 0.5 s takes %v", x)
	}
}
