package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

func alone(ft float64) Reading { return Reading{DensityAltitudeFt: some(ft)} }

// Density is what a density altitude says: rows of ISO 2533, 1.15490 kg/m3 at 2,000 ft and
// 1.05555 at 5,000.
func TestDensityAlone(t *testing.T) {
	for _, c := range []struct{ ft, elevation, kgM3 float64 }{{2000, 812, 1.15490}, {5000, 3000, 1.05555}, {
		2000,
		0, 1.15490,
	}} {
		a, notes, err := alone(c.ft).Air(some(c.elevation))
		if err != nil || len(notes) != 1 || notes[0].Kind != DensityAlone {
			t.Fatalf("%v, %v", notes, err)
		}
		near(t, "density", a.DensityKgM3(), c.kgM3, 2e-5, "ISO 2533")
	}
}

// At one density the dry factor of SAE J1349 goes with the pressure of dry air over √T, which
// for a gas is 1/√T. 0.2 inHg of 29.05 is 0.69 % of temperature and 1.18 × 0.34 % of power. Half more
// than the water of 78 °F and 50 % (0.48 inHg) is 0.24 inHg of 29.05 less of dry air, 0.62 of which
// weighs as much: the temperature is 0.32 % lower for it, dry pressure 0.84 %, which is 1.18 × 0.68 %
// of power. Worked by hand.
func TestDensityAloneLeavesPowerOpen(t *testing.T) {
	_, notes, err := alone(3000).Air(some(812))
	if err != nil {
		t.Fatal(err)
	}
	near(
		t,
		"power, %",
		notes[0].DoubtPct,
		math.Hypot(0.41, 0.80),
		0.05,
		"the split of SAE J1349 into pressure and temperature",
	)
	// 1,000 ft is 2.9 % of density (ISO 2533: 1.22500 to 1.18955), by pressure 1.18 times in power.
	near(t, "as density altitude, ft", notes[0].DoubtFt, 1000*notes[0].DoubtPct/(2.9*1.18), 15, "ISO 2533, SAE J1349")
	read := alone(3000)
	read.StationInHg = some(29.05)
	_, withPressure, err := read.Air(some(812))
	if err != nil || withPressure[0].DoubtPct >= notes[0].DoubtPct {
		t.Errorf("%v %v; want less doubt with the pressure read", withPressure, err)
	}
}

// A whole reading's density altitude, read alone, is the same density, and power but for the water.
func TestDensityAloneAgainstTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := anyAir(t)
		r := alone(whole.DensityAltitudeFt())
		r.StationInHg = some(whole.StationInHg)
		a, _, err := r.Air(absent)
		if err != nil {
			t.Skip("no temperature makes it with a race day's water")
		}
		if d := math.Abs(a.DensityKgM3()/whole.DensityKgM3() - 1); d > 1e-6 {
			t.Fatalf("density off by %g", d)
		}
		// By hand, as above: an inch of water in place of another is 95 % / inHg of power.
		water := math.Abs(a.VapourInHg - whole.VapourInHg)
		if off := math.Abs(a.SAEJ1349()/whole.SAEJ1349()-1) * 100; off > 120/whole.StationInHg*water+0.05 {
			t.Fatalf("power off by %.2f %% for %.2f inHg of water", off, water)
		}
	})
}

func TestDensityAloneRefuses(t *testing.T) {
	beside := alone(1855)
	beside.TempF = some(88)
	for _, c := range []struct {
		r         Reading
		elevation units.Number
	}{
		{beside, some(812)},
		{alone(1855), absent},
		{alone(30000), some(812)},
		{alone(-20000), some(812)},
		{alone(math.NaN()), some(812)},
	} {
		if a, _, err := c.r.Air(c.elevation); err == nil {
			t.Errorf("%+v: %+v, want it refused", c.r, a)
		}
	}
	if d := alone(7000).Doubts(some(812)); len(d) != 1 || d[0].Quantity != DensityAltitude || d[0].TempF < 130 {
		t.Errorf("7,000 ft at 812: %+v", d)
	}
	if d := alone(1855).Doubts(some(812)); len(d) != 0 {
		t.Errorf("1,855 ft at 812: %+v", d)
	}
}
