package season

import (
	"math"
	"math/rand/v2"

	"slipcase/predict"
)

// spread draws the small differences between runs, or between days, such that
// ln ET at the finish has a wanted standard deviation.
type spread struct{ launch, power, shift float64 }

// newSpread shares the variance: launchShare of it to the launch, the rest to
// the engine, a little to the gear changes.
func newSpread(m vehicle, r *rand.Rand, finish predict.Mark, sd, launchShare float64) spread {
	const e = 0.02
	base := m.run(standardAir, effects{}).et[finish]
	slope := func(x effects, by float64) float64 {
		return math.Abs(math.Log(m.run(standardAir, x).et[finish]/base)) / by
	}
	launch := slope(effects{launch: -e}, e)
	power := slope(effects{power: -e}, e)
	shift := slope(effects{shiftS: e}, e)
	shiftShare := pick(r, 0, 0.15)
	s := spread{
		launch: min(sd*math.Sqrt(launchShare)/max(launch, 1e-6), 0.08),
		shift:  min(sd*math.Sqrt(shiftShare)/max(shift, 1e-6), 0.04),
	}
	rest := sd*sd - math.Pow(s.launch*launch, 2) - math.Pow(s.shift*shift, 2)
	if rest < 0 {
		rest = 0
	}
	s.power = math.Sqrt(rest) / power
	return s
}

func (s spread) draw(r *rand.Rand) effects {
	return effects{
		launch: s.launch * r.NormFloat64(),
		power:  s.power * r.NormFloat64(),
		shiftS: s.shift * r.NormFloat64(),
	}
}
