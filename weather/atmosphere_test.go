package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

func TestStandardAtmosphere(t *testing.T) {
	const source = "ISO 2533:1975 and U.S. Standard Atmosphere 1976, tables"
	for _, c := range []struct{ ft, celsius, hPa, density, ratio float64 }{
		{-1000, 16.98, 1050.41, 1.26125, 1.02959},
		{0, 15, 1013.25, 1.225, 1},
		{2000, 11.04, 942.13, 1.15490, 0.94277},
		{5000, 5.09, 843.07, 1.05555, 0.86167},
		{10000, -4.81, 696.82, 0.90464, 0.73848},
	} {
		near(t, "pressure, hPa", standardInHgAt(c.ft)*hPaPerInHg, c.hPa, 0.006, source)
		a := Air{TempF: c.celsius*1.8 + 32, StationInHg: c.hPa / hPaPerInHg}
		near(t, "pressure altitude, ft", a.PressureAltitudeFt(), c.ft, 0.5, source)
		// The tables' gas is ideal and 0.03-0.05 % lighter than CIPM-2007: 15 ft.
		near(t, "density, kg/m³", a.DensityKgM3(), c.density, 5e-4*c.density, source)
		near(t, "density altitude, ft", a.DensityAltitudeFt(), c.ft, 18, source)
		atAltitude := densityAtAltitude(c.ft)
		near(t, "density law, kg/m³", atAltitude, c.density, 6e-6, source)
		near(t, "density ratio", atAltitude/stdDensity, c.ratio, 6e-6, source)
	}
}

// densityAtAltitude is the density law of ISO 2533, written from its gas law
// and not from the inversion under test.
func densityAtAltitude(ft float64) float64 {
	h := ft * units.MetrePerFoot
	return stdPressureAt(h) / (gasConstant * (stdTempK - lapse*h))
}

func TestDensityAltitude(t *testing.T) {
	for _, c := range []struct{ inHg, tempF, rh, want float64 }{
		{29.92, 90, 50, 2266},
		{24.90, 85, 20, 7848},
	} {
		a := moist(t, c.inHg*units.PascalPerInHg, celsius(c.tempF), c.rh)
		near(
			t,
			"density altitude, ft",
			a.DensityAltitudeFt(),
			c.want,
			1,
			"CIPM-2007 density in the ISO 2533 law, computed apart",
		)
	}
	near(
		t,
		"standard air, ft",
		Standard.DensityAltitudeFt(),
		0,
		15,
		"ISO 2533, whose gas is 0.04 % lighter than CIPM-2007",
	)
	// 120 ft per °C: a rule of thumb of pilots (common practice), hence the width.
	hot := moist(t, 101325, 25, 0)
	near(
		t,
		"ft per °C above standard",
		(hot.DensityAltitudeFt()-Standard.DensityAltitudeFt())/10,
		120,
		6,
		"common practice",
	)
}

func TestDensityAltitudeInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAir(t)
		if back := densityAtAltitude(a.DensityAltitudeFt()); math.Abs(
			back-a.DensityKgM3(),
		) > 1e-7 { // the 7 figures of 1.225 and R
			t.Fatalf("%+v: density %v, at its density altitude %v", a, a.DensityKgM3(), back)
		}
		if back := standardInHgAt(a.PressureAltitudeFt()); math.Abs(back-a.StationInHg) > 1e-9 {
			t.Fatalf("%+v: pressure at its pressure altitude %v", a, back)
		}
	})
}

// Water is lighter than air: at the same pressure and temperature, more of it
// is a higher density altitude.
func TestWaterRaisesDensityAltitude(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAir(t)
		dry := a
		dry.VapourInHg = 0
		if a.DensityAltitudeFt() <= dry.DensityAltitudeFt() {
			t.Fatalf("%+v: %v ft, dry %v ft", a, a.DensityAltitudeFt(), dry.DensityAltitudeFt())
		}
	})
}
