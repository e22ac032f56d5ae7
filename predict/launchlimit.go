package predict

import (
	"math"
	"slices"
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

// launchTakes is how far the acceleration of a launch follows, in logs, a change in
// power, in weight (the other way) and in the tires' grip: by the limits' meaning 0 or 1,
// less the parts of a launch in which another thing limits; with a converter the engine
// also turns faster against its stall. SD is how it differs from vehicle to vehicle. Set on invented upgrades for
// tuning, of both simulators.
var launchTakes = [LaunchLimits]struct{ power, weight, grip, powerSD, weightSD, gripSD float64 }{
	ByTires:     {0, 0.03, 0.46, 0.21, 0.48, 0.20}, // of grip on the average: see gripTaken
	ByWheelie:   {0, 0.03, 0.01, 0.07, 0.08, 0.02},
	ByTorque:    {0.80, 0.72, 0.01, 0.03, 0.03, 0.02},
	ByConverter: {1.22, 1.00, 0.02, 0.06, 0.04, 0.03},
}

// launchShares are those shares on the average of what may limit the launch.
type launchShares struct{ power, weight, grip float64 }

func (v vehicle) shares() (s launchShares) {
	for i, chance := range v.launch {
		s.power += chance * launchTakes[i].power
		s.weight += chance * launchTakes[i].weight
		s.grip += chance * v.gripTaken(LaunchLimit(i))
	}
	return s
}

// gripTaken is how far the launch follows the tires' grip. Of one that the tires hold back
// it is the more, the further they keep it under what its power would do: soon another
// limit comes, or never. Set on invented vehicles for tuning, of both simulators.
func (v vehicle) gripTaken(l LaunchLimit) float64 {
	const bySpare, least, most = -1.3, 0.1, 1.1
	takes := launchTakes[l].grip
	if l == ByTires {
		takes = math.Min(math.Max(takes+bySpare*v.spare(), least), most)
	}
	return takes
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

// What is believed of the limit by what the vehicle is, as a score that counts as a log
// chance: a hard launch, in g, is of tires or front wheel more than of torque, which the
// slow lack; the launch of one that its torque limits goes with the power, as the cube
// root law has it (spare is the log of GripG over (hp/lb)^⅔, less usualSpare), and one
// far from that is of the tires. Set on invented vehicles for tuning, of both simulators.
var limitScores = [LaunchLimits]struct{ base, launch, spare, spare2, motorcycle, front, all float64 }{
	ByTires:     {1.14, 1.35, 0.82, 7.8, 0.27, 0.96, -0.50},
	ByWheelie:   {-0.05, 4.38, -0.14, 0.6, 0.40, math.Inf(-1), -1.74}, // front wheels that pull do not lift
	ByTorque:    {-0.83, -3.34, 0.90, -5.0, 1.67, -0.62, 0.93},
	ByConverter: {-0.26, -2.39, -1.58, -3.4, math.Inf(-1), -0.23, 1.31}, // on no motorcycle: common practice, no source
}

const usualSpare, mostSpare = 1.5, 0.6

// limits gives the chances of what limits the launch: what is believed of it, then what
// the runs say.
func (v vehicle) limits(m Machine, heard launchAnswer) (out Limits) {
	launch := math.Log(v.model.GripG)
	spare := math.Min(math.Max(v.spare(), -mostSpare), mostSpare)
	var scores [LaunchLimits]float64
	for l, s := range limitScores {
		scores[l] = s.base + s.launch*launch + s.spare*spare + s.spare2*spare*spare + heard.score(LaunchLimit(l))
		switch {
		case m.Kind == Motorcycle:
			scores[l] += s.motorcycle
		case m.Drive == FrontDrive:
			scores[l] += s.front
		case m.Drive == AllDrive:
			scores[l] += s.all
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

// launchAnswer is how the launch answers to power, as the runs tell: d ln(60 ft time)/
// d ln(speed at the finish), which goes with the power of each run, its air and its luck.
type launchAnswer struct {
	slope, sd float64
	heard     bool
}

// usualAnswer is that slope by the limit, and its standard deviation from vehicle to
// vehicle. Where the launch takes no power it is not quite 0, since a good launch ends
// a little slower. Set on invented vehicles for tuning.
var usualAnswer = [LaunchLimits]float64{ByTires: -0.4, ByWheelie: -0.25, ByTorque: -1.5, ByConverter: -1.6}

const answerSD = 0.45

// score is the log density of what was heard.
func (a launchAnswer) score(l LaunchLimit) float64 {
	if !a.heard {
		return 0
	}
	d := a.slope - usualAnswer[l]
	return -d * d / 2 / (a.sd*a.sd + answerSD*answerSD)
}

const (
	fewestAnswers = 6
	answerOutlier = 3.5   // median deviations: a lift, a spin, a misread time
	usualAnswerSD = 0.012 // of a 60 ft time about the line, in logs, counted as two runs
)

// answerOf hears the launch of the runs, each beside the others of its state of the
// vehicle. A run whose speed is out of line with its time from 60 ft on was lifted late.
func (f *field) answerOf() launchAnswer {
	k, finish := speedAt[f.finish], timeAt[f.finish]
	if k < 0 {
		return launchAnswer{}
	}
	type era struct{ speed, launch, rest []float64 }
	eras := make([]era, len(f.eras))
	for i := max(0, len(f.samples)-medianRuns); i < len(f.samples); i++ {
		s := &f.samples[i]
		if full := s.pass.Effort == "" || s.pass.Effort == FullPower; !full || !s.has[timeAt[At60]] || !s.has[k] ||
			!s.has[finish] {
			continue
		}
		y, _ := s.pass.Splits.logs()
		rest := math.Log(math.Exp(y[finish]) - math.Exp(y[timeAt[At60]]))
		e := &eras[s.era]
		e.speed, e.launch, e.rest = append(e.speed, y[k]), append(e.launch, y[timeAt[At60]]), append(e.rest, y[k]+rest)
	}
	var all era
	for _, e := range eras {
		all.speed = append(all.speed, aboutMedian(e.speed)...)
		all.launch = append(all.launch, aboutMedian(e.launch)...)
		all.rest = append(all.rest, aboutMedian(e.rest)...)
	}
	x, y := all.speed, all.launch
	inLineX, inLineY, inLine := inLineWith(x), inLineWith(y), inLineWith(all.rest)
	var n, sx, sy, sxx, sxy, syy float64
	for i := range x {
		if inLineX(x[i]) && inLineY(y[i]) && inLine(all.rest[i]) {
			n++
			sx, sy = sx+x[i], sy+y[i]
			sxx, sxy, syy = sxx+x[i]*x[i], sxy+x[i]*y[i], syy+y[i]*y[i]
		}
	}
	sxx, sxy, syy = sxx-sx*sx/n, sxy-sx*sy/n, syy-sy*sy/n
	if n < fewestAnswers || !(sxx > 0) {
		return launchAnswer{}
	}
	slope := sxy / sxx
	variance := (math.Max(syy-slope*sxy, 0) + 2*usualAnswerSD*usualAnswerSD) / n
	return launchAnswer{slope, math.Sqrt(variance / sxx), true}
}

// aboutMedian is each value less their median.
func aboutMedian(v []float64) []float64 {
	mid, _ := median(v)
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] - mid
	}
	return out
}

// inLineWith tells which differences from a median are no outliers.
func inLineWith(v []float64) func(float64) bool {
	var sizes []float64
	for _, d := range v {
		sizes = append(sizes, math.Abs(d))
	}
	mid, _ := median(sizes)
	const normal = 1.4826 // of a standard deviation over the median one
	return func(d float64) bool { return math.Abs(d) <= answerOutlier*normal*mid }
}
