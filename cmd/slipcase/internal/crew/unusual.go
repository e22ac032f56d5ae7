package crew

import (
	"slipcase/predict"
	"slipcase/weather/units"
)

// UnusualBuild are those of a weight, lb, and a power, hp, that are possible but look
// mistyped.
func UnusualBuild(weightLb, powerHP units.Number) (list []Unusual) {
	for _, q := range []struct {
		n     units.Number
		check func(float64) (*predict.Unusual, error)
	}{{weightLb, predict.CheckWeight}, {powerHP, predict.CheckPower}} {
		if doubt, _ := q.check(q.n.Value()); q.n.Known() && doubt != nil {
			list = append(list, *doubt)
		}
	}
	return list
}
