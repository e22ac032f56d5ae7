package predict_test

import (
	"fmt"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestDbg(t *testing.T) {
	for _, seed := range []uint64{265, 115, 170, 286, 120} {
		s := season.New(seed)
		var all []predict.Pass
		for i, r := range s.Runs {
			if i > 6 {
				break
			}
			f, _ := predict.Expect(all, r.Pass)
			fmt.Println(seed, i, s.NoiseSD, s.DaySD, "clean", r.Clean, r.CleanFt, r.Pass.Effort, r.Pass.FullFt, r.Pass.Splits.ETs, r.Pass.Splits.MPHs, "fc", f.ETs[s.Finish].Centre, f.LeftOut)
			all = append(all, r.Pass)
		}
	}
}
