package predict

import (
	"context"
	"fmt"
	"math"
	"slices"
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
// context.
func RunBacktest(ctx context.Context, measured, then []Pass) (Backtest, error) {
	var b Backtest
	if len(measured) != len(then) {
		return b, fmt.Errorf(
			"%d passes but %d with the air known before: want the same passes twice",
			len(measured),
			len(then),
		)
	}
	order := make([]int, len(measured))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return measured[i].Time.Compare(measured[j].Time) })
	out, err := hindsight(measured)
	if err != nil {
		return b, err
	}
	b.ByHistory = make([]Bucket, len(buckets))
	var history, fair []Pass
	for _, i := range order {
		if err := ctx.Err(); err != nil {
			return b, err
		}
		run := measured[i]
		m, some := run.Splits.Finish()
		why, aside := out[i]
		switch {
		case !some:
			b.SetAside = append(b.SetAside, LeftOut{ID: run.ID, Why: NoTime})
		case aside && why.Why != OutOfLine:
			b.SetAside = append(b.SetAside, why)
		default:
			f, err := Expect(history, then[i])
			if err != nil {
				return b, fmt.Errorf("run %s: %w", run.ID, err)
			}
			hand, handed := handForecast(withTime(fair, m), then[i], m)
			b.Unnoted.add(f.ETs[m], run.Splits.ETs[m].Value(), hand, handed)
			if aside {
				b.SetAside = append(b.SetAside, why)
				break
			}
			k := slices.IndexFunc(buckets, func(k struct {
				name string
				upTo int
			},
			) bool {
				return len(history) <= k.upTo
			})
			for _, t := range []*Tally{&b.Tally, &b.ByHistory[k].Tally} {
				t.add(f.ETs[m], run.Splits.ETs[m].Value(), hand, handed)
			}
			fair = append(fair, run)
		}
		history = append(history, run)
	}
	b.Tally.average()
	b.Unnoted.average()
	for k := range b.ByHistory {
		b.ByHistory[k].RunsBefore = buckets[k].name
		b.ByHistory[k].average()
	}
	return b, nil
}

// hindsight tells which runs the whole log shows not to be at full power to the
// finish, by their place.
func hindsight(passes []Pass) (map[int]LeftOut, error) {
	out := map[int]LeftOut{}
	if len(passes) == 0 {
		return out, nil
	}
	c, err := NewCorrector(passes)
	if err != nil {
		return nil, err
	}
	found := map[string]LeftOut{}
	for i := range c.fit.samples {
		s := &c.fit.samples[i]
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
