package predict

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A launch moved for a chance of red is red that often: 20,000 drivers of whom five
// reactions are known, each launched once more.
func TestShiftForRed(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for _, want := range []float64{0.02, 0.10} {
		red := 0
		drivers := sized(20_000, 5_000)
		for range drivers {
			mean, sd := 0.05*r.NormFloat64(), 0.01+0.02*r.Float64()
			seen := make([]float64, 5)
			for i := range seen {
				seen[i] = mean + sd*r.NormFloat64()
			}
			l, err := NewLaunch(seen)
			if err != nil {
				t.Fatal(err)
			}
			shift, err := l.ShiftFor(want)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "red after the shift", l.Red(shift), want, 1e-6)
			if mean+sd*r.NormFloat64()+shift < 0 {
				red++
			}
		}
		if got := float64(red) / float64(drivers); math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/float64(drivers)) {
			t.Errorf("red %.4f of the time, wanted %.4f", got, want)
		}
	}
	if _, err := NewLaunch([]float64{0.1, 0.2}); err == nil {
		t.Error("two reactions make a launch")
	}
	l, _ := NewLaunch([]float64{0.1, 0.2, 0.3})
	if _, err := l.ShiftFor(0); err == nil {
		t.Error("never red can be had")
	}
}

func TestShiftToAReaction(t *testing.T) {
	l, err := NewLaunch([]float64{0.041, 0.052, 0.030})
	if err != nil {
		t.Fatal(err)
	}
	shift := l.ShiftTo(0.020)
	near(t, "shift", shift, 0.020-0.041, 1e-12) // the mean of the three is 0.041
	near(t, "mean then", l.Mean(shift), 0.020, 1e-12)
	if l.Red(shift) <= l.Red(0) {
		t.Error("an earlier launch is not red more often")
	}
}

// Only the latest thirty are looked at, and of these not those of a driver who slept.
func TestUsualReaction(t *testing.T) {
	late := []float64{0.040, 0.050, 0.060, 0.040, 0.060}
	s, ok := UsualReaction(append([]float64{0.9}, late...))
	near(t, "mean", s.Mean, 0.050, 1e-12)
	near(t, "sd", s.SD, 0.010, 1e-12) // squares 1, 0, 1, 1, 1 hundredths over 4
	if !ok {
		t.Error("five tell nothing")
	}
	var old []float64
	for range 50 {
		old = append(old, 0.200)
	}
	for range 6 {
		old = append(old, late...)
	}
	if s, _ := UsualReaction(old); math.Abs(s.Mean-0.050) > 1e-12 {
		t.Errorf("mean %.3f, the old ones count", s.Mean)
	}
	if _, ok := UsualReaction(late[:4]); ok {
		t.Error("four tell a law")
	}
}

// Slips print thousandths: less than half of one is what arithmetic leaves of a perfect
// light.
func TestReds(t *testing.T) {
	if n := Reds([]float64{-0.001, 0.499 - 0.5, -1e-17, 0, 0.040}); n != 2 {
		t.Errorf("%d red, want 2", n)
	}
}
