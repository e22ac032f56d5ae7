package predict

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"slipcase/weather/units"
)

const (
	dialOffS = 0.3 // no one dials further from what the car runs, s (common practice, no source)
	dialSDS  = 0.1 // of dials about the forecast, s
)

// ProofreadDial holds a dial-in, s, against the forecast at the distance raced: ask is
// true where it is further off than anyone dials and than the forecast's own doubt, and
// the run itself, ranS, absent without a time, does not bear it out. readings are what
// may have been meant, the likeliest first.
func ProofreadDial(forecast Band, ranS units.Number, dial float64) (readings []float64, ask bool) {
	off := func(v float64) float64 { return math.Abs(v - forecast.Centre) }
	if off(dial) <= dialOffS || dial >= forecast.Low95 && dial <= forecast.High95 ||
		ranS.Known() && math.Abs(dial-ranS.Value()) <= dialOffS {
		return nil, false
	}
	weights := map[float64]float64{}
	for v, chance := range undo(dial, 2) {
		if off(v) <= dialOffS {
			z := off(v) / dialSDS
			weights[v] = chance * math.Exp(-z*z/2)
		}
	}
	readings = slices.SortedFunc(maps.Keys(weights), func(a, b float64) int {
		return cmp.Or(cmp.Compare(weights[b], weights[a]), cmp.Compare(a, b))
	})
	return readings[:min(len(readings), mostRead)], true
}
