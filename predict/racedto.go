package predict

import (
	"cmp"
	"math"
	"slices"

	"slipcase/weather/units"
)

const (
	// deepBreakout is how far under its dial nobody runs: a time shorter than this share
	// of the dial was not made at the finish that the dial is for. Between the distances
	// times differ by a sixth and more (common practice, no source).
	deepBreakout = 0.925
	// asQuick is how far, in logs, the times of two lanes lie apart that race without a
	// handicap (common practice, no source).
	asQuick = 0.1
)

// RacedTo is the mark at which a round was decided. A run that broke may have no
// time there, so the slip alone does not tell. Of the distances timed at the track,
// ft (the eighth and the quarter where none is known), it is the one that the dial is
// for; without a dial, s, of those not less than the slip shows the one that the other
// lane's time and speed belong to; else where the slip ends.
func RacedTo(s Splits, lengthsFt []float64, dialS units.Number, other LaneRun) Mark {
	ends, timed := s.Finish()
	marks := racedMarks(lengthsFt, ends)
	if timed && !dialS.Known() {
		marks = slices.DeleteFunc(marks, func(m Mark) bool { return m < ends })
	}
	longest := marks[len(marks)-1]
	ended := func(m Mark) bool { return m >= ends }
	switch {
	case len(marks) == 1 || !timed:
		return longest
	case dialS.Known():
		// A stall makes a short distance take as long as the dial says for a longer one; the speeds tell.
		least := marks[0]
		if pace := s.pace(); pace > 0 {
			ft := math.Pow(dialS.Value()*pace/IdealPull*At1320.Ft(), 1.5)
			least = closest(marks, func(m Mark) float64 { return math.Log(m.Ft() / ft) })
		}
		ended = func(m Mark) bool { return m == longest || m >= least && s.about(m) >= deepBreakout*dialS.Value() }
	case other.ETS.Known() && other.MPH.Known():
		ft := other.ETS.Value() * other.MPH.Value() / IdealPull * At1320.Ft()
		return closest(marks, func(m Mark) float64 { return math.Log(m.Ft() / ft) })
	case other.ETS.Known():
		apart := func(m Mark) float64 { return math.Log(s.about(m) / other.ETS.Value()) }
		if m := closest(marks, apart); math.Abs(apart(m)) < asQuick {
			return m
		}
	}
	return marks[slices.IndexFunc(marks, ended)]
}

// racedMarks are the marks that a race may have ended at, in order: those timed at the
// track, and the slip's last one where it lies beyond them.
func racedMarks(lengthsFt []float64, ends Mark) (marks []Mark) {
	for m := At660; m < Marks; m++ {
		if slices.Contains(lengthsFt, m.Ft()) || len(lengthsFt) == 0 && (m != At1000 || m == ends) {
			marks = append(marks, m)
		}
	}
	if len(marks) == 0 || marks[len(marks)-1] < ends {
		marks = append(marks, max(ends, At660))
	}
	return marks
}

// about is the time at a mark, s: as the slip has it, or from its last one before by
// constant power from rest, t ∝ s^⅔ (Fox 1973): within a twentieth from 330 ft on and
// a fifth from 60 ft on the slips of the test.
func (s Splits) about(m Mark) float64 {
	if s.ETs[m].Known() {
		return s.ETs[m].Value()
	}
	ends, _ := s.upTo(m.Ft()).Finish()
	return s.ETs[ends].Or(0) * math.Pow(m.Ft()/ends.Ft(), 2./3)
}

// pace is the speed per cube root of the distance, mph/ft^(1/3), which constant power
// from rest keeps (v ∝ x^⅓, Fox 1973): the most that the slip shows, since a stall or
// a lift can only lower it; 0 without a speed.
func (s Splits) pace() (most float64) {
	for m := range Marks {
		most = max(most, s.MPHs[m].Or(0)/math.Cbrt(m.Ft()))
	}
	return most
}

func closest(marks []Mark, apart func(Mark) float64) Mark {
	return slices.MinFunc(marks, func(a, b Mark) int { return cmp.Compare(math.Abs(apart(a)), math.Abs(apart(b))) })
}
