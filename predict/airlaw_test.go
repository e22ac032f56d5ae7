package predict

import (
	"math"
	"testing"

	"slipcase/weather"
	"slipcase/weather/units"
)

// SAE J1349 in its own terms, for air of the given dry pressure and temperature:
// cf = 1.18 (99/pd) √(T/298.15) - 0.18.
func j1349(dryKPa, kelvin float64) float64 {
	return 1.18*(99/dryKPa)*math.Sqrt(kelvin/298.15) - 0.18
}

func TestPowerRatioNatural(t *testing.T) {
	near(t, "standard air", PowerRatio(Natural, weather.Standard), 1, 1e-12)
	near(t, "hot air", PowerRatio(Natural, hot), j1349(101.325, 288.15)/1.0154, 2e-4)
	near(t, "blower", math.Log(PowerRatio(Supercharged, hot))/math.Log(PowerRatio(Natural, hot)), 0.95, 1e-9)
}

// A turbo held at a gauge pressure loses ambient/(ambient + boost) of the pressure
// part, and all of the temperature part.
func TestPowerRatioTurbocharged(t *testing.T) {
	thin := weather.Standard
	thin.StationInHg *= 0.999
	slope := func(asp Aspiration) float64 { return math.Log(PowerRatio(asp, thin)) }
	near(t, "pressure part", slope(Turbocharged)/slope(Natural), 14.696/(14.696+12), 1e-3)
	warm := weather.Standard
	warm.TempF = 95
	near(t, "temperature part", PowerRatio(Turbocharged, warm), PowerRatio(Natural, warm), 1e-12)
	damp := weather.Standard
	damp.VapourInHg = 0.5
	near(t, "water part", PowerRatio(Turbocharged, damp), PowerRatio(Natural, damp), 1e-12)
}

// Common practice, no source: bad air is slow, so standard air is quicker.
func TestCorrectDirectionAndSize(t *testing.T) {
	p := Pass{Air: hot, AirKnown: true, Splits: Splits{
		ETs: [Marks]units.Number{
			units.Some(1.912),
			units.Some(5.437),
			units.Some(8.412),
			units.Some(10.980),
			units.Some(13.212),
		},
		MPHs: [Marks]units.Number{At660: units.Some(83.77), At1320: units.Some(105.84)},
	}}
	s, ok := Correct(p)
	if !ok {
		t.Fatal("air is known")
	}
	r := j1349(101.325, 288.15) / 1.0154
	near(t, "ET", s.ETs[At1320].Value(), 13.212*math.Cbrt(r), 1e-3)
	near(t, "MPH", s.MPHs[At1320].Value(), 105.84/math.Cbrt(r), 1e-2)
	near(t, "60 ft", s.ETs[At60].Value(), 1.912, 0)
	if s.ETs[At1320].Value() >= 13.212 || s.MPHs[At1320].Value() <= 105.84 {
		t.Error("bad air was not slow")
	}
	if s.MPHs[At1000].Known() {
		t.Error("a speed was invented")
	}
	p.Splits.ETs[At60] = units.Number{}
	without, _ := Correct(p)
	near(t, "330 ft without a 60 ft time", without.ETs[At330].Value(), s.ETs[At330].Value(), 0)
	if _, ok := Correct(Pass{Splits: p.Splits}); ok {
		t.Error("corrected without air")
	}
}

// At constant power time goes as distance^⅔ (Fox 1973): the seconds gained
// between 60 and 660 ft, shared by time, are this share of 330 ft's own effect.
func TestAirShareAt330(t *testing.T) {
	at := func(ft float64) float64 { return math.Pow(ft, 2./3) }
	gained := (at(330) - at(60)) / (at(660) - at(60)) * at(660)
	near(t, "share", airShare[At330], gained/at(330), 0.005)
}

// At 24.4 inHg, 59 °F and dry, by hand: a wastegate on a spring at 12 psi (24.43 inHg)
// leaves (24.4 + 24.43)/(29.92 + 24.43) = 0.8984 of the pressure, at 20 psi (40.72)
// 0.9219; one on a sensor leaves all. The power by J1349's shape from standard air (101.32
// kPa, 288.15 K: the factor k = 1.18 (99/101.32) √(288.15/298.15) - 0.18 = 0.9535, its
// root part 1.1335): 0.9535/(1.1335/0.8984 - 0.18) = 0.8813, 0.9535/(1.1335/0.9219 - 0.18)
// = 0.9085. A car of 12.65 s that the cube root moves runs 12.65 x 0.8813^-⅓ = 13.19, or
// 12.65.
func TestTurboByWhatItHolds(t *testing.T) {
	high := weather.Air{TempF: 59, StationInHg: 24.4}
	for _, c := range []struct {
		psi  units.Number
		held Hold
		want float64
	}{
		{units.Number{}, "", 0.8813},
		{units.Some(12), HoldsGauge, 0.8813},
		{units.Some(20), HoldsGauge, 0.9085},
		{units.Some(12), HoldsAbsolute, 1},
		{units.Some(12), HoldsRatio, naturalRatio(high)},
	} {
		near(t, string(c.held), Breathing{Turbocharged, c.psi, c.held}.PowerRatio(high), c.want, 5e-4)
	}
	// And so a forecast, before there are runs.
	et := func(held Hold) float64 {
		m := Machine{
			Kind:       Car,
			Aspiration: Turbocharged,
			WeightLb:   units.Some(3450),
			PowerHP:    units.Some(320),
			BoostPsi:   units.Some(12),
			BoostHeld:  held,
		}
		f, err := Expect(nil, Pass{Machine: m, Air: high, AirKnown: true})
		if err != nil {
			t.Fatal(err)
		}
		return f.ETs[At1320].Centre
	}
	if gauge, absolute := et(HoldsGauge), et(HoldsAbsolute); gauge-absolute < 0.35 || gauge-absolute > 0.65 {
		t.Errorf("held at gauge %.2f, absolute %.2f", gauge, absolute)
	}
}
