package predict

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// Backtest is how the forecasts would have done on a log.
type Backtest struct {
	Tally
	ByHistory []Bucket
	// Unnoted are those of the Tally and the runs that only hindsight doubts: nothing was
	// noted of them, so the racer had to live with the forecast.
	Unnoted  Tally
	SetAside []LeftOut // runs that were no fair test: not at full power to the finish
}

// Bucket is the part of a back-test with so many runs before.
type Bucket struct {
	RunsBefore string // 0-2, 3-5, 6-10, 11-20, 21+
	Tally
}

// Tally sums forecasts up against what happened. Errors are forecast less
// actual, s; coverages are shares of one.
type Tally struct {
	N                                  int
	MAE, Bias                          float64
	Coverage50, Coverage80, Coverage95 float64
	// Score80 is the mean interval score of the 80 % interval, s: its width, and
	// ten times what the run was outside. T. Gneiting, A. E. Raftery, "Strictly
	// proper scoring rules", J. Am. Stat. Assoc. 102 (2007) 359, eq. (43). Less is better.
	Score80 float64
	// ByHand are the mean absolute errors of the hand methods, on the HandN runs
	// that had one before them, and OursByHand the forecast's own on those.
	ByHand     Hand
	OursByHand float64
	HandN      int
}

var buckets = []struct {
	name string
	upTo int
}{{"0-2", 2}, {"3-5", 5}, {"6-10", 10}, {"11-20", 20}, {"21+", math.MaxInt}}

// RunBacktest forecasts each run of one vehicle at the distance where it ended,
// from the runs before it. then holds the same passes with the air as it could be
// known before each was made, in the same order; give measured twice to grant the
// forecast each run's own air. Runs noted, or in hindsight found, not to be at
// full power to the finish are set aside, for the hand methods too. It ends with the
// context; step, unless nil, is told how many of how many forecasts are made.
func RunBacktest(ctx context.Context, measured, then []Pass, step func(done, of int)) (Backtest, error) {
	var b Backtest
	if len(measured) != len(then) {
		return b, fmt.Errorf(
			"%d passes but %d with the air known before: want the same passes twice",
			len(measured),
			len(then),
		)
	}
	past, err := inOrder(measured, then)
	if err != nil {
		return b, err
	}
	if err := forecastAll(ctx, past, step); err != nil {
		return b, err
	}
	b.ByHistory = make([]Bucket, len(buckets))
	var fair []Pass
	for before, p := range past {
		if p.forecast {
			actual := p.run.Splits.ETs[p.at].Value()
			hand, handed := handForecast(withTime(fair, p.at), p.then, p.at)
			b.Unnoted.add(p.band, actual, hand, handed)
			if !p.aside {
				for _, t := range []*Tally{&b.Tally, &b.ByHistory[bucketOf(before)].Tally} {
					t.add(p.band, actual, hand, handed)
				}
				fair = append(fair, p.run)
			}
		}
		if p.aside {
			b.SetAside = append(b.SetAside, p.why)
		}
	}
	b.Tally.average()
	b.Unnoted.average()
	for k := range b.ByHistory {
		b.ByHistory[k].RunsBefore = buckets[k].name
		b.ByHistory[k].average()
	}
	return b, nil
}

// pastRun is a run of a back-test.
type pastRun struct {
	run, then Pass
	at        Mark // where it ended
	aside     bool // it is no fair test
	why       LeftOut
	forecast  bool // it is forecast all the same
	band      Band
}

// inOrder are the runs by their time, and which of them are to be forecast.
func inOrder(measured, then []Pass) ([]pastRun, error) {
	out, err := leftOutOf(measured)
	if err != nil {
		return nil, err
	}
	past := make([]pastRun, len(measured))
	for i, run := range measured {
		p := pastRun{run: run, then: then[i]}
		some := false
		p.at, some = run.Splits.Finish()
		if p.why, p.aside = out[i]; !some {
			p.aside, p.why = true, LeftOut{ID: run.ID, Why: NoTime}
		}
		p.forecast = !p.aside || some && p.why.Why == OutOfLine
		past[i] = p
	}
	slices.SortStableFunc(past, func(a, b pastRun) int { return a.run.Time.Compare(b.run.Time) })
	return past, nil
}

