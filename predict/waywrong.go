package predict

import (
	"math"

	"slipcase/weather/units"
)

// ways are the ways in which a run goes wrong, each with its sizes as shifts of the logs.
type ways struct {
	mean   vec
	lost   [][]vec // about each mark but the finish
	down   []vec
	lifts  []vec
	finish Mark // of the lifts
}

func newWays(mean vec) ways {
	w := ways{mean: mean, down: shortOfPower(), finish: -1}
	for _, about := range []Mark{At60, At330, At660, At1000} {
		w.lost = append(w.lost, lostAbout(mean, about))
	}
	return w
}

// upTo are the ways on a slip whose last figure is at a mark.
func (w *ways) upTo(finish Mark) *ways {
	if w.finish != finish {
		w.finish, w.lifts = finish, liftsBefore(w.mean, finish)
	}
	return w
}

// lostAbout is time lost about a mark, of 0.03 to 1.5 s, some of it behind the mark:
// every later time is later by all of it, the speed soon after a little lower.
func lostAbout(mean vec, about Mark) (shifts []vec) {
	for _, before := range []float64{0.25, 0.5, 0.75, 1} {
		for s := 0.03; s < 1.5; s *= 1.2 {
			var v vec
			for c, of := range channelOf {
				late := s
				if of.mark == about {
					late *= before
				}
				switch {
				case of.mark < about:
				case of.speed:
					v[c] = -0.1 * late / math.Exp(mean[timeAt[of.mark]])
				default:
					v[c] = math.Log1p(late / math.Exp(mean[c]))
				}
			}
			shifts = append(shifts, v)
		}
	}
	return shifts
}

// shortOfPower is an engine short of a share of its power from the start; speed and time
// follow its cube root, the launch hardly (Fox 1973).
func shortOfPower() (shifts []vec) {
	follows := [Marks]float64{0.10, 0.22, 0.27, 0.30, 0.31}
	for less := 0.03; less < 0.5; less += 0.02 {
		var v vec
		for c, of := range channelOf {
			if of.speed {
				v[c] = math.Log(1-less) / 3
			} else {
				v[c] = -math.Log(1-less) * follows[of.mark]
			}
		}
		shifts = append(shifts, v)
	}
	return shifts
}

// liftsBefore are lifts or brakes from a place before the last figure on, which take a share
// of the speed by then, evenly with the distance.
func liftsBefore(mean vec, finish Mark) (shifts []vec) {
	if finish < At660 {
		return []vec{{}}
	}
	end := finish.Ft()
	endMPH := math.Exp(mean[speedAt[finish]])
	for _, from := range []float64{0.50, 0.60, 0.68, 0.76, 0.83, 0.89, 0.94, 0.98} {
		lifted := newLiftFrom(mean, from*end, end, endMPH)
		for less := 0.02; less < 0.65; less *= 1.05 {
			shifts = append(shifts, lifted.by(less))
		}
	}
	return shifts
}

// liftFrom is a lift from a place on; how late it makes each time is summed up over steps of
// the way, whose lengths in time do not depend on the share of speed that is lost.
type liftFrom struct {
	from, end float64
	fullS     [channels]float64    // each time at full power
	steps     [channels][]liftStep // up to the place of each time
}

type liftStep struct{ fullS, share float64 } // at full power, and of the way from lift to end

func newLiftFrom(mean vec, from, end, endMPH float64) *liftFrom {
	const steps = 12
	w := &liftFrom{from: from, end: end}
	for c, of := range channelOf {
		ft := of.mark.Ft()
		if of.speed || ft <= from || ft > end {
			continue
		}
		w.fullS[c] = math.Exp(mean[c])
		dx := (ft - from) / steps
		for i := range steps {
			x := from + (float64(i)+0.5)*dx
			full := endMPH * math.Cbrt(x/end) * units.FtPerSPerMPH
			w.steps[c] = append(w.steps[c], liftStep{dx / full, (x - from) / (end - from)})
		}
	}
	return w
}

func (w *liftFrom) by(less float64) (v vec) {
	for c, of := range channelOf {
		ft := of.mark.Ft()
		if ft <= w.from || ft > w.end {
			continue
		}
		if of.speed {
			v[c] = math.Log(1 - less*math.Max(ft-33-w.from, 0)/(w.end-w.from)) // the middle of the trap
			continue
		}
		late := 0.
		for _, s := range w.steps[c] {
			late += s.fullS * (1/(1-less*s.share) - 1)
		}
		v[c] = math.Log1p(late / w.fullS[c])
	}
	return v
}
