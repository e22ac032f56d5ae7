package weather

import (
	"math"
	"testing"
)

func TestHeadwind(t *testing.T) {
	for _, c := range []struct{ mph, from, heading, want float64 }{
		{10, 240, 240, 10},
		{10, 60, 240, -10},
		{10, 330, 240, 0},
		{10, 10, 350, 10 * math.Cos(20*math.Pi/180)},
		{10, 360, 0, 10},
		{0, 0, 240, 0},
	} {
		near(t, "headwind, mph", Headwind(c.mph, c.from, c.heading), c.want, 1e-9, "geometry")
	}
}
