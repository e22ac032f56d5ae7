package season

import (
	"fmt"
	"testing"
)
func TestPeek(t *testing.T) {
	for i := range uint64(12) {
		s := New(1000+i)
		r := s.Runs[0]
		fmt.Printf("%d %s %s n=%d fin=%g W=%v P=%v noise %.4f day %.4f el %.3f | %v %v mean %.3f\n", s.Seed, s.Kind, r.Pass.Machine.Aspiration, len(s.Runs), s.Finish.Ft(), r.Pass.Machine.WeightLb, r.Pass.Machine.PowerHP, s.NoiseSD, s.DaySD, s.Elasticity, r.Pass.Splits.ETs, r.Pass.Splits.MPHs, r.Mean)
	}
}
