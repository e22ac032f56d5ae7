package predict_test

import (
	"fmt"
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestTune(t *testing.T) {
	for seed := uint64(1); seed <= 300; seed++ {
		s := season.NewUpgrade(seed)
		p, err := predict.NewProspect(s.Runs, s.Now)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range []float64{s.Gain, s.Stated} {
			c := predict.Change{Gain: predict.ClaimedGain(g), WeightLb: predict.Exactly(s.AddedLb)}
			if g == s.Gain {
				c.Gain = predict.Exactly(g)
			}
			u, err := p.Try(c)
			if err != nil {
				t.Fatal(err)
			}
			m := s.Finish
			fmt.Printf("U %d %v %.3f %.3f | %.4f %.4f %.4f %.4f | %.4f | %.3f\n", seed, s.Now.Machine.Kind, g, s.AddedLb/s.Now.Machine.WeightLb.Value(), s.After.ET[m]-s.Before.ET[m], u.ETGain[m].Low, u.ETGain[m].Likely, u.ETGain[m].High,
				s.Before.ET[m]*(math.Cbrt((1+s.AddedLb/s.Now.Machine.WeightLb.Value())/(1+g))-1), s.Before.ET[m])
		}
	}
}
