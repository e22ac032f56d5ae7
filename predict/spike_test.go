package predict

import (
	"math"
	"slices"
	"testing"
)

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
