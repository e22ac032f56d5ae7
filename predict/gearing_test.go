package predict

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The derivation, step by step in SI, with the inch and the mile of NIST SP 811
// (0.0254 m, 1609.344 m): turns a second of the wheel times its circumference.
func TestGearingDerivation(t *testing.T) {
	g := Gearing{TyreIn: 28, Ratio: 4.10, Slip: 0.05}
	wheelTurnsPerSecond := 6500. / 60 * (1 - 0.05) / 4.10
	metresPerSecond := wheelTurnsPerSecond * math.Pi * 28 * 0.0254
	want := metresPerSecond * 3600 / 1609.344
	if got := g.MPH(6500); math.Abs(got-want) > 1e-9 {
		t.Errorf("6,500 rpm is %v mph, want %v", got, want)
	}
	// The trade's rule has 336 (common practice, no source).
	if rule := 6500 * 0.95 * 28 / (336 * 4.10); math.Abs(g.MPH(6500)/rule-1) > 5e-4 {
		t.Errorf("%v mph, the rule of 336 says %v", g.MPH(6500), rule)
	}
}

func TestGearingInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Gearing{
			TyreIn: rapid.Float64Range(20, 36).Draw(t, "tyre"),
			Ratio:  rapid.Float64Range(2, 12).Draw(t, "ratio"),
			Slip:   rapid.Float64Range(0, 0.2).Draw(t, "slip"),
		}
		rpm := rapid.Float64Range(3000, 12000).Draw(t, "rpm")
		mph := g.MPH(rpm)
		for what, pair := range map[string][2]float64{
			"rpm":   {g.RPM(mph), rpm},
			"ratio": {g.RatioFor(rpm, mph), g.Ratio},
			"tyre":  {g.TyreFor(rpm, mph), g.TyreIn},
			"slip":  {1 + g.SlipFrom(rpm, mph), 1 + g.Slip},
		} {
			if math.Abs(pair[0]/pair[1]-1) > 1e-12 {
				t.Fatalf("%s comes back as %v, was %v", what, pair[0], pair[1])
			}
		}
	})
}

func TestCheckGearing(t *testing.T) {
	for _, c := range []struct {
		rpm, mph, tyre, ratio, slip float64
		ok                          bool
	}{
		{6500, 105, 28, 4.1, 0.05, true},
		{0, 105, 28, 4.1, 0, true},
		{650, 105, 28, 4.1, 0, false},
		{6500, math.NaN(), 28, 4.1, 0, false},
		{6500, 105, 280, 4.1, 0, false},
		{6500, 105, 28, 41, 0, false},
		{6500, 105, 28, 4.1, 0.6, false},
	} {
		if err := CheckGearing(c.rpm, c.mph, c.tyre, c.ratio, c.slip); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
