package predict

import (
	"math"
	"slices"
)

// A throttle stop holds the car back for a time that the racer sets. While it is on, the car
// rolls on about as fast as it was, v, so that a second of it costs 1 - v/u of a second at
// the finish, u being the speed there (what it has rolled need not be run any more; by the
// kinematics of a pause at constant speed). It comes on soon after the launch, at 10 to 30
// mph of 120 to 180, and a blade that leaves some throttle open costs less: 0.85 before
// runs, give or take 0.12, common practice, no source. The runs of the car tell its own.
const (
	stopSlope   = 0.85
	stopSlopeSD = 0.12
)

// stopped reports that the run had a throttle stop, by what the racer noted.
func (p *Pass) stopped() bool { return p.StopS > 0 }

// stopBefore is how much of the stop counts at a mark that the car would reach at a time
// without it, s. Of one that is on over the mark that is rough (stopDoubt).
func (p *Pass) stopBefore(et float64) float64 {
	return math.Min(p.StopS, math.Max(et-p.StopFromS, 0))
}

// slowed are the logs of a run by the run model with its stop.
func (p *Pass) slowed(y vec) vec {
	if !p.stopped() {
		return y
	}
	for m := range Marks {
		c := timeAt[m]
		et := math.Exp(y[c])
		y[c] = math.Log(et + stopSlope*p.stopBefore(et))
	}
	return y
}

// stopLaw is what one more of the slope does to the logs of a run that would be free without
// its stop.
func (p *Pass) stopLaw(free vec) (sens vec) {
	for m := range Marks {
		c := timeAt[m]
		before := p.stopBefore(math.Exp(free[c]))
		sens[c] = before / (math.Exp(free[c]) + stopSlope*before)
	}
	return sens
}

// overStopSD is how far, in logs, the time at a mark that is passed while the stop is on may
// be from what is said of it: how fast the car rolls there nobody has told.
const overStopSD = 0.4

// stopDoubt adds to the doubt about the first era's bias at the marks over which a stop was
// on in any run.
func (f *field) stopDoubt(doubt *square) error {
	some := func(is func(p *Pass) bool) bool {
		return is(f.next) || slices.ContainsFunc(f.samples, func(s sample) bool { return is(s.pass) })
	}
	if !some((*Pass).stopped) {
		return nil
	}
	free, err := f.eras[0].car.run(f.usual, 0)
	if err != nil {
		return err
	}
	for c, of := range channelOf {
		if some(func(p *Pass) bool { return p.stopped() && math.Exp(free[timeAt[of.mark]]) < p.StopFromS+p.StopS }) {
			doubt[c][c] += overStopSD * overStopSD
		}
	}
	return nil
}

// StopSlope is what a second of throttle stop costs this car at the finish, s, and the
// standard deviation that remains; told is false where its runs tell little of it, as
// where they all had the same stop.
func (f *Forecast) StopSlope() (s, sd float64, told bool) {
	own, sd := f.fit.lawOwn(lawOfStop)
	return stopSlope + own, sd, sd < 0.7*stopSlopeSD
}
