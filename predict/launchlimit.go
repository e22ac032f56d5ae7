package predict

import (
	"math"
)

// LaunchLimit is what holds a vehicle back in the launch.
type LaunchLimit int

// The limits.
const (
	ByTires     LaunchLimit = iota // what they put down
	ByWheelie                      // the front wheels, about to lift
	ByTorque                       // what the engine gives through clutch and first gear
	ByConverter                    // the same through a converter, whose stall rises with it
	LaunchLimits
)

// Limits are the chances of each, 1 together. A slip does not say which it is: all that
// fit the runs are carried.
type Limits [LaunchLimits]float64

// takes is how far the acceleration of a launch follows, in logs, a change in power, in
// weight (the other way) and in the tires' grip. SD is how it differs from vehicle to
// vehicle, that of the tires' grip as a share of what it brings.
type takes struct{ power, weight, grip, powerSD, weightSD, gripSD float64 }

// launchTakes are those of the limits: by their meaning 0 or 1, less the parts of a launch in
// which another thing limits; with a converter the engine also turns faster against its
// stall. Grip may bring nothing at all to a launch that the tires do not hold. Set on invented
// upgrades for tuning, of both simulators.
var launchTakes = [LaunchLimits]takes{
	ByTires:     {0, 0.08, 0.46, 0.25, 0.48, 0.62}, // of grip on the average: see gripped
	ByWheelie:   {0, 0.08, 0.01, 0.07, 0.08, 0.01},
	ByTorque:    {0.80, 0.72, 0.006, 0.03, 0.03, 0.006},
	ByConverter: {1.22, 1.00, 0.012, 0.06, 0.04, 0.018},
}

// takes are those of this vehicle. Tires and front wheel hold a part of the launch, the
// engine the rest: the more of it the runs show to follow the power, the more follows a change
// of it, and the less the grip. Runs that show less than none leave it at none: more power
// softens no launch so far that the run is slower for it.
func (v vehicle) takes(l LaunchLimit) takes {
	t := launchTakes[l]
	if l == ByTires {
		t.grip -= v.engines
	}
	if l == ByTires || l == ByWheelie {
		t.power = math.Max(t.power+v.engines, 0)
		t.weight = math.Max(t.weight+v.engines, 0)
	}
	return t
}

// launchShares are those of power and weight on the average of what may limit the launch.
type launchShares struct{ power, weight float64 }

func (v vehicle) shares() (s launchShares) {
	for l, chance := range v.launch {
		takes := v.takes(LaunchLimit(l))
		s.power += chance * takes.power
		s.weight += chance * takes.weight
	}
	return s
}

// gripped is how much harder, in logs, a launch is by so much more grip, where that limit
// holds it. Of one that the tires hold back it is the more, the further they keep it under
// what its power would do; and each bit of grip brings less than the one before, since soon
// another limit comes. Worse tires only ever hold it back more. Set on invented vehicles for
// tuning, of both simulators.
func (v vehicle) gripped(l LaunchLimit, grip float64) float64 {
	const bySpare, least, most = -1.3, 0.1, 1.1
	const first, room = 1.85, 0.35 // of takes: what the first bit brings, and what there is to be had
	takes, by := v.takes(l).grip, math.Log1p(grip)
	if l != ByTires {
		return takes * by
	}
	takes = math.Min(math.Max(takes+bySpare*v.spare(), least), most)
	slope := math.Min(first*takes, most)
	if by <= 0 {
		return slope * by
	}
	return -room * takes * math.Expm1(-slope*by/(room*takes))
}

// regripped is gripped on the average of what may limit the launch.
func (v vehicle) regripped(grip float64) (sum float64) {
	for l, chance := range v.launch {
		sum += chance * v.gripped(LaunchLimit(l), grip)
	}
	return sum
}

// spare is how much harder it leaves than its power for its weight usually does, in logs.
func (v vehicle) spare() float64 {
	return math.Log(v.model.GripG) - 2./3*math.Log(v.model.PowerHP/v.model.WeightLb) - usualSpare
}

// only is a launch of one limit alone.
func only(l LaunchLimit) (out Limits) {
	out[l] = 1
	return out
}
