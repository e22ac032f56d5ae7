package predict_test

import (
	"fmt"
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestTune2(t *testing.T) {
	for seed := uint64(1); seed <= 300; seed++ {
		s := season.NewUpgrade(seed)
		p, err := predict.NewProspect(s.Runs, s.Now)
		if err != nil {
			t.Fatal(err)
		}
		c := predict.Change{Gain: predict.Exactly(s.Gain), WeightLb: predict.Exactly(s.AddedLb)}
		u, err := p.Try(c)
		if err != nil {
			t.Fatal(err)
		}
		m := s.Finish
		d := func(m predict.Mark) (float64, float64) {
			return math.Log(s.After.ET[m] / s.Before.ET[m]), math.Log1p(u.ETGain[m].Likely / p.Before.ETs[m].Centre)
		}
		t60, p60 := d(0)
		tf, pf := d(m)
		w0 := s.Now.Machine.WeightLb.Value()
		b := p.Bias()
		fmt.Printf("V %d %v %d %.4f %.4f %.5f %.5f %.5f %.5f %.4f %.5f %.4f %.2f %v %.3f %.2f B %v\n", seed, s.Now.Machine.Kind, int(m), math.Log1p(s.Gain), math.Log1p(s.AddedLb/w0), tf, pf, t60, p60, p.GripG(), p.PowerHP()/p.WeightLb(),
			p.GripG()/math.Pow(p.PowerHP()/p.WeightLb(), 2./3), s.Before.ET[m], s.Now.Machine.Drive, p.PowerHP()/s.Now.Machine.PowerHP.Value(), s.After.MPH[m]/s.Before.MPH[m]/math.Exp(math.Log1p(u.MPHGain[m].Likely/p.Before.MPHs[m].Centre)), b)
	}
}
