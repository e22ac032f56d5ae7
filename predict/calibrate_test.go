package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

func slipOf(t Timing) (s Splits) {
	for m := range Marks {
		s.ETs[m] = units.Some(t.ET[m])
		if m > At330 {
			s.MPHs[m] = units.Some(t.MPH[m])
		}
	}
	return s
}

// A slip that the model itself printed gives back its power and grip, and leaves
// nothing over.
func TestCalibrateFindsPowerAndGrip(t *testing.T) {
	for i, want := range threeCars {
		timing, err := want.Run(1.2, 0)
		if err != nil {
			t.Fatal(err)
		}
		start := want
		start.PowerHP *= 1.3
		start.GripG *= 0.85
		c, err := Calibrate(start, slipOf(timing), 1.2, 0)
		if err != nil {
			t.Fatal(err)
		}
		// The loose belief in the start pulls by less than a tenth of the doubt.
		if d := math.Abs(math.Log(c.Model.PowerHP / want.PowerHP)); d > 0.1*c.PowerDoubt {
			t.Errorf("car %d: power %.1f, want %.1f ± %.1f %%", i, c.Model.PowerHP, want.PowerHP, 100*c.PowerDoubt)
		}
		if d := math.Abs(math.Log(c.Model.GripG / want.GripG)); d > 0.15*c.GripDoubt {
			t.Errorf("car %d: grip %.4f, want %.4f ± %.1f %%", i, c.Model.GripG, want.GripG, 100*c.GripDoubt)
		}
		if left := c.Leftover.ETs[At1320].Value(); math.Abs(left) > 0.003 {
			t.Errorf("car %d: %.4f s left over", i, left)
		}
		if c.PowerDoubt < 0.005 || c.PowerDoubt > 0.05 || c.GripDoubt < 0.01 || c.GripDoubt > 0.15 {
			t.Errorf("car %d: doubts %.4f and %.4f", i, c.PowerDoubt, c.GripDoubt)
		}
	}
}

// Less of a slip tells less, and still counts.
func TestCalibrateFromPartOfASlip(t *testing.T) {
	timing, err := threeCars[0].Run(1.2, 0)
	if err != nil {
		t.Fatal(err)
	}
	whole := slipOf(timing)
	start := threeCars[0]
	start.PowerHP *= 1.1
	last := 0.
	for _, c := range []struct {
		name  string
		keep  []Mark
		speed bool
	}{
		{"whole", []Mark{At60, At330, At660, At1000, At1320}, true},
		{"quarter and speed", []Mark{At1320}, true},
		{"quarter alone", []Mark{At1320}, false},
	} {
		var s Splits
		for _, m := range c.keep {
			s.ETs[m] = whole.ETs[m]
			if c.speed {
				s.MPHs[m] = whole.MPHs[m]
			}
		}
		got, err := Calibrate(start, s, 1.2, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got.PowerDoubt <= last {
			t.Errorf("%s: power doubt %.4f, more of the slip gave %.4f", c.name, got.PowerDoubt, last)
		}
		if d := math.Abs(math.Log(got.Model.PowerHP / threeCars[0].PowerHP)); d > 2*got.PowerDoubt {
			t.Errorf("%s: power off by %.1f %%, doubt %.1f %%", c.name, 100*d, 100*got.PowerDoubt)
		}
		last = got.PowerDoubt
	}
	if _, err := Calibrate(start, Splits{}, 1.2, 0); err == nil {
		t.Error("an empty slip was fitted")
	}
}
