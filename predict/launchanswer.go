package predict

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// launchAnswer is how the launch answers to power, as the runs tell: d ln(60 ft time)/
// d ln(speed at the finish), which goes with the power of each run, its air and its luck.
type launchAnswer struct {
	slope, sd float64
	heard     bool
}

// usualAnswer is that slope by the limit, and its standard deviation from vehicle to
// vehicle: a launch that takes no power answers nothing, one by torque t ∝ P^-½ where the
// speed goes with P^⅓ (-1.5), some more since it lasts longer. Set on invented vehicles for tuning.
var usualAnswer = [LaunchLimits]float64{ByTires: 0, ByWheelie: -0.1, ByTorque: -1.7, ByConverter: -1.7}

const answerSD = 0.5

// score is the log density of what was heard.
func (a launchAnswer) score(l LaunchLimit) float64 {
	if !a.heard {
		return 0
	}
	d := a.slope - usualAnswer[l]
	return -d * d / 2 / (a.sd*a.sd + answerSD*answerSD)
}

// engines is the share of the launch that the engine holds, beyond the usual, of a vehicle
// that tires or front wheel hold back, where that can be heard. By the derivation of
// usualAnswer a launch follows its power by a share of the slope over -1.5; luck of the
// launch, which makes time and speed better together, leaves some slope where nothing does.
// That, how vehicles differ, and how much of the share a change finds again, were set on
// invented upgrades for tuning: both simulators' cars and motorcycles agree in it.
func (a launchAnswer) engines() float64 {
	const usual, sd, whole, found = -0.35, 0.3, -1.5, 0.52
	if !a.heard {
		return 0
	}
	share := math.Min(math.Max((a.slope-usual)/whole, -1), 1)
	return found * share * sd * sd / (sd*sd + a.sd*a.sd)
}

const (
	fewestAnswers  = 6
	answerOutlier  = 3.5   // median deviations: a lift, a spin, a misread time
	usualAnswerSD  = 0.012 // of a 60 ft time about the line, in logs, counted as two runs
	usualAnswerDay = 0.008 // of a day's about it, counted as two days
)

// answerOf hears the launch of the runs, each beside the others of its state of the
// vehicle. A run whose speed is out of line with its time from 60 ft on was lifted late.
func (f *field) answerOf() launchAnswer {
	k, finish := speedAt[f.finish], timeAt[f.finish]
	if k < 0 {
		return launchAnswer{}
	}
	type era struct {
		speed, launch, rest []float64
		day                 []int
	}
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
		e.day = append(e.day, s.day)
	}
	var all era
	for _, e := range eras {
		all.speed = append(all.speed, aboutMedian(e.speed)...)
		all.launch = append(all.launch, aboutMedian(e.launch)...)
		all.rest = append(all.rest, aboutMedian(e.rest)...)
		all.day = append(all.day, e.day...)
	}
	x, y := all.speed, all.launch
	inLineX, inLineY, inLine := inLineWith(x), inLineWith(y), inLineWith(all.rest)
	var in answers
	for i := range x {
		if inLineX(x[i]) && inLineY(y[i]) && inLine(all.rest[i]) {
			in.power, in.launch, in.day = append(in.power, x[i]), append(in.launch, y[i]), append(in.day, all.day[i])
		}
	}
	return in.slope()
}

// answers are the logs of launches beside those of the power, and the days of the runs.
type answers struct {
	power, launch []float64
	day           []int
}

// slope is that of the line through them. The luck of a day's launches is common to them, so
// that few days say little of it, however many their runs.
func (a answers) slope() launchAnswer {
	n := float64(len(a.power))
	if n < fewestAnswers {
		return launchAnswer{}
	}
	x, y := stat.Mean(a.power, nil), stat.Mean(a.launch, nil)
	sxx, sxy := 0., 0.
	for i := range a.power {
		sxx, sxy = sxx+math.Pow(a.power[i]-x, 2), sxy+(a.power[i]-x)*(a.launch[i]-y)
	}
	if !(sxx > 0) {
		return launchAnswer{}
	}
	slope := sxy / sxx
	type sums struct{ n, power, launch float64 }
	days := map[int]sums{}
	within := 2 * usualAnswerSD * usualAnswerSD
	for i, d := range a.day {
		e, s := a.launch[i]-y-slope*(a.power[i]-x), days[d]
		days[d] = sums{s.n + 1, s.power + a.power[i] - x, s.launch + e}
		within += e * e
	}
	between, ofDay, common := 2*usualAnswerDay*usualAnswerDay, 0., 0.
	count := float64(len(days))
	for _, d := range slices.Sorted(maps.Keys(days)) {
		s := days[d]
		mean := s.launch / s.n
		within -= s.n * mean * mean
		between, ofDay, common = between+mean*mean, ofDay+1/s.n/count, common+s.power*s.power
	}
	within /= n - count + 2
	between = math.Max(between/count-within*ofDay, 0)
	return launchAnswer{slope, math.Sqrt(within*sxx+between*common) / sxx, true}
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
	sd := robustSD(v)
	return func(d float64) bool { return math.Abs(d) <= answerOutlier*sd }
}
