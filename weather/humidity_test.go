package weather

import (
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// The library's states; it has no enhancement factor, so it finds 0.4-0.5 %
// less vapour at the same relative humidity, hence the tolerance of the ratio.
func TestHumidityOfFourStates(t *testing.T) {
	const source = "psychrolib 1.1.1, ASHRAE Fundamentals 2017 formulas"
	for _, c := range []struct {
		pPa, celsius, rh                  float64
		density, ratio, dewPoint, wetBulb float64
	}{
		{101325, 20, 50, 1.19890, 0.007262, 9.272, 13.783},
		{100000, 25, 60, 1.16008, 0.012056, 16.701, 19.448},
		{85000, 35, 40, 0.95135, 0.016920, 19.385, 23.419},
		{70000, 10, 90, 0.85612, 0.009977, 8.437, 9.017},
	} {
		a := moist(t, c.pPa, c.celsius, c.rh)
		near(t, "density", a.DensityKgM3(), c.density, 6e-4*c.density, source)
		near(t, "humidity ratio", a.GrainsPerLb()/7000, c.ratio, 5e-3*c.ratio, source)
		near(t, "dew point, °C", celsius(a.DewPointF().Value()), c.dewPoint, 0.01, source)
		near(t, "wet bulb, °C", celsius(a.WetBulbF()), c.wetBulb, 0.01, source)
		near(t, "RH", a.RHPct(), c.rh, 1e-9, "what was put in")
	}
}

func TestSaturatedHumidityRatio(t *testing.T) {
	for _, c := range []struct{ tempF, want float64 }{{41, 0.005425}, {77, 0.020173}, {122, 0.086863}} {
		a := moist(t, 14.696*units.PascalPerPsi, celsius(c.tempF), 100)
		near(
			t,
			"saturated humidity ratio",
			a.GrainsPerLb()/7000,
			c.want,
			1e-3*c.want,
			"ASHRAE Handbook Fundamentals 2017, ch. 1, table 2",
		)
		near(t, "dew point of saturated air", a.DewPointF().Value(), c.tempF, 1e-6, "definition")
		near(t, "wet bulb of saturated air", a.WetBulbF(), c.tempF, 1e-6, "definition")
	}
}

// 100 °F, wet bulb 65 °F, 14.696 psi.
func TestHandbookExample(t *testing.T) {
	const source = "ASHRAE Handbook Fundamentals 2017, ch. 1, example 1 (read from the chart)"
	a, _, err := Reading{
		TempF: units.Some(
			100,
		), WetBulbF: units.Some(65), StationInHg: units.Some(14.696 * units.PascalPerPsi / units.PascalPerInHg),
	}.Air(units.Number{})
	if err != nil {
		t.Fatal(err)
	}
	const ft3 = 0.3048 * 0.3048 * 0.3048
	near(t, "humidity ratio", a.GrainsPerLb()/7000, 0.00523, 5e-5, source)
	near(t, "dew point, °F", a.DewPointF().Value(), 40, 0.5, source)
	near(t, "RH, %", a.RHPct(), 13, 0.5, source)
	near(t, "ft³ per lb of dry air", units.KgPerLb/ft3/a.DryDensityKgM3(), 14.22, 0.01, source)
}

func TestAirWithoutWater(t *testing.T) {
	a := moist(t, 101325, 25, 0)
	if d := a.DewPointF(); d.Known() {
		t.Errorf("dew point of dry air = %v, want none", d)
	}
	near(t, "RH", a.RHPct(), 0, 0, "definition")
	near(t, "grains", a.GrainsPerLb(), 0, 0, "definition")
	if w := a.WetBulbF(); w < 40 || w > 50 {
		t.Errorf("wet bulb of dry air at 77 F = %.1f, want 40 to 50 (psychrometric chart, from memory)", w)
	}
}

// A state is the same whichever of the three instruments told the water.
func TestWaterReadingsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAir(t)
		base := Reading{TempF: units.Some(a.TempF), StationInHg: units.Some(a.StationInHg)}
		byRH, byDew, byWet := base, base, base
		byRH.RHPct = units.Some(min(100, a.RHPct()))
		byDew.DewPointF = units.Some(min(a.TempF, a.DewPointF().Value()))
		byWet.WetBulbF = units.Some(min(a.TempF, a.WetBulbF()))
		for _, r := range []Reading{byRH, byDew, byWet} {
			got, remarks, err := r.Air(units.Number{})
			if err != nil || remarks != nil {
				t.Fatalf("%+v: %v %v", r, remarks, err)
			}
			if d := got.VapourInHg - a.VapourInHg; d > 1e-8 || d < -1e-8 {
				t.Fatalf("%+v: vapour %v, want %v", r, got.VapourInHg, a.VapourInHg)
			}
		}
		if dew, wet := a.DewPointF().Value(), a.WetBulbF(); dew > wet+1e-6 || wet > a.TempF+1e-6 {
			t.Fatalf("dew point %v, wet bulb %v, temperature %v: want them rising", dew, wet, a.TempF)
		}
	})
}
