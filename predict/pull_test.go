package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

func slipAt(m Mark, et, mph float64) Splits {
	var s Splits
	s.ETs[m], s.MPHs[m] = units.Some(et), units.Some(mph)
	return s
}

// Slips of the trade, common practice, no source.
func TestFullPullWithoutHistory(t *testing.T) {
	for _, c := range []struct {
		s    Splits
		want bool
	}{
		{slipAt(At1320, 8.24, 153), true},
		{slipAt(At1320, 7.50, 173), true},
		{slipAt(At1320, 7.10, 149), false}, // product 1058: lifted early
		{slipAt(At1320, 13.212, 105.84), true},
		{slipAt(At660, 8.412, 83.77), true},
		{slipAt(At660, 8.412, 70), false},
		{slipAt(At1320, 15.1, 105.84), false}, // product 1598: spun
		{Splits{}, true},
	} {
		full, why := FullPull(Pass{Splits: c.s}, [Marks]units.Number{})
		if full != c.want || full != (why.Kind == "") {
			t.Errorf("%v: %t, %+v", c.s, full, why)
		}
	}
}

func TestFullPullAgainstOwnMedian(t *testing.T) {
	usual := [Marks]units.Number{At1320: units.Some(1400)}
	for mph, want := range map[float64]bool{1380 / 13.: true, 1365 / 13.: false, 1460 / 13.: true} {
		if full, why := FullPull(Pass{Splits: slipAt(At1320, 13, mph)}, usual); full != want {
			t.Errorf("%.1f mph: %t, %+v", mph, full, why)
		}
	}
}

func TestImpliedPower(t *testing.T) {
	// Fox's formula answered in its own coin: no gap.
	i := must(ImpliedPower(Fox, At1320, 3450, must(Fox.ET(At1320, 3450, 367)), must(Fox.MPH(At1320, 3450, 367))))
	near(t, "by ET", i.ByET, 367, 1e-9)
	near(t, "by MPH", i.ByMPH, 367, 1e-9)
	// The ratio is the cube of the products' ratio, by algebra.
	i = must(ImpliedPower(Fox, At1320, 3450, 13.212, 105.84))
	near(t, "gap", i.ByET/i.ByMPH, math.Pow(6.269*230/(13.212*105.84), 3), 1e-9)
	for _, c := range []struct {
		et, mph float64
		own     units.Number
		want    GapKind
	}{
		{13.212, 105.84, units.Number{}, GapUntold},
		{13.212, 105.84, units.Some(1400), GapOfFormula},
		{13.9, 106.5, units.Some(1400), GapEarly},
		{13.9, 106.5, units.Number{}, GapEarly},
		{13.3, 100, units.Some(1400), GapLate},
	} {
		if gap := must(ImpliedPower(Fox, At1320, 3450, c.et, c.mph)).Gap(c.own); gap.Kind != c.want {
			t.Errorf("%g @ %g: %+v, want %s", c.et, c.mph, gap, c.want)
		}
	}
	if _, err := ImpliedPower(Fox, At1320, 3450, 13.2, 0); err == nil {
		t.Error("took a speed of 0")
	}
}
