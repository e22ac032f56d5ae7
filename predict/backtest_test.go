package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestBacktest(t *testing.T) {
	t.Parallel()
	s := season.New(20)
	var runs []predict.Pass
	for _, r := range s.Runs {
		runs = append(runs, r.Pass)
	}
	b, err := predict.RunBacktest(t.Context(), runs, runs, nil)
	if err != nil {
		t.Fatal(err)
	}
	if b.N+len(b.SetAside) != len(runs) {
		t.Errorf("%d tried and %d set aside of %d", b.N, len(b.SetAside), len(runs))
	}
	n, mae := 0, 0.
	for _, k := range b.ByHistory {
		n += k.N
		mae += k.MAE * float64(k.N)
	}
	if n != b.N || math.Abs(mae/float64(n)-b.MAE) > 1e-9 {
		t.Errorf("buckets hold %d runs with mean error %.4f, want %d and %.4f", n, mae/float64(n), b.N, b.MAE)
	}
	if b.Coverage50 > b.Coverage80 || b.Coverage80 > b.Coverage95 {
		t.Errorf("coverage %.2f %.2f %.2f", b.Coverage50, b.Coverage80, b.Coverage95)
	}
	// One by one, the forecasts are those that Expect makes.
	last := len(runs) - 1
	for ; !s.Runs[last].Clean; last-- {
	}
	upTo, err := predict.RunBacktest(t.Context(), runs[:last+1], runs[:last+1], nil)
	if err != nil {
		t.Fatal(err)
	}
	before, err := predict.RunBacktest(t.Context(), runs[:last], runs[:last], nil)
	if err != nil {
		t.Fatal(err)
	}
	f := expect(t, runs[:last], runs[last])
	et := runs[last].Splits.ETs[s.Finish].Value()
	got := upTo.Bias*float64(upTo.N) - before.Bias*float64(before.N)
	if upTo.N == before.N+1 && math.Abs(got-(f.ETs[s.Finish].Centre-et)) > 1e-9 {
		t.Errorf("the last run adds %.6f to the bias, the forecast missed by %.6f", got, f.ETs[s.Finish].Centre-et)
	}
	if _, err := predict.RunBacktest(t.Context(), runs, runs[1:], nil); err == nil {
		t.Error("took two logs of different length")
	}
	if b, err := predict.RunBacktest(t.Context(), nil, nil, nil); err != nil || b.N != 0 {
		t.Errorf("an empty log: %+v, %v", b, err)
	}
}

// Gneiting and Raftery (2007), eq. (43): width, and 2/α times what lies outside.
func TestIntervalScore(t *testing.T) {
	for _, c := range []struct{ low, high, value, alpha, want float64 }{
		{10, 12, 11, 0.2, 2},
		{10, 12, 9, 0.2, 12},
		{10, 12, 12.5, 0.05, 22},
	} {
		if got := predict.IntervalScore(c.low, c.high, c.value, c.alpha); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("score of %g in %g to %g: %g, want %g", c.value, c.low, c.high, got, c.want)
		}
	}
}

// What the expected score rewards: the true quantiles of a uniform law score less
// than narrower or wider ones (the rule is proper).
func TestIntervalScoreIsProper(t *testing.T) {
	mean := func(half float64) float64 {
		sum := 0.
		for i := range 1000 {
			sum += predict.IntervalScore(0.5-half, 0.5+half, (float64(i)+0.5)/1000, 0.2)
		}
		return sum
	}
	if best := mean(0.4); best >= mean(0.35) || best >= mean(0.45) {
		t.Errorf("true quantiles score %g, narrower %g, wider %g", best, mean(0.35), mean(0.45))
	}
}

// What the racer did not note counts in the wider tally, whatever hindsight makes of it: on
// seasons with slick days that is the worse one.
func TestBacktestUnnoted(t *testing.T) {
	leftToFullRun(t)
	sound, all, n := 0., 0., 0
	for seed := uint64(31); seed < 31+campaignSize(1, 4, 4); seed++ {
		runs := passesOf(season.Make(season.First, seed, season.Regime{SlowDays: 0.3}).Entered())
		b, err := predict.RunBacktest(t.Context(), runs, runs, nil)
		if err != nil {
			t.Fatal(err)
		}
		noted := 0
		for _, p := range runs {
			if p.FullFt.Known() || !predict.FullEffort(p.Effort) {
				noted++
			}
		}
		if b.Unnoted.N < b.N || b.Unnoted.N < len(runs)-noted-2 {
			t.Errorf("seed %d: %d runs of %d, %d noted, %d sound", seed, b.Unnoted.N, len(runs), noted, b.N)
		}
		sound, all, n = sound+b.MAE, all+b.Unnoted.MAE, n+b.Unnoted.N-b.N
	}
	if n == 0 || all <= sound {
		t.Errorf("%d runs out of line: missed by %.3f with them, %.3f without", n, all, sound)
	}
}
