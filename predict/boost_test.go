package predict

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather"
)

// Y. A. Çengel, M. A. Boles, Thermodynamics: An Engineering Approach, ch. 7, the
// worked compressor (from memory, recomputed): air from 100 kPa and 12 °C to 800
// kPa, 0.2 kg/s, isentropic efficiency 80 %: 569.5 K behind it, 58.0 kW. Its
// tables let the specific heat grow; a constant one is 1 % high.
func TestCompressorExample(t *testing.T) {
	const t1, flow = 285.15, 0.2
	hot := t1 * rise(8, 0.80)
	if got := t1 + hot; math.Abs(got/569.5-1) > 0.01 {
		t.Errorf("%.1f K behind the compressor, want 569.5", got)
	}
	if kW := flow * airCp * hot / 1000; math.Abs(kW/58.0-1) > 0.01 {
		t.Errorf("%.1f kW, want 58.0", kW)
	}
}

// The limits of the ideal gas: without loss ρ = r^(1/γ) (isentropic), all heat
// taken out again ρ = r (isothermal); no boost changes nothing.
func TestDensityLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1, 4).Draw(t, "ratio")
		e := rapid.Float64Range(0.3, 0.9).Draw(t, "efficiency")
		if got, want := chargeDensity(r, 1, 0), math.Pow(r, 1/airGamma); math.Abs(got/want-1) > 1e-12 {
			t.Fatalf("isentropic: %v, want %v", got, want)
		}
		if got := chargeDensity(r, e, 1); math.Abs(got/r-1) > 1e-12 {
			t.Fatalf("isothermal: %v, want %v", got, r)
		}
		if got := chargeDensity(1, e, 0); got != 1 {
			t.Fatalf("no boost: %v", got)
		}
		if chargeDensity(r, e, 0) > chargeDensity(r, 1, 0)+1e-12 || chargeDensity(r, e, 0.5) < chargeDensity(r, e, 0) {
			t.Fatalf("losses make air denser, or cooling thinner, at %v, %v", r, e)
		}
	})
}

// Common practice, no source: 6 psi at sea level and 50 to 60 % make 1.17 to 1.20
// of density.
func TestRootsAtSixPsi(t *testing.T) {
	c, err := Boost{Psi: 6, Blower: Roots}.In(weather.Standard)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(c.Density.Low-1.17) > 0.005 || math.Abs(c.Density.High-1.20) > 0.005 {
		t.Errorf("density %v, want 1.17 to 1.20", c.Density)
	}
	if c.Power.Likely >= c.BeforeDrive || c.BeforeDrive >= c.PressureRatio || c.Power.Low >= c.Power.Likely ||
		c.Power.High <= c.Power.Likely ||
		c.DriveShare < 0.03 {
		t.Errorf("power %v, drive %v: the blower drives itself", c.Power, c.DriveShare)
	}
	// 220 to 330 hp at the wheels with such a blower and a bigger carburettor.
	if said := c.Explains(330. / 220); said.Share >= 1 {
		t.Errorf("%+v", said)
	}
	if said := c.Explains(1.15); said.Share != 1 {
		t.Errorf("%+v", said)
	}
}

// A mile high (24.9 inHg): a blower keeps its ratio and so loses boost, a gauge
// wastegate keeps its boost, an absolute one makes it up.
func TestBoostAtAltitude(t *testing.T) {
	high := weather.Air{TempF: 59, StationInHg: 24.9}
	for _, c := range []struct {
		b    Boost
		want float64 // psi
	}{
		{Boost{Psi: 6, Blower: Roots}, 6 * 24.9 / 29.92},
		{Boost{Psi: 6, Blower: Turbo, Hold: HoldsGauge}, 6},
		{Boost{Psi: 6, Blower: Turbo, Hold: HoldsAbsolute}, 6 + (29.92-24.9)*0.49115}, // psi an inHg: NIST SP 811
	} {
		got, err := c.b.In(high)
		if err != nil || math.Abs(got.GaugePsi-c.want) > 0.01 {
			t.Errorf("%s held at %s: %.3f psi, %v; want %.3f", c.b.Blower, c.b.Hold, got.GaugePsi, err, c.want)
		}
	}
}

func TestAfterPulley(t *testing.T) {
	for _, blower := range []Blower{Roots, Screw, Centrifugal} {
		b := Boost{Psi: 6, Blower: blower}
		same, err := b.AfterPulley(1)
		if err != nil || math.Abs(same.Psi-6) > 1e-6 {
			t.Errorf("%s at the same speed: %v psi, %v", blower, same.Psi, err)
		}
		faster, err := b.AfterPulley(1.1)
		if err != nil || faster.Psi <= 6 || faster.Psi > 12 {
			t.Errorf("%s a tenth faster: %v psi, %v", blower, faster.Psi, err)
		}
		back, err := faster.AfterPulley(1 / 1.1)
		if err != nil || math.Abs(back.Psi-6) > 1e-6 {
			t.Errorf("%s there and back: %v psi, %v", blower, back.Psi, err)
		}
		gain, err := Raise(b, faster, weather.Standard)
		if err != nil || gain.Likely <= 1 || gain.Likely > 1.1 || gain.Low >= gain.Likely || gain.High <= gain.Likely {
			t.Errorf("%s a tenth faster gains %v, %v", blower, gain, err)
		}
	}
}

func TestBoostRefuses(t *testing.T) {
	for _, c := range []struct {
		b    Boost
		want string
	}{
		{Boost{Psi: 6, Blower: "pump"}, `blower "pump"`},
		{Boost{Psi: 0, Blower: Roots}, "boost 0 psi"},
		{Boost{Psi: math.NaN(), Blower: Roots}, "boost NaN psi"},
		{Boost{Psi: 6, Blower: Roots, Hold: HoldsGauge}, "keeps its pressure ratio"},
		{Boost{Psi: 6, Blower: Turbo, Efficiency: Range{0.7, 0.6, 0.8}}, "efficiency"},
		{Boost{Psi: 45, Blower: Turbo}, "pressure ratio of 4.06"},
	} {
		if got, err := c.b.In(weather.Standard); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, %v; want %q", c.b, got, err, c.want)
		}
	}
	if _, err := (Boost{Psi: 6, Blower: Turbo}).AfterPulley(1.1); err == nil {
		t.Error("a turbo takes a pulley")
	}
}
