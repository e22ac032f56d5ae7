package predict_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"slipcase/predict"
	"slipcase/weather/units"
)

// judged holds a run against its forecast from those made before it.
func judged(history []predict.Pass, run predict.Pass) (predict.Judgement, error) {
	f, err := predict.Expect(history, run)
	if err != nil {
		return predict.Judgement{}, err
	}
	return f.Judge(run)
}

func TestPiecesSumToTheDifference(t *testing.T) {
	_, runs := steady(20)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, len(runs)-1).Draw(t, "runs before")
		run := runs[n]
		for m := range predict.Marks - 1 {
			if rapid.Bool().Draw(t, "not printed") {
				run.Splits.ETs[m], run.Splits.MPHs[m] = units.Number{}, units.Number{}
			}
		}
		j, err := judged(runs[:n], run)
		if err != nil {
			t.Fatal(err)
		}
		sum, at := 0., 0.
		for _, p := range j.Pieces {
			if p.From != at || p.To <= p.From {
				t.Fatalf("piece %+v does not begin at %g ft", p, at)
			}
			at = p.To
			sum += p.Seconds
		}
		if math.Abs(sum-j.Difference) > 1e-9 || at != j.Mark.Ft() {
			t.Fatalf("pieces sum to %.6f up to %g ft, want %.6f at %g ft", sum, at, j.Difference, j.Mark.Ft())
		}
	})
}

// Time lost in the first 60 ft must be found there, and time lost by a missed
// gear beyond 660 ft at the top end.
func TestJudgeFindsWhereItWasLost(t *testing.T) {
	t.Parallel()
	_, runs := steady(20)
	n := len(runs) - 1
	lose := func(from predict.Mark, s float64) predict.Pass {
		f := expect(t, runs[:n], runs[n])
		p := runs[n]
		p.Splits = f.Centre()
		for m := from; m < predict.Marks; m++ {
			p.Splits.ETs[m] = units.Some(p.Splits.ETs[m].Value() + s)
		}
		return p
	}
	for _, c := range []struct {
		from  predict.Mark
		s     float64
		piece predict.Part
		word  string
	}{
		{predict.At60, 0.08, predict.PartLaunch, "slow"},
		{predict.At330, 0.12, predict.PartMiddle, "slow"},
		{predict.At1000, 0.12, predict.PartTopEnd, "slow"},
		{predict.At60, -0.08, predict.PartLaunch, "quick"},
		{predict.At60, 0.0005, predict.PartLaunch, "~"},
	} {
		j, err := judged(runs[:n], lose(c.from, c.s))
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(j.Pieces, func(p predict.Piece) bool { return slices.Equal(p.Parts, []predict.Part{c.piece}) })
		if p := j.Pieces[i]; p.Word != c.word || c.word != "~" && math.Abs(p.Seconds) < 0.7*math.Abs(c.s) {
			t.Errorf("%+.4f s from %g ft on: %+v", c.s, c.from.Ft(), j.Pieces)
		} else if (p.MoreRuns == 0) != (c.word != "~") {
			t.Errorf("%v %s, and %d more runs would tell", p.Parts, p.Word, p.MoreRuns)
		}
	}
}

func TestJudgeSaysHowUnusual(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	n := len(runs) - 1
	f := expect(t, runs[:n], runs[n])
	b := f.ETs[m]
	for _, c := range []struct {
		et, percentile float64
	}{
		{b.Centre, 50},
		{b.Low50, 25},
		{b.High80, 90},
		{b.Low95, 2.5},
		{b.High95 * 1.05, 100},
	} {
		run := runs[n]
		run.Splits.ETs[m] = units.Some(c.et)
		j, err := judged(runs[:n], run)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(j.Percentile-c.percentile) > 0.1 {
			t.Errorf("%.3f: percentile %.2f, want %g", c.et, j.Percentile, c.percentile)
		}
	}
}

func TestJudgeOfALiftedRunGoesAsFarAsItWasSound(t *testing.T) {
	t.Parallel()
	_, runs := steady(20)
	n := len(runs) - 1
	run := runs[n]
	run.Effort, run.FullFt = predict.Lifted, units.Some(900)
	j, err := judged(runs[:n], run)
	if err != nil || j.Mark != predict.At660 {
		t.Errorf("judged at mark %d, %v; want 660 ft", j.Mark, err)
	}
	run.Effort, run.FullFt = predict.Broke, units.Number{}
	if _, err := judged(runs[:n], run); err == nil {
		t.Error("a broken run was judged")
	}
}
