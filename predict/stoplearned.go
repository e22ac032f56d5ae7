package predict

import (
	"math"
	"slices"
)

// What a second of throttle stop costs is learned for each channel by itself, before the
// car's biases are: a regression of the channel's logs, less the run model's in that air, on
// the stop, a level for each state of the vehicle and the luck of days as random effects
// (see e.g. J. M. Wooldridge, Econometric Analysis of Cross Section and Panel Data (2010),
// ch. 10, for the quasi-demeaning of groups), doubtful runs given less weight.

const (
	stopNoiseSD   = 0.003 // of a run, logs, worth stopNoiseRuns before the car's own show
	stopDaySD     = 0.002 // of a day
	stopLoose     = 2.5   // robust standard deviations from which on a run counts less
	stopRounds    = 8
	stopNoiseRuns = 2.
)

// stopPoint is a run in one channel: its log less the run model's with the usual stop, and
// what one more of the cost would add.
type stopPoint struct {
	era, day int
	y, x     float64
	weight   float64
}

// learnStop gives every era what the runs with a stop tell of its cost.
func (f *field) learnStop() error {
	usual := usualStop()
	var points [channels][]stopPoint
	stops, n := 0., 0
	for i := range f.samples {
		s := &f.samples[i]
		if !s.pass.stopped() || math.IsInf(soundChances(s.pass)[5], -1) {
			continue
		}
		air, _ := f.airOf(s.pass)
		free, err := f.eras[s.era].car.run(air, windShare*headwind(s.pass))
		if err != nil {
			return err
		}
		logs, _ := s.pass.Splits.logs()
		slow, sens, before := usual.slowed(s.pass, free), usual.slope(s.pass, free), s.pass.before(free)
		for c := range channels {
			if s.has[c] {
				points[c] = append(points[c], stopPoint{s.era, s.day, logs[c] - slow[c], sens[c] * before[c], 1})
			}
		}
		stops, n = stops+s.pass.StopS, n+1
	}
	if n == 0 {
		return nil
	}
	own := usual
	own.at, own.runs = stops/float64(n), n
	for c := range channels {
		by, sd := stopRegression(points[c], usual.sd[c])
		own.by[c], own.sd[c] = usual.by[c]+by, sd
	}
	for _, e := range f.eras {
		e.car.stop = own
	}
	return nil
}

// stopRegression is how much more than usual one channel's stop costs, and the standard
// deviation that remains of the prior one.
func stopRegression(points []stopPoint, priorSD float64) (by, sd float64) {
	if len(points) < 2 {
		return 0, priorSD
	}
	noise := stopNoiseSD * stopNoiseSD
	for range stopRounds {
		xs, ys, ws, spent := levelled(points, noise)
		info, pull := 1/(priorSD*priorSD), 0.
		for i, x := range xs {
			info, pull = info+ws[i]*x*x/noise, pull+ws[i]*x*ys[i]/noise
		}
		by, sd = pull/info, 1/math.Sqrt(info)
		left := make([]float64, len(xs))
		for i, x := range xs {
			left[i] = ys[i] - by*x
		}
		scale := math.Max(robustSD(left), stopNoiseSD/4)
		sum, n := stopNoiseRuns*stopNoiseSD*stopNoiseSD, stopNoiseRuns-spent
		for i, r := range left {
			points[i].weight = math.Min(1, math.Pow(stopLoose*scale/math.Max(math.Abs(r), 1e-9), 2))
			sum, n = sum+points[i].weight*r*r, n+points[i].weight
		}
		noise = sum / math.Max(n, stopNoiseRuns)
	}
	return by, sd
}

// levelled takes the level of each era off, and most of the luck of each day; spent is how
// many levels that took.
func levelled(points []stopPoint, noise float64) (xs, ys, ws []float64, spent float64) {
	type mean struct{ x, y, one, n float64 }
	take := func(of map[int]mean, key int, x, y, one, w float64) {
		m := of[key]
		m.x, m.y, m.one, m.n = m.x+w*x, m.y+w*y, m.one+w*one, m.n+w
		of[key] = m
	}
	days, eras := map[int]mean{}, map[int]mean{}
	for _, p := range points {
		take(days, p.day, p.x, p.y, 1, p.weight)
	}
	ones := make([]float64, 0, len(points))
	for _, p := range points {
		m := days[p.day]
		share := 1 - math.Sqrt(noise/(noise+m.n*stopDaySD*stopDaySD))
		xs, ys = append(xs, p.x-share*m.x/m.n), append(ys, p.y-share*m.y/m.n)
		ones, ws = append(ones, 1-share), append(ws, p.weight)
		take(eras, p.era, ones[len(ones)-1]*xs[len(xs)-1], ones[len(ones)-1]*ys[len(ys)-1], 0, p.weight)
		m = eras[p.era]
		m.one += p.weight * (1 - share) * (1 - share)
		eras[p.era] = m
	}
	for i, p := range points {
		m := eras[p.era]
		xs[i], ys[i] = xs[i]-ones[i]*m.x/m.one, ys[i]-ones[i]*m.y/m.one
	}
	return xs, ys, ws, float64(len(eras))
}

// anyFree reports a run without a stop among some.
func anyFree(samples []sample) bool {
	return slices.ContainsFunc(samples, func(s sample) bool { return !s.pass.stopped() })
}
