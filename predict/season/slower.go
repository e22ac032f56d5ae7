package season

import "slipcase/predict"

// slower finds the effect, between none and most of a kind, that makes the ET at a mark
// in that air factor times what it is, by halving; the most of it where that is not enough.
func slower(m vehicle, air state, at predict.Mark, factor float64, kind func(share float64) effects) effects {
	want := m.run(air, effects{}).et[at] * factor
	low, high := 0., 1.
	for range 24 {
		mid := (low + high) / 2
		if got := m.run(air, kind(mid)).et[at]; got < want { // false for one that never comes
			low = mid
		} else {
			high = mid
		}
	}
	return kind(high)
}

// poorTrack takes grip away, a wornEngine power, a poorLane some of the launch.
func poorTrack(share float64) effects  { return effects{grip: -0.9 * share} }
func wornEngine(share float64) effects { return effects{power: -0.5 * share} }
func poorLane(share float64) effects   { return effects{launch: -0.5 * share} }
