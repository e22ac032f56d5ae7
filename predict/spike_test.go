package predict

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/predict/season/powertrain"
	"slipcase/weather/units"
)

// The sheet of an invented engine: power by the formulas of its simulator, every 250 rpm.
func inventedSheet(seed uint64, limit powertrain.Limit, everyRPM float64) (rows []DynoRow) {
	v := powertrain.Draw(rand.New(rand.NewPCG(seed, 77)), limit, false)
	const radPerRPM = math.Pi / 30
	for rpm := 2000.; rpm*radPerRPM < v.Engine.Limit; rpm += everyRPM {
		hp := v.Engine.Power(rpm*radPerRPM, powertrain.Standard) / 745.7
		if hp > 1 {
			rows = append(rows, rowsOf([3]float64{rpm, hp, 0})...)
			rows[len(rows)-1].Line = len(rows) + 1
		}
	}
	return rows
}

// No row of an engine's own curve is a spike; one that is put 35 % above its neighbours
// is, and no other row with it. At the end of a curve of few rows nothing tells a spike
// from the last fall of the power.
func TestSpikesAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for _, c := range []struct {
		everyRPM  float64
		fromEnd   int
		leastHits float64
	}{{50, 0, 1}, {250, 1, 1}, {500, 2, 0.95}} {
		n, hits := 0., 0.
		for seed := range uint64(60) {
			rows := inventedSheet(seed, powertrain.Limit(seed%4), c.everyRPM)
			for i := range rows { // what a dyno's noise adds
				rows[i].PowerHP = some(rows[i].PowerHP.Value() * (1 + 0.004*r.NormFloat64()))
			}
			if curve, spikes, err := NewCurve(rows); err != nil || len(spikes) > 0 || len(curve) != len(rows) {
				t.Fatalf("seed %d, every %g rpm: %v left out, %v", seed, c.everyRPM, spikes, err)
			}
			at := r.IntN(len(rows) - c.fromEnd)
			rows[at].PowerHP = some(rows[at].PowerHP.Value() * 1.35)
			_, spikes, err := NewCurve(rows)
			n++
			switch {
			case err != nil || len(spikes) > 1 || len(spikes) == 1 && spikes[0].Line != rows[at].Line:
				t.Errorf("seed %d, every %g rpm, row %d of %d: %v left out, %v", seed, c.everyRPM, at, len(rows), spikes, err)
			case len(spikes) == 1:
				hits++
			}
		}
		if t.Logf("every %g rpm: %g of %g found", c.everyRPM, hits, n); hits < c.leastHits*n {
			t.Errorf("every %g rpm: %g of %g found", c.everyRPM, hits, n)
		}
	}
}

// 3,000 hp between 150 and 266 is a figure typed with a nought too many.
func TestSpikeOfThreeThousand(t *testing.T) {
	for _, rows := range [][]DynoRow{
		rowsOf([3]float64{3000, 150, 0}, [3]float64{4000, 3000, 0}, [3]float64{5000, 266, 0}),
		rowsOf([3]float64{3000, 150, 0}, [3]float64{4000, 3000, 0}, [3]float64{5000, 266, 0}, [3]float64{6000, 300, 0}),
	} {
		c, spikes, err := NewCurve(rows)
		if err != nil || len(spikes) != 1 || spikes[0].HP != 3000 || c.Peak().HP > 301 {
			t.Errorf("%v: %v left out, %v", rows, spikes, err)
		}
		// Between 150 hp at 3,000 and 266 at 5,000 a line in torque has 208 at 4,000.
		if math.Abs(spikes[0].NeighboursHP-208) > 10 {
			t.Errorf("the neighbours say %v", spikes[0].NeighboursHP)
		}
	}
}

// A row whose power and torque do not agree is left out; many are another unit.
func TestDisagreeingRowIsASpike(t *testing.T) {
	rows := rowsOf([3]float64{3000, 150, 262.6}, [3]float64{4000, 410, 275.7}, [3]float64{5000, 266, 279.4},
		[3]float64{5500, 280, 267.4}, [3]float64{6000, 290, 253.9}, [3]float64{6500, 291, 235.1})
	c, spikes, err := NewCurve(rows)
	if err != nil || len(c) != 5 || !slices.Equal(spikes, []Spike{{Line: 3, RPM: 4000, HP: 410, DisagreesLbFt: 275.7}}) {
		t.Errorf("%v left out, %v", spikes, err)
	}
}

func some(v float64) units.Number { return units.Some(v) }
