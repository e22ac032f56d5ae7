package crew

import (
	"math"
	"slices"
	"strings"
)

// stopDoubt asks for the throttle stop of a slip that says none, where the run before in its
// class had one, and the time is too slow for a run without and more like that of one with it.
func (m *among) stopDoubt() (d Doubt, is bool) {
	slip := m.run.Slip
	at, timed := m.pass.Splits.Finish()
	noted := slip.FullPower != "" && slip.FullPower != string(FullPower)
	if !timed || noted || slip.StopOffS.Known() {
		return d, false
	}
	var last *Slip
	for i := range m.others {
		o := &m.others[i]
		if o.Time.Before(slip.Time.Time) && strings.EqualFold(ClassOf(*o), ClassOf(slip)) {
			last = o
		}
	}
	if last == nil || stopOf(*last) <= 0 {
		return d, false
	}
	stopped := m.pass
	stopped.StopFromS, stopped.StopS = last.StopOnS.Or(0), stopOf(*last)
	with, err := m.car.expect(m.before, stopped)
	if err != nil {
		return d, false
	}
	free, err := m.expect()
	if err != nil {
		return d, false
	}
	et := m.pass.Splits.ETs[at].Value()
	d = Doubt{Kind: StopUnsaid, At: at, Value: et, Likely: stopOf(*last), When: last.Time.Time}
	return d, et > free.ETs[at].High95 && et-free.ETs[at].Centre > math.Abs(et-with.ETs[at].Centre)
}

// stopOf is how long the throttle stop of a slip is on, s, 0 where it says none.
func stopOf(s Slip) float64 { return max(0, s.StopOffS.Or(0)-s.StopOnS.Or(0)) }

// Stops are the shortest and the longest throttle stop of some runs, s.
type Stops struct{ ShortS, LongS float64 }

// StopsOf are those of runs, each with its slip.
func StopsOf[R any](runs []R, slip func(R) Slip) (s Stops) {
	for i, r := range runs {
		on := stopOf(slip(r))
		if s.LongS = max(s.LongS, on); i == 0 || on < s.ShortS {
			s.ShortS = on
		}
	}
	return s
}

// Differ reports stops that were on for unlike times, by more than the last digit of a slip:
// the times of such runs tell the stop before they tell the car.
func (s Stops) Differ() bool { return s.LongS-s.ShortS > 0.005 }

// StopMove is how to set a throttle stop for an index.
type StopMove struct {
	NowS    float64 // how long it is on in the run that is forecast
	ForRisk StopSet // for the wanted risk of going under
	DeadOn  StopSet // for the index itself
	CostS   float64 // what a second of it costs at the finish
	SDS     float64 // of that
	Learned bool    // from the runs; else it is what is usual
}

// StopSet is a setting: how long the stop is on, in whole hundredths, 0 where off is still
// over the index; the ET that it makes, and the chance to go under the index by it.
type StopSet struct{ OnS, ETS, Under float64 }

// stopFor works out the stop for the wanted risk at an index, s, of a run with a stop as
// the slip has it; nil for one without.
func stopFor(f *Forecast, m Mark, s Slip, indexS, risk float64) (*StopMove, error) {
	now := stopOf(s)
	et, err := f.ETFor(m, risk)
	if err != nil || now <= 0 {
		return nil, err
	}
	move := StopMove{NowS: now}
	if move.CostS, move.SDS, move.Learned = f.StopSlope(); move.CostS <= 0 {
		return nil, nil
	}
	set := func(longer float64, whole func(float64) float64) (to StopSet) {
		to.OnS = max(0, whole((now+longer)*100)/100)
		slower := (to.OnS - now) * move.CostS
		to.ETS, to.Under = f.ETs[m].Centre+slower, f.BreakoutChance(m, indexS-slower)
		return to
	}
	up := func(hundredths float64) float64 { return math.Ceil(hundredths - 1e-6) }
	move.ForRisk = set((indexS-et)/move.CostS, up)
	move.DeadOn = set((indexS-f.ETs[m].Centre)/move.CostS, math.Round)
	return &move, nil
}

// stopIn sets the throttle stop of the run to come, as the vehicle's last run raced so had it;
// at an index, its last run with one: at that index, else at another, else in any class.
func (n *Next) stopIn(rules Rules) {
	same := func(r Run) bool { return RulesOf(r.Slip, r.Track).Format == rules.Format }
	like := []func(Run) bool{same}
	if rules.Format == Index {
		stopped := func(r Run) bool { return stopOf(r.Slip) > 0 }
		like = []func(Run) bool{
			func(r Run) bool { return stopped(r) && same(r) && r.Slip.IndexS == rules.IndexS },
			func(r Run) bool { return stopped(r) && same(r) },
			stopped,
		}
	}
	for _, like := range like {
		for _, r := range slices.Backward(n.car.runs[:n.car.since(n.Run.Slip.Time.Time)]) {
			if like(r) {
				n.Run.Slip.StopOnS, n.Run.Slip.StopOffS = r.Slip.StopOnS, r.Slip.StopOffS
				return
			}
		}
	}
}
