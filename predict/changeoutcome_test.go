package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// On invented seasons with an upgrade in the middle the true change is known: what
// came, by all runs with it, is near it, and its interval mostly holds it.
func TestJudgeFindsWhatCame(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short: two dozen seasons")
	}
	n, held, miss, first := 0, 0, 0., 0.
	for seed := uint64(200_001); seed < 200_025; seed++ {
		s := season.New(seed)
		var before, after []predict.Pass
		for _, r := range s.Runs {
			if r.Setup == 0 {
				before = append(before, r.Pass)
			} else {
				after = append(after, r.Pass)
			}
		}
		o, err := predict.JudgeChange(before, after[:min(12, len(after))], predict.Change{Gain: predict.ClaimedGain(0.2)})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if o.Mark != s.Finish {
			continue
		}
		f, err := predict.Expect(before, before[len(before)-1])
		if err != nil {
			t.Fatal(err)
		}
		last := o.Came[len(o.Came)-1]
		truth := f.ETs[o.Mark].Centre * math.Expm1(s.TrueChange[o.Mark])
		n++
		if last.ETGain.Low <= truth && truth <= last.ETGain.High {
			held++
		}
		miss += math.Abs(last.ETGain.Likely - truth)
		first += math.Abs(o.Came[0].ETGain.Likely - truth)
		if last.Implied == nil || !(last.Implied.Low <= last.Implied.Likely && last.Implied.Likely <= last.Implied.High) {
			t.Errorf("seed %d: implied %v", seed, last.Implied)
		}
	}
	t.Logf(
		"%d upgrades: missed by %.0f thousandths, by the first run alone %.0f; held %d",
		n,
		1000*miss/float64(n),
		1000*first/float64(n),
		held,
	)
	if n < 20 || miss/float64(n) > 0.08 || 100*held < 58*n { // one in a hundred that hold 80 % are under 58
		t.Errorf("%d upgrades: missed by %.3f s, held %d", n, miss/float64(n), held)
	}
}

// A run that spun is no outcome: what is left is the promise.
func TestJudgeWithoutARun(t *testing.T) {
	t.Parallel()
	s := season.New(200_001)
	spun := s.Runs[5].Pass
	spun.Effort = predict.Spun
	o, err := predict.JudgeChange(
		[]predict.Pass{s.Runs[0].Pass},
		[]predict.Pass{spun},
		predict.Change{Gain: predict.ClaimedGain(0.1)},
	)
	if err != nil || len(o.Came) != 0 || !(o.Promised.Likely < 0) {
		t.Errorf("judged by a run that spun: %+v, %v", o, err)
	}
}
