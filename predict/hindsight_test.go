package predict_test

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat"

	"slipcase/predict"
	"slipcase/predict/season"
)

// What hindsight leaves out is what the forecast of a run right after leaves out,
// and a run's figures are absent from there on. Against the truth of invented seasons:
// the spread of what counts is near that of the runs which were clean.
func TestFiguresAreThoseThatTheForecastCounts(t *testing.T) {
	t.Parallel()
	for _, seed := range []uint64{3, 20, 31}[:campaignSize(1, 3, 3)] {
		s := season.New(seed)
		var all []predict.Pass
		for _, r := range s.Runs {
			all = append(all, r.Pass)
		}
		c, err := predict.NewCorrector(all)
		if err != nil {
			t.Fatal(err)
		}
		h, err := predict.NewHindsight(all)
		if err != nil {
			t.Fatal(err)
		}
		last := all[len(all)-1]
		next := predict.Pass{
			Machine:  last.Machine,
			Track:    last.Track,
			Air:      last.Air,
			AirKnown: last.AirKnown,
			Time:     last.Time.Add(time.Hour),
		}
		f := expect(t, all, next)
		if diff := cmp.Diff(f.LeftOut, h.LeftOut()); diff != "" {
			t.Errorf("seed %d: the forecast leaves out other runs than hindsight:\n%s", seed, diff)
		}
		leftOut := map[string]bool{}
		for _, l := range h.LeftOut() {
			leftOut[l.ID] = true
		}
		var counted, clean, every []float64
		for _, r := range s.Runs {
			if r.Setup != 0 || !r.Pass.Splits.ETs[s.Finish].Known() || !r.Pass.AirKnown {
				continue
			}
			std, _ := c.Correct(r.Pass)
			every = append(every, std.ETs[s.Finish].Centre)
			if r.Clean {
				clean = append(clean, std.ETs[s.Finish].Centre)
			}
			fig := h.Figures(r.Pass, s.Finish, c)
			if fig.ETStandard.Known() == leftOut[r.Pass.ID] {
				t.Errorf("seed %d: run %s left out %t, time %v", seed, r.Pass.ID, leftOut[r.Pass.ID], fig.ETStandard)
			}
			if fig.ETStandard.Known() {
				counted = append(counted, fig.ETStandard.Value())
			}
		}
		if got, want := stat.StdDev(counted, nil), stat.StdDev(clean, nil); math.Abs(math.Log(got/want)) > 0.3 {
			t.Errorf(
				"seed %d: spread %.4f s of what counts, %.4f of the clean runs, %.4f of all",
				seed,
				got,
				want,
				stat.StdDev(every, nil),
			)
		}
	}
}

func TestHindsightOfNothing(t *testing.T) {
	h, err := predict.NewHindsight(nil)
	if err != nil {
		t.Fatal(err)
	}
	f := h.Figures(predict.Pass{}, predict.At1320, &predict.Corrector{})
	if h.LeftOut() != nil || f.ET60.Known() || f.ETStandard.Known() {
		t.Errorf("%v, %+v", h.LeftOut(), f)
	}
}
