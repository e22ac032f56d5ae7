package predict_test

import (
	"fmt"
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestUp(t *testing.T) {
	for seed := uint64(1); seed < 400; seed++ {
		s := season.New(seed)
		if !s.Sheet {
			continue
		}
		var all []predict.Pass
		var last season.Run
		for _, r := range s.Runs {
			if r.Setup == 1 {
				// the same sheet error
				p := last.Pass
				f, _ := predict.Expect(all, p)
				q := r.Pass
				q.Machine.PowerHP = numb(q.Machine.PowerHP.Value() * math.Exp(s.SheetError[0]-s.SheetError[1]))
				q.Day, q.Track = "x", "y"
				g, _ := predict.Expect(all, q)
				p.Air, p.Day, p.Track = q.Air, "x", "y"
				f, _ = predict.Expect(all, p)
				at := s.Finish
				gain := math.Log(q.Machine.PowerHP.Value() / p.Machine.PowerHP.Value())
				pred := math.Log(g.ETs[at].Centre / f.ETs[at].Centre)
				truth := s.TrueChange[at]
				m, gr := f.Debug()
				fmt.Printf("UP %d %s %d gain %.3f pred %.4f true %.4f ratio %.3f  pw %.4f grip %.3f  x %.3f t60 pred %.4f true %.4f et %.2f\n", seed, s.Kind, at, gain, pred, truth, truth/pred, m, gr, gr/math.Pow(m, 2./3), math.Log(g.ETs[0].Centre/f.ETs[0].Centre), s.TrueChange[0], f.ETs[at].Centre)
				break
			}
			all = append(all, r.Pass)
			last = r
		}
	}
}