// forecastAll makes each forecast from the runs before it, as many at a time as there are
// processors, the long ones first.
func forecastAll(ctx context.Context, past []pastRun, step func(done, of int)) error {
	history := make([]Pass, len(past))
	for i, p := range past {
		history[i] = p.run
	}
	var next atomic.Int64
	next.Store(int64(len(past)))
	var mu sync.Mutex
	var failed error
	made := 0
	tell := func(err error) {
		mu.Lock()
		defer mu.Unlock()
		if made++; err != nil {
			failed = err
		} else if step != nil {
			step(made, len(past))
		}
	}
	var wait sync.WaitGroup
	for range min(len(past), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := next.Add(-1); i >= 0 && ctx.Err() == nil; i = next.Add(-1) {
				tell(past[i].expect(history[:i]))
			}
		})
	}
	wait.Wait()
	if failed == nil && made < len(past) {
		return ctx.Err()
	}
	return failed
}

// expect forecasts the run from those before it, if it is to be.
func (p *pastRun) expect(before []Pass) error {
	if !p.forecast {
		return nil
	}
	f, err := Expect(before, p.then)
	if err != nil {
		return fmt.Errorf("run %s: %w", p.run.ID, err)
	}
	p.band = f.ETs[p.at]
	return nil
}

func bucketOf(runsBefore int) (k int) {
	for buckets[k].upTo < runsBefore {
		k++
	}
	return k
}

// leftOutOf tells which runs the whole log shows not to be at full power to the
// finish, by their place.
func leftOutOf(passes []Pass) (map[int]LeftOut, error) {
	out := map[int]LeftOut{}
	h, err := NewHindsight(passes)
	if err != nil || h.fit == nil {
		return out, err
	}
	found := map[string]LeftOut{}
	for i := range h.fit.samples {
		s := &h.fit.samples[i]
		if why, left := s.whyOut(); left {
			found[s.pass.ID+s.pass.Time.String()] = why
		}
	}
	for i, p := range passes {
		if why, left := found[p.ID+p.Time.String()]; left {
			out[i] = why
		}
	}
	return out, nil
}

func withTime(passes []Pass, m Mark) []Pass {
	return slices.DeleteFunc(slices.Clone(passes), func(p Pass) bool { return !p.Splits.ETs[m].Known() })
}

func (t *Tally) add(b Band, actual float64, hand Hand, handed bool) {
	t.N++
	miss := b.Centre - actual
	t.MAE += math.Abs(miss)
	t.Bias += miss
	for _, c := range []struct {
		low, high float64
		held      *float64
	}{{b.Low50, b.High50, &t.Coverage50}, {b.Low80, b.High80, &t.Coverage80}, {b.Low95, b.High95, &t.Coverage95}} {
		if c.low <= actual && actual <= c.high {
			*c.held++
		}
	}
	t.Score80 += IntervalScore(b.Low80, b.High80, actual, 0.2)
	if handed {
		t.HandN++
		t.OursByHand += math.Abs(miss)
		t.ByHand.LastRun += math.Abs(hand.LastRun - actual)
		t.ByHand.MeanOf3 += math.Abs(hand.MeanOf3 - actual)
		t.ByHand.LineOnDensityAltitude += math.Abs(hand.LineOnDensityAltitude - actual)
		t.ByHand.LastRunAirCorrected += math.Abs(hand.LastRunAirCorrected - actual)
	}
}

// IntervalScore is the score of a central interval that should miss with
// probability alpha: its width and 2/alpha times what the value lies outside.
func IntervalScore(low, high, value, alpha float64) float64 {
	return high - low + 2/alpha*math.Max(0, math.Max(low-value, value-high))
}

func (t *Tally) average() {
	if n := float64(t.N); n > 0 {
		for _, v := range []*float64{&t.MAE, &t.Bias, &t.Coverage50, &t.Coverage80, &t.Coverage95, &t.Score80} {
			*v /= n
		}
	}
	if n := float64(t.HandN); n > 0 {
		h := &t.ByHand
		for _, v := range []*float64{
			&t.OursByHand, &h.LastRun, &h.MeanOf3, &h.LineOnDensityAltitude,
			&h.LastRunAirCorrected,
		} {
			*v /= n
		}
	}
}
