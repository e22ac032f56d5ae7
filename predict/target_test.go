package predict

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/weather"
	"slipcase/weather/units"
)

func drag(t *testing.T) *Prospect {
	p, err := NewProspect(nil, Pass{
		Machine: Machine{
			Kind: Car, Aspiration: Natural, Setup: "now",
			WeightLb: units.Some(3450), PowerHP: units.Some(312), PowerAt: AtWheels, Standard: SAE,
		},
		Air: weather.Standard, AirKnown: true,
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What a target asks for, tried, runs the target: power alone, weight alone, and
// every mix.
func TestReachRunsTheTarget(t *testing.T) {
	t.Parallel()
	p := drag(t)
	today := p.Before.ETs[At1320].Centre
	want := today - 0.4
	got, err := p.Reach(At1320, want)
	if err != nil || got.Gain == nil || got.OffLb == nil || len(got.Mix) != 3 || got.First60S != nil {
		t.Fatalf("%+v, %v", got, err)
	}
	ways := append(got.Mix, MixedWay{0, *got.Gain}, MixedWay{OffLb: got.OffLb.Likely})
	for _, w := range ways {
		u, err := p.Try(Change{Gain: Exactly(w.Gain.Likely), WeightLb: Exactly(-w.OffLb)})
		if err != nil || math.Abs(u.ETs[At1320].Centre-want) > 1e-4 {
			t.Errorf("%+v runs %v, %v; want %v", w, u.ETs[At1320].Centre, err, want)
		}
	}
	for _, r := range []*Range{got.Gain, got.OffLb} {
		if !(r.Low < r.Likely && r.Likely < r.High) {
			t.Errorf("interval %v", *r)
		}
	}
	more, err := p.Reach(At1320, want-0.2)
	if err != nil || more.Gain.Likely <= got.Gain.Likely || more.NextTen.Likely >= got.NextTen.Likely {
		t.Errorf("a quicker target asks %+v, %v, the slower one %+v", more, err, got)
	}
}

// A fifth and more off today's time is more than twice the power can do whatever limits the
// launch: the cube root, which has none, makes 2^-⅓ = 0.794 of it.
func TestReachSaysWhenGripForbids(t *testing.T) {
	t.Parallel()
	p := drag(t)
	got, err := p.Reach(At1320, 0.78*p.Before.ETs[At1320].Centre)
	if err != nil || got.Gain != nil || got.First60S == nil || got.First60S.Likely >= got.Today60S ||
		!(got.First60S.Low < got.First60S.Likely && got.First60S.Likely < got.First60S.High) {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestReachRefuses(t *testing.T) {
	p := drag(t)
	for _, c := range []struct {
		et   float64
		want string
	}{{20, "slower than today's"}, {0, "above 0"}, {math.NaN(), "above 0"}, {-11, "above 0"}, {4, "another vehicle"}} {
		if got, err := p.Reach(At1320, c.et); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %+v, %v; want %q", c.et, got, err, c.want)
		}
	}
}

// One run is the normal law of the forecast itself; ten are never less likely, and
// at most ten times as likely.
func TestChance(t *testing.T) {
	p := drag(t)
	c := timeAt[At1320]
	for _, z := range []float64{-2, -1, 0, 1} {
		et := math.Exp(p.Before.law.mean[c] + z*math.Sqrt(p.Before.law.cov[c][c]))
		between := p.chance(At1320, et, 10)
		one, ten := p.chance(At1320, et, 1).Likely, between.Likely
		if want := distuv.UnitNormal.CDF(z); math.Abs(one-want) > 0.001 {
			t.Errorf("one run at %g standard deviations: %.4f, want %.4f", z, one, want)
		}
		if ten < one || ten > 10*one {
			t.Errorf("ten runs at %g: %.4f, one %.4f", z, ten, one)
		}
		if !(between.Low <= ten && ten <= between.High && between.Low < between.High) {
			t.Errorf("ten runs at %g: %v is no interval", z, between)
		}
	}
}
