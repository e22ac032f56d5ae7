package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather/units"
)

// moved is a run with all its times longer, and its speeds less, by a share.
func moved(p predict.Pass, by float64) predict.Pass {
	for m := range p.Splits.ETs {
		if n := &p.Splits.ETs[m]; n.Known() {
			*n = units.Some(n.Value() * math.Exp(by))
		}
		if n := &p.Splits.MPHs[m]; n.Known() {
			*n = units.Some(n.Value() * math.Exp(-by))
		}
	}
	return p
}

// The pieces add up to the forecast and its range; none of the range's is below nothing.
func TestWhyAddsUp(t *testing.T) {
	t.Parallel()
	for by := range 2 {
		runs := season.Make(season.Simulator(by), 11, season.Regime{}).Entered()
		for _, n := range []int{0, 1, 3, 8, 20, len(runs) - 1} {
			f, err := predict.Expect(passesOf(runs[:n]), runs[n].Pass)
			if err != nil {
				t.Fatal(err)
			}
			w, err := f.Why()
			if err != nil {
				t.Fatal(err)
			}
			b := f.ETs[f.Finish]
			et, reach := w.CarS, 0.
			for _, p := range w.Pieces {
				et, reach = et+p.ETS, reach+p.RangeS
				if p.RangeS < -1e-9 {
					t.Errorf("%d runs: %s takes %.4f off the range", n, p.Kind, -p.RangeS)
				}
			}
			if math.Abs(et-b.Centre) > 1e-9 || math.Abs(reach-(b.High80-b.Low80)/2) > 1e-9 {
				t.Errorf(
					"%d runs: pieces make %.4f ± %.4f, the forecast is %.4f ± %.4f",
					n,
					et,
					reach,
					b.Centre,
					(b.High80-b.Low80)/2,
				)
			}
		}
	}
}

// What a run counts is how far the forecast follows when that run alone is moved.
func TestWhyRunCounts(t *testing.T) {
	t.Parallel()
	s := season.New(11)
	runs := passesOf(s.Entered())
	history, next := runs[:14], runs[14]
	f, err := predict.Expect(history, next)
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.Why()
	if err != nil {
		t.Fatal(err)
	}
	const by = 1e-4
	for _, c := range w.Counts[:8] {
		var other []predict.Pass
		for _, p := range history {
			if p.ID == c.ID {
				p = moved(p, by)
			}
			other = append(other, p)
		}
		g, err := predict.Expect(other, next)
		if err != nil {
			t.Fatal(err)
		}
		got := math.Log(g.ETs[s.Finish].Centre/f.ETs[s.Finish].Centre) / by
		if math.Abs(got-c.Share) > 0.11 { // how sound runs are, and how they scatter, is weighed anew
			t.Errorf("run %s counts %.3f, the forecast follows by %.3f", c.ID, c.Share, got)
		}
	}
}
