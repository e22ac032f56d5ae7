package season

import (
	"fmt"
	"testing"
)

func TestPeek(t *testing.T) {
	for i := range uint64(60) {
		s := New(1 + i)
		for _, r := range s.Runs {
			et := r.Pass.Splits.ETs[s.Finish]
			if r.Clean && (!et.Known() || et.Value()/r.Mean[s.Finish] > 1.04 || et.Value()/r.Mean[s.Finish] < .96) {
				m := r.Pass.Machine
				fmt.Println(s.Seed, s.Kind, m.Drive, r.Pass.ID, et, r.Mean, m.WeightLb, m.PowerHP, s.NoiseSD, s.DaySD)
				break
			}
		}
	}
}
