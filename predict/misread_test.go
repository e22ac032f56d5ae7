package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

// What a finger can make of 13.212 and 105.84, undone.
func TestUndo(t *testing.T) {
	for _, c := range []struct {
		what     string
		typed    float64
		decimals int
		meant    float64
	}{
		{"hit beside in the row", 14.212, 3, 13.212},
		{"hit beside on the pad", 16.212, 3, 13.212},
		{"exchanged", 12.312, 3, 13.212},
		{"dropped", 13.12, 3, 13.212},
		{"dropped at the front", 3.212, 3, 13.212},
		{"doubled", 113.212, 3, 13.212},
		{"the point in the wrong place", 132.12, 3, 13.212},
		{"doubled behind the point", 6.6382, 3, 6.382},
		{"dropped in front of a nought", 8.23, 2, 108.23},
		{"dropped of digits alone, read as hundredths", 5.3, 3, 1.53},
		{"dropped before the point", 0.181, 3, 6.181},
		{"exchanged with a nought", 0.206, 3, 2.06},
		{"doubled in front", 1116.01, 2, 116.01},
		{"a speed's digit beside", 106.84, 2, 105.84},
		{"a speed's digit dropped", 15.84, 2, 105.84},
		{"a speed's last digit dropped", 105.8, 2, 105.84},
	} {
		found := false
		for v, chance := range undo(c.typed, c.decimals) {
			if !(v > 0) || math.IsInf(v, 0) || !(chance > 0 && chance < 1) {
				t.Errorf("%g: %g with chance %g", c.typed, v, chance)
			}
			found = found || math.Abs(v-c.meant) < 1e-9
		}
		if !found {
			t.Errorf("%s: %g is not among what %g may have meant", c.what, c.meant, c.typed)
		}
	}
}

func printed(ets [Marks]float64, mph660, mph1320 float64) Splits {
	var s Splits
	for m, et := range ets {
		s.ETs[m] = units.Some(et)
	}
	s.MPHs[At660], s.MPHs[At1320] = units.Some(mph660), units.Some(mph1320)
	return s
}

// The first slip of a car of which nothing is known: its figures against each other.
func TestProofreadOneSlip(t *testing.T) {
	t.Parallel()
	mistyped := func(m Mark, s float64) Reading { return Reading{Figure: SlipFigure{m, false, s}} }
	right := [Marks]float64{1.912, 5.337, 8.212, 10.680, 12.812}
	for _, c := range []struct {
		name  string
		s     Splits
		meant Reading // zero where nothing is asked
	}{
		{"as it was", printed(right, 85.5, 107.4), Reading{}},
		{"a digit beside", printed([Marks]float64{1.912, 5.337, 8.212, 10.680, 13.812}, 85.5, 107.4), mistyped(At1320, 12.812)},
		{"exchanged digits", printed([Marks]float64{1.912, 5.337, 8.212, 16.080, 12.812}, 85.5, 107.4), mistyped(At1000, 10.680)},
		{"a digit dropped", printed([Marks]float64{1.912, 5.337, 8.212, 1.68, 12.812}, 85.5, 107.4), mistyped(At1000, 10.680)},
		{"speeds exchanged", printed(right, 107.4, 85.5), Reading{Figure: SlipFigure{At660, true, 85.5}, With: SlipFigure{At1320, true, 107.4}}},
		{"times exchanged", printed([Marks]float64{5.337, 1.912, 8.212, 10.680, 12.812}, 85.5, 107.4), Reading{Figure: SlipFigure{At60, false, 1.912}, With: SlipFigure{At330, false, 5.337}}},
		{"lifted", printed([Marks]float64{1.912, 5.337, 8.212, 10.690, 13.010}, 85.5, 84.1), Reading{}},
		{"spun", printed([Marks]float64{2.312, 5.757, 8.632, 11.100, 13.232}, 85.1, 107.2), Reading{}},
	} {
		f, err := Expect(nil, Pass{})
		if err != nil {
			t.Fatal(err)
		}
		q, ask, err := f.Proofread(Pass{Splits: c.s})
		if err != nil {
			t.Fatal(err)
		}
		var got Reading
		if len(q.Readings) > 0 {
			got = q.Readings[0]
			got.Splits = Splits{}
		}
		if ask != (c.meant != Reading{}) || got != c.meant {
			t.Errorf("%s: %t, %+v; want %+v", c.name, ask, q, c.meant)
		}
	}
}
