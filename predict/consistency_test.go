package predict

import (
	"math"
	"testing"
)

// The sleep data of Student (Biometrika 6 (1908) 1), in R as `sleep`; the expected
// values are what R 4.2.2 prints: t.test(extra ~ group, sleep) and sd(), and for the
// proportion binom.test(7, 20).
var sleep = [2][]float64{
	{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0},
	{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4},
}

func TestDifferAsWelch(t *testing.T) {
	d, shown := Differ(sleep[0], sleep[1])
	near(t, "difference", d.Value, -1.58, 1e-9)
	near(t, "low", d.Low, -3.3654832, 1e-6)
	near(t, "high", d.High, 0.2054832, 1e-5)
	if shown {
		t.Error("shown, though p is 0.079")
	}
	moved := append([]float64(nil), sleep[1]...)
	for i := range moved {
		moved[i] += 1
	}
	if _, shown := Differ(sleep[0], moved); !shown {
		t.Error("a difference of 2.58 is not shown")
	}
	if _, shown := Differ(sleep[0], sleep[1][:1]); shown {
		t.Error("one value shows a difference")
	}
}

func TestShareAsClopperPearson(t *testing.T) {
	f := Share(7, 20)
	near(t, "low", f.Low, 0.1539092, 1e-6)
	near(t, "high", f.High, 0.5921885, 1e-6)
	// The rule of three: none of n is at most about 3.69/n (1 - 0.025^(1/n)).
	f = Share(0, 30)
	near(t, "none of 30", f.High, 1-math.Pow(0.025, 1./30), 1e-9)
}

// Quantiles of chi-squared with 9 degrees of freedom: 2.700 and 19.023 (any table);
// the 2nd and 9th of 10 ordered values bound the median with 97.9 %.
func TestSteady(t *testing.T) {
	s, err := NewSteady(sleep[0])
	if err != nil {
		t.Fatal(err)
	}
	near(t, "median", s.Median.Value, 0.35, 1e-9)
	near(t, "low", s.Median.Low, -1.2, 1e-9)
	near(t, "high", s.Median.High, 3.4, 1e-9)
	near(t, "sd", s.SD.Value, 1.789010, 1e-6)
	near(t, "sd low", s.SD.Low, 1.789010*math.Sqrt(9/19.023), 1e-4)
	near(t, "sd high", s.SD.High, 1.789010*math.Sqrt(9/2.700), 1e-3)
	if s, err := NewSteady([]float64{1}); err != nil || !math.IsInf(s.Median.High, 1) || !math.IsNaN(s.SD.Value) {
		t.Errorf("one value: %+v, %v", s, err)
	}
	if _, err := NewSteady(nil); err == nil {
		t.Error("no values describe a sample")
	}
}

// The second slope and its interval as R 4.2.2's confint(lm(y ~ x)) gives them.
func TestSlope(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5, 6}
	f, shown := Slope(x, []float64{2, 4, 6, 8, 10, 12})
	if !shown || math.Abs(f.Value-2) > 1e-9 {
		t.Errorf("a line: %+v, %t", f, shown)
	}
	f, _ = Slope(x, []float64{1, 3, 2, 5, 4, 6})
	near(t, "slope", f.Value, 0.885714286, 1e-8)
	near(t, "low", f.Low, 0.241258667, 1e-7)
	near(t, "high", f.High, 1.530169904, 1e-7)
	if _, shown := Slope([]float64{4000, 4000, 4000, 4000}, []float64{1, 2, 3, 4}); shown {
		t.Error("a slope without any change of x")
	}
}
