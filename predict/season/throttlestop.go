package season

import (
	"math"

	"slipcase/predict"
)

// Stop is a throttle stop: it shuts the throttle to Share from OnS to OffS seconds
// after the start. The zero Stop is none.
type Stop struct{ OnS, OffS, Share float64 }

func (s Stop) shuts(t float64) bool { return t >= s.OnS && t < s.OffS }

// offFor is when the stop must open for the vehicle to run an ET in that air, s.
func offFor(m vehicle, air state, lasting effects, stop Stop, at predict.Mark, et float64) float64 {
	low, high := stop.OnS, stop.OnS+et
	for range 24 {
		lasting.stop = stop
		lasting.stop.OffS = (low + high) / 2
		if got := m.run(air, lasting).et[at]; got < et { // false for one that never comes
			low = lasting.stop.OffS
		} else {
			high = lasting.stop.OffS
		}
	}
	return (low + high) / 2
}

// stopWanderS is how far the racer sets the stop from what would make the index, one
// standard deviation, s: he knows the car, not the hour.
const stopWanderS = 0.04

// setStop sets it for the next run: truth beside it, the off time that would have made
// the index.
func (y *year) setStop(air state, lasting effects, run *Run) {
	if y.s.Index == 0 {
		return
	}
	run.StopOffForIndex = offFor(y.m, air, lasting, y.stop, y.s.Finish, y.s.Index)
	run.Stop = y.stop
	run.Stop.OffS = math.Round(100*(run.StopOffForIndex+stopWanderS*y.odd.NormFloat64())) / 100
}
