package powertrain

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestDrawnRunAsVehiclesDo holds the drawn vehicles against what was measured on real
// ones: ET = a (W/P)^⅓ with a from 5.825 (Hale, well-set-up cars on slicks, from memory)
// to 6.29 (R. Huntington, Rod & Custom, Dec 1958) with weight in lb and hp at the clutch; ET × MPH
// 1350 for constant power without losses (Fox 1973), 1409 and 1442 by the formulas' own
// constants. Road cars scatter about them by 6 % (testdata/mtcars.csv).
func TestDrawnRunAsVehiclesDo(t *testing.T) {
	for l, name := range []string{"tires", "wheelie", "torque", "converter"} {
		var as, products []float64
		for seed := range drawn() {
			v := Draw(rand.New(rand.NewPCG(seed, 23)), Limit(l), seed%2 == 1)
			run := v.Run(Standard, Luck{})
			lb, hp, mph := v.Chassis.Mass/0.45359237, v.CrankW(Standard)/745.6999, run.Speed[4]/0.44704
			as, products = append(as, run.ET[4]/math.Cbrt(lb/hp)), append(products, run.ET[4]*mph)
		}
		slices.Sort(as)
		slices.Sort(products)
		n := len(as)
		t.Logf("%-9s ET/(W/P)^⅓ %.2f, %.2f, %.2f; ET × MPH %.0f, %.0f, %.0f (10 %%, median, 90 %%)", name,
			as[n/10], as[n/2], as[n*9/10], products[n/10], products[n/2], products[n*9/10])
		if m := as[n/2]; m < 5.7 || m > 6.7 {
			t.Errorf("%s: median ET %.2f (W/P)^⅓, want about 5.8 to 6.3", name, m)
		}
		if m := products[n/2]; m < 1270 || m > 1450 {
			t.Errorf("%s: median ET × MPH %.0f, want about 1350 to 1440", name, m)
		}
	}
}
