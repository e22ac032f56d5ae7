package powertrain

import "math"

// Marks is how many distances are timed: 60, 330, 660, 1000 and 1320 ft.
const Marks = 5

// Timing is what an ideal timer prints, by mark; NaN where it never came. Speeds are
// means over the last 66 ft; there is none at 60 ft.
type Timing struct {
	ET    [Marks]float64 // s since the clock started
	Speed [Marks]float64 // m/s
}

const (
	rollout = 1 * foot // the clock starts when the car has rolled so far; marks count from where it stood
	trap    = 66 * foot
)

var markM = [Marks]float64{60 * foot, 330 * foot, 660 * foot, 1000 * foot, 1320 * foot}

// clock takes the times of a run.
type clock struct {
	Timing
	start, trapAt float64
	next          int // mark
}

func (c *clock) done() bool { return c.next == Marks }

// stuck gives up what has not been reached.
func (c *clock) stuck() {
	for ; c.next < Marks; c.next++ {
		c.ET[c.next], c.Speed[c.next] = math.NaN(), math.NaN()
	}
}

// pass takes what lies between two states, in which it finds the time by the cubic
// that has their places and speeds.
func (c *clock) pass(from, to state) {
	if from.x < rollout && to.x >= rollout {
		c.start = reach(from, to, rollout)
	}
	for !c.done() {
		mark := markM[c.next]
		if at := mark - trap; from.x < at && to.x >= at {
			c.trapAt = reach(from, to, at)
		}
		if to.x < mark {
			return
		}
		end := reach(from, to, mark)
		c.ET[c.next] = end - c.start
		if c.next > 0 {
			c.Speed[c.next] = trap / (end - c.trapAt)
		}
		c.next++
	}
}

// reach is the time at which x is reached between two states.
func reach(from, to state, x float64) float64 {
	h := to.t - from.t
	if h == 0 || to.x == from.x {
		return to.t
	}
	u := (x - from.x) / (to.x - from.x)
	for range 4 {
		a, b := 1-u, u
		place := from.x*a*a*(1+2*u) + to.x*b*b*(3-2*u) + h*u*a*(from.v*a-to.v*u)
		slope := 6*u*a*(to.x-from.x) + h*(from.v*a*(1-3*u)+to.v*u*(3*u-2))
		if slope <= 0 {
			break
		}
		u -= (place - x) / slope
	}
	return from.t + h*min(max(u, 0), 1)
}
