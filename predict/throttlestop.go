package predict

import (
	"math"
	"slices"

	"slipcase/weather"
)

// A throttle stop holds the car back for a time that the racer sets. A car that rolls on
// at about the speed v that it had loses 1 - v/u of a second with each second of it at a
// mark that it passes at u (what it has rolled need not be run any more; by the kinematics
// of a pause at constant speed): most at the finish, less at the early marks, and its
// speeds fall little. How much, hangs on the blade, on when it shuts and on the gears:
// before runs the finish loses 0.70 ± 0.15 (common practice, no source; the tuning seasons
// have 0.21 to 0.84). The runs of the car tell its own, for each mark and speed apart:
// taken together a fallen speed would pass for lost power and swallow the stop.
const (
	stopSlope   = 0.70
	stopSlopeSD = 0.15
)

// What a second of stop does to each channel before runs, s to times and logs to speeds,
// and how far the car may be from that beside what it is off at the finish. The shares of
// 60 to 1000 ft are those of the tuning seasons.
var (
	stopUsual = vec{
		0.50 * stopSlope, 0.88 * stopSlope, -0.013, 0.95 * stopSlope, -0.008, 0.98 * stopSlope, -0.006, stopSlope,
	}
	stopOwnSD = vec{0.20, 0.08, 0.03, 0.04, 0.02, 0.03, 0.02, 0.005}
)

// stopCosts are what a second of stop does to each channel of one car, the standard
// deviation that remains of it, and the stop, s, about which the runs tell it. Further
// from there it is told the less.
type stopCosts struct {
	by, sd vec
	at     float64
	runs   int // that tell it
}

// usualStop is what is believed before runs.
func usualStop() stopCosts {
	s := stopCosts{by: stopUsual}
	for c := range s.sd {
		s.sd[c] = math.Hypot(stopOwnSD[c], stopSlopeSD*finishShare(c))
	}
	return s
}

// finishShare is how much of what the finish loses a channel does.
func finishShare(c int) float64 {
	if channelOf[c].speed {
		return 0
	}
	return stopUsual[c] / stopSlope
}

// stopped reports that the run had a throttle stop, by what the racer noted.
func (p *Pass) stopped() bool { return p.StopS > 0 }

// stopBefore is how much of the stop counts at a mark that the car would reach at a time
// without it, s. Of one that is on over the mark that is rough (stopDoubt).
func (p *Pass) stopBefore(et float64) float64 {
	return math.Min(p.StopS, math.Max(et-p.StopFromS, 0))
}

// before is the same for each channel of a run that would be free without it.
func (p *Pass) before(free vec) (s vec) {
	for c, of := range channelOf {
		s[c] = p.stopBefore(math.Exp(free[timeAt[of.mark]]))
	}
	return s
}

// slowed are the logs of a run by the run model with its stop.
func (s *stopCosts) slowed(p *Pass, free vec) vec {
	if !p.stopped() {
		return free
	}
	before := p.before(free)
	y := free
	for c, of := range channelOf {
		if of.speed {
			y[c] += s.by[c] * before[c]
		} else {
			y[c] = math.Log(math.Exp(free[c]) + s.by[c]*before[c])
		}
	}
	return y
}

// slope is what one more of the costs does to each log of a run for a second of stop.
func (s *stopCosts) slope(p *Pass, free vec) (sens vec) {
	slow := s.slowed(p, free)
	for c, of := range channelOf {
		if sens[c] = 1; !of.speed {
			sens[c] = math.Exp(-slow[c])
		}
	}
	return sens
}

// overStopSD is how far, in logs, the time at a mark that is passed while the stop is on may
// be from what is said of it: how fast the car rolls there nobody has told.
const overStopSD = 0.2

// stopDoubt is the covariance, before any run, of what a stop does to the logs of a run
// like that one.
func stopDoubt(p *Pass, free vec) (s square) {
	costs := usualStop()
	sens, before := costs.slope(p, free), p.before(free)
	var finish vec
	for c, of := range channelOf {
		finish[c] = sens[c] * before[c] * finishShare(c)
		s[c][c] += math.Pow(sens[c]*before[c]*stopOwnSD[c], 2)
		if math.Exp(free[timeAt[of.mark]]) < p.StopFromS+p.StopS {
			s[c][c] += overStopSD * overStopSD
		}
	}
	s.outer(finish, stopSlopeSD*stopSlopeSD)
	return s
}

// stopDoubt is the same for an era, by the first run with a stop.
func (f *field) stopDoubt(eraAt int) (s square, err error) {
	p := f.next
	if i := slices.IndexFunc(f.samples, func(s sample) bool { return s.pass.stopped() }); i >= 0 {
		p = f.samples[i].pass
	}
	free, err := f.eras[eraAt].car.run(f.usual, 0)
	if err != nil {
		return s, err
	}
	return stopDoubt(p, free), nil
}

// stopAhead is what a standard deviation of what the runs leave open of the stop's cost does to
// the logs of a run whose stop is another than those that tell it; nothing before the first run
// with one, which its era's doubt covers.
func (e *era) stopAhead(p *Pass, air weather.Air) (off vec) {
	costs := &e.car.stop
	if !p.stopped() || costs.runs == 0 {
		return off
	}
	free, err := e.car.run(air, windShare*headwind(p))
	if err != nil {
		return off
	}
	was := *p
	was.StopS = costs.at
	sens, before, usual := costs.slope(p, free), p.before(free), was.before(free)
	for c, of := range channelOf {
		if off[c] = sens[c] * costs.sd[c] * (before[c] - usual[c]); of.speed {
			off[c] = -off[c]
		}
	}
	return off
}

// firstOfStop says that no run yet was made with a throttle stop, or without, as the next is;
// "" where there is one, or none at all.
func (t *fit) firstOfStop() NoteKind {
	alike := func(s sample) bool { return s.pass.stopped() == t.next.stopped() }
	switch {
	case len(t.samples) == 0 || slices.ContainsFunc(t.samples, alike):
		return ""
	case t.next.stopped():
		return FirstStop
	}
	return FirstFree
}

// StopSlope is what a second of throttle stop costs this car at the finish, s, and the
// standard deviation that remains; told is false where its runs tell little of it, as
// where they all had the same stop.
func (f *Forecast) StopSlope() (s, sd float64, told bool) {
	costs, c := &f.fit.eras[f.fit.nextEra].car.stop, timeAt[f.fit.finish]
	return costs.by[c], costs.sd[c], costs.sd[c] < 0.7*usualStop().sd[c]
}
