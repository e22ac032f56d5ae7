package powertrain

import (
	"math"
	"testing"
)

// An engine without boost follows SAE J1349 (observed power over that in the
// standard's air is 1/(1.18 (99/pd) √(T/298) - 0.18)) within half a percent over the
// standard's own limits of application, with the friction that the standard assumes.
func TestNaturalPowerFollowsJ1349(t *testing.T) {
	e := bare().Engine
	e.Friction = 0.18 // at the speed of peak power
	power := func(a Air) float64 { return e.torque(e.PeakRate, e.Breathing.charge(a), 1) }
	reference := Air{Kelvin: 298.15, DryPa: 99e3}
	for _, a := range []Air{
		{Kelvin: 298.15, DryPa: 93e3},
		{Kelvin: 313.15, DryPa: 97e3, VapourPa: 2e3},
		{Kelvin: 278.15, DryPa: 101e3},
	} {
		want := 1 / (1.18*(99e3/a.DryPa)*math.Sqrt(a.Kelvin/298.15) - 0.18)
		near(t, "power", power(a)/power(reference), want, 0.005)
	}
}

// Boost, by hand: gauge pressure adds to the ambient's, an absolute one stays, a ratio
// multiplies; at one temperature and without heating of the charge.
func TestBoostHeld(t *testing.T) {
	high := Air{Kelvin: 288.15, DryPa: 80e3}
	b := Breathing{BoostPa: 60e3, Efficiency: 0.7, Intercooler: 1, PressureLaw: 1, TemperatureE: 0.5}
	for hold, want := range map[Hold]float64{
		Unboosted: 80e3 / 101325.,
		Ratio:     80e3 / 101325.,
		Gauge:     140e3 / 161325.,
		Absolute:  1,
	} {
		b.Hold = hold
		near(t, "charge", b.charge(high), want, 1e-9)
	}
	// Uncooled, the compressor heats: T2/T1 = 1 + (r^(0.4/1.4) - 1)/η.
	b.Hold, b.Intercooler = Absolute, 0
	heat := func(r float64) float64 { return 1 + (math.Pow(r, 2./7)-1)/0.7 }
	near(t, "heated charge", b.charge(high), math.Sqrt(heat(161325./101325)/heat(161325./80e3)), 1e-9)
}

// Dry air of 20 °C and 101325 Pa weighs 1.2041 kg/m³; half saturated (vapour 1169 Pa)
// 1.1988 (ASHRAE Fundamentals by psychrolib, as in testdata: 1.1989).
func TestDensity(t *testing.T) {
	near(t, "dry", Air{Kelvin: 293.15, DryPa: 101325}.Density(), 1.2041, 5e-4)
	near(t, "moist", Air{Kelvin: 293.15, DryPa: 101325 - 1169, VapourPa: 1169}.Density(), 1.1989, 5e-4)
}

// The curve of any engine has its power peak at PeakRate and its torque peak below.
func TestTorqueCurve(t *testing.T) {
	e := bare().Engine
	for _, peak := range []float64{0.55, 0.7, 0.85} {
		e.TorquePeak, e.Rise, e.Friction = peak, 0.8, 0.15
		power := func(u float64) float64 { return u * e.torque(u*e.PeakRate, 1, 1) }
		near(t, "peak power", power(1)*e.PeakRate, e.PeakW, 1e-6)
		if power(1) < power(0.99) || power(1) < power(1.01) {
			t.Errorf("torque peak at %.2f: power %g, %g, %g about its peak", peak, power(0.99), power(1), power(1.01))
		}
		if e.torque(peak*e.PeakRate, 1, 1) < e.torque((peak+0.02)*e.PeakRate, 1, 1) {
			t.Errorf("torque does not peak at %.2f", peak)
		}
	}
}
