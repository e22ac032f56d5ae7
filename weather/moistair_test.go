package weather

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

func TestMoistAirDensity(t *testing.T) {
	const twoPrograms = "CIPM-2007 as two independent programs compute it"
	for _, c := range []struct {
		pPa, celsius, rh, want, tolerance float64
		source                            string
	}{
		{101325, 20, 50, 1.19931, 5e-6, twoPrograms},
		{101325, 15, 0, 1.22552, 5e-6, twoPrograms},
		{100000, 25, 60, 1.16043, 5e-6, twoPrograms},
		{85000, 35, 40, 0.95153, 5e-6, twoPrograms},
		{70000, 10, 90, 0.85639, 5e-6, twoPrograms},
	} {
		a := moist(t, c.pPa, c.celsius, c.rh)
		near(t, "density", a.DensityKgM3(), c.want, c.tolerance, c.source)

		// The ideal-gas mixture, with the gas constants of the same molar masses.
		const dry, water = molarGas / molarDryAir, molarGas / molarWater
		ideal := ((a.pressurePa()-a.vapourPa())/dry + a.vapourPa()/water) / a.kelvin()
		if off := 1 - ideal/a.DensityKgM3(); off < 0.0002 || off > 0.0006 {
			t.Errorf("ideal gas is %.4f %% lower at %v, want 0.02 to 0.06 %% (size of Z in CIPM-2007)", 100*off, c)
		}
	}
	near(t, "vapour pressure, Pa", moist(t, 101325, 20, 50).vapourPa(), 1174.3, 0.05, twoPrograms)
}

func TestSaturation(t *testing.T) {
	const ashrae3 = "ASHRAE Handbook Fundamentals 2017, ch. 1, table 3"
	const smithsonian = "Smithsonian Meteorological Tables, 6th ed., table 94 (from memory)"
	for _, c := range []struct {
		celsius, wantPa, relative float64
		source                    string
	}{
		{5, 0.12656 * units.PascalPerPsi, 3e-4, ashrae3},
		{25, 0.45973 * units.PascalPerPsi, 3e-4, ashrae3},
		{50, 1.79140 * units.PascalPerPsi, 3e-4, ashrae3},
		{0, 610.78, 1e-3, smithsonian},
		{-10, 286.27, 1.5e-3, smithsonian + ", over supercooled water"},
		{-20, 125.40, 1.5e-3, smithsonian + ", over supercooled water"},
	} {
		near(t, "saturation pressure, Pa", saturationPa(c.celsius+zeroCelsius), c.wantPa, c.wantPa*c.relative, c.source)
	}
}

func TestDryAirVolume(t *testing.T) {
	const ft3 = 0.3048 * 0.3048 * 0.3048
	a := moist(t, 14.696*units.PascalPerPsi, 25, 0)
	near(
		t,
		"ft³/lb of dry air",
		units.KgPerLb/ft3/a.DensityKgM3(),
		13.5251,
		1e-3*13.5251,
		"ASHRAE Handbook Fundamentals 2017, ch. 1, table 2, 77 °F",
	)
	near(t, "dry density against density, dry", a.DryDensityKgM3(), a.DensityKgM3(), 1e-12, "no water, no difference")
}

// The largest differences seen: density 6.8e-4, humidity ratio 2.8e-5, dew point
// 0.013 °C, wet bulb 0.019 °C, vapour pressure 4.9e-3.
func TestAgainstPsychrolib(t *testing.T) {
	const file = "../testdata/psychrolib/states.csv"
	var worst struct{ vapour, ratio, density, dry, dew, wet float64 }
	most := func(w *float64, got, want float64) { *w = math.Max(*w, math.Abs(got-want)) }
	rows := table(t, file)
	for _, row := range rows {
		value := func(column string) float64 { return float(t, row[column]) }
		p, c := value("pressure_pa"), value("temp_c")
		state := Air{ // the very water of that state
			TempF: c*1.8 + 32, StationInHg: p / units.PascalPerInHg, VapourInHg: value("vapour_pa") / units.PascalPerInHg,
		}
		most(&worst.density, state.DensityKgM3()/value("density_kg_m3"), 1)
		most(&worst.dry, state.DryDensityKgM3()/value("dry_density_kg_m3"), 1)
		most(&worst.ratio, state.GrainsPerLb()/7000/value("humidity_ratio"), 1)
		if c <= 0.01 || value("dew_point_c") <= 0.01 || value("wet_bulb_c") <= 0.01 {
			continue // over ice there, over liquid water here
		}
		// From the same relative humidity, as an instrument gives it.
		fromRH := moist(t, p, c, value("rh_pct"))
		most(&worst.dew, celsius(fromRH.DewPointF().Value()), value("dew_point_c"))
		most(&worst.wet, celsius(fromRH.WetBulbF()), value("wet_bulb_c"))
		most(&worst.vapour, fromRH.vapourPa()/value("vapour_pa"), 1)
	}
	if len(rows) != 60 {
		t.Errorf("%d states in %s, want 60", len(rows), file)
	}
	t.Logf("largest differences: %+v", worst)
	for _, c := range []struct {
		what         string
		got, allowed float64
	}{
		{"density, relative (the ideal gas is lighter, most when cold)", worst.density, 8e-4},
		{"density of the dry air, relative", worst.dry, 8e-4},
		{"humidity ratio, relative", worst.ratio, 1e-4},
		{"dew point, °C", worst.dew, 0.02},
		{"wet bulb, °C", worst.wet, 0.03},
		{"vapour pressure from RH, relative (no enhancement factor there)", worst.vapour, 6e-3},
	} {
		if c.got > c.allowed {
			t.Errorf("%s differs by %.3g, allowed %.3g", c.what, c.got, c.allowed)
		}
	}
}

func BenchmarkAirOfOneReading(b *testing.B) {
	r := Reading{TempF: units.Some(88), RHPct: units.Some(42), StationInHg: units.Some(28.94)}
	var sum float64
	for b.Loop() {
		a, _, err := r.Air(units.Some(812))
		if err != nil {
			b.Fatal(err)
		}
		sum += a.DensityAltitudeFt() + a.SAEJ1349() + a.GrainsPerLb() + a.DewPointF().Value() + a.WetBulbF()
	}
	if sum == 0 {
		b.Fatal("no air")
	}
}
