package predict_test

import (
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather/units"
)

// A 1000 ft time .2 s off is seen by the times on both sides of it, and clean slips are not
// asked about.
func TestProofreadTimesBetweenSplits(t *testing.T) {
	leftToFullRun(t)
	var wrong, found, asked, clean int
	for by := range 2 {
		for seed := uint64(firstTestSeed + 50); seed < firstTestSeed+54; seed++ {
			runs := season.Make(season.Simulator(by), seed, season.Regime{}).Entered()
			for i := 4; i < len(runs); i += 5 {
				p := runs[i].Pass
				m := predict.At1000
				if !p.Splits.ETs[m].Known() || !p.Splits.ETs[predict.At1320].Known() || !p.Splits.ETs[predict.At660].Known() ||
					!runs[i].Clean {
					continue
				}
				f, err := predict.Expect(passesOf(runs[:i]), p)
				if err != nil {
					t.Fatal(err)
				}
				clean++
				if _, ask, _ := f.Proofread(p); ask {
					asked++
				}
				for _, by := range []float64{-0.2, 0.2} {
					q := p
					q.Splits.ETs[m] = units.Some(p.Splits.ETs[m].Value() + by)
					wrong++
					if about, ask, _ := f.Proofread(q); ask && about.Figure.Mark == m && !about.Figure.Speed {
						found++
					}
				}
			}
		}
	}
	if clean < 20 || found < wrong*8/10 || asked > clean/10 {
		t.Errorf("found %d of %d wrong 1000 ft times, asked about %d of %d clean slips", found, wrong, asked, clean)
	}
	t.Logf("found %d of %d wrong 1000 ft times, asked about %d of %d clean slips", found, wrong, asked, clean)
}

// A speed behind a noted lift may be any: it is not asked about.
func TestProofreadNotedLift(t *testing.T) {
	t.Parallel()
	s := season.Make(season.First, firstTestSeed+60, season.Regime{})
	runs := s.Entered()
	i := len(runs) - 1
	for !runs[i].Clean {
		i--
	}
	p := runs[i].Pass
	p.Splits.MPHs[s.Finish] = units.Some(0.45 * p.Splits.MPHs[s.Finish].Value())
	for _, noted := range []bool{false, true} {
		if p.Effort = ""; noted {
			p.Effort = predict.Lifted
		}
		f, err := predict.Expect(passesOf(runs[:i]), p)
		if err != nil {
			t.Fatal(err)
		}
		if _, ask, _ := f.Proofread(p); ask == noted {
			t.Errorf("lift noted %v: asked %v", noted, ask)
		}
	}
}
