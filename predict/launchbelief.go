package predict

import (
	"math"
	"slices"
)

// limitScore is what is believed of a limit by what the vehicle is and how it runs, summed
// as a log chance. A hard launch, in g, is of tires or front wheel more than of torque,
// which the slow lack. The launch of one that its torque limits goes with the power, as the
// cube root law has it (spare is the log of GripG over (hp/lb)^⅔, less usualSpare), and one
// far from that is of the tires. Tires and front wheel hold a launch steady, as the run model
// has it; gears and converter begin it hard and let it fade, which shows in what the run model
// leaves of the first times and speeds. Launch is ln GripG, the lefts are in logs.
type limitScore struct {
	base, launch, launch2, spare, spare2, both float64
	left60, left330, speed660, left660         float64
	motorcycle, bikeLaunch, bikeSpare          float64
	front, all, allLaunch                      float64
}

// limitScores were fitted, as a logistic regression, to 2,400 invented vehicles for tuning
// (seeds 1 to 6300 of the upgrades by limit, three to five meets each), those of the second
// simulator, as many of each limit, counted twice.
var limitScores = [LaunchLimits]limitScore{
	ByTires: {
		1.50, 0.54, 1.93, 1.81, 14.33, 9.44, 2.3, -30, 0.7, 132, -1.62, 3.29, -0.83, -0.04, 0.06, 3.34,
	},
	ByWheelie: { // front wheels that pull do not lift
		-0.89, 9.04, -2.51, 2.69, 5.02, -6.84, -5.9, 2, 56, 37, 1.10, -4.21, 0.98, math.Inf(-1), -2.92, -0.12,
	},
	ByTorque: {
		-0.59, -5.44, -0.09, -0.26, -15.68, -4.34, -16.3, -58, 7.6, 61, 0.52, 0.91, -0.15, -0.17, 1.49, -1.34,
	},
	ByConverter: { // on no motorcycle: common practice, no source
		-0.03, -4.13, 0.66, -4.24, -3.67, 1.75, 19.9, 86, -64, -230, math.Inf(-1), 0, 0, 0.21, 1.37, -1.89,
	},
}

const usualSpare, mostSpare = 1.5, 0.6

// usualLeft is what the run model leaves of those channels on the average of vehicles, and
// mostLeft how far from that is still told from a slip gone wrong.
var (
	usualLeft = vec{0: -0.022, 1: 0.007, 2: 0.007, 3: 0.005}
	mostLeft  = vec{0: 0.1, 1: 0.055, 2: 0.025, 3: 0.035}
)

// limits gives the chances of what limits the launch: what is believed of it, then what
// the runs say: of what the run model leaves of their medians, 0 where none is read, as
// far as that tells, and how the launch answers.
func (v vehicle) limits(m Machine, left vec, leftBy float64, heard launchAnswer) (out Limits) {
	launch := math.Log(v.model.GripG)
	spare := math.Min(math.Max(v.spare(), -mostSpare), mostSpare)
	for c := range left {
		if left[c] != 0 {
			left[c] = leftBy * math.Min(math.Max(left[c]-usualLeft[c], -mostLeft[c]), mostLeft[c])
		}
	}
	var scores [LaunchLimits]float64
	for l, s := range limitScores {
		scores[l] = s.base + launch*(s.launch+s.launch2*launch+s.both*spare) + spare*(s.spare+s.spare2*spare) +
			s.left60*left[timeAt[At60]] + s.left330*left[timeAt[At330]] +
			s.speed660*left[speedAt[At660]] + s.left660*left[timeAt[At660]] + heard.score(LaunchLimit(l))
		switch {
		case m.Kind == Motorcycle:
			scores[l] += s.motorcycle + s.bikeLaunch*launch + s.bikeSpare*spare
		case m.Drive == FrontDrive:
			scores[l] += s.front
		case m.Drive == AllDrive:
			scores[l] += s.all + s.allLaunch*launch
		}
	}
	most := slices.Max(scores[:])
	sum := 0.
	for l, s := range scores {
		out[l] = math.Exp(s - most)
		sum += out[l]
	}
	for l := range out {
		out[l] /= sum
	}
	return out
}
