package predict_test

import (
	"fmt"
	"testing"

	"slipcase/predict/season"
)

func TestDbg(t *testing.T) {
	for seed := uint64(101); seed < 400; seed++ {
		s := season.New(seed)
		if !s.Sheet {
			continue
		}
		for _, x := range drive(t, s) {
			if x.setup == 1 && x.nth < 4 {
				fmt.Printf("D %d err %.3f %.3f %.3f in50 %v seed %d sd80 %.3f\n", x.nth, x.got.Centre-x.et, x.possible-x.et, x.floor-x.et, x.got.Low50 < x.et && x.et < x.got.High50, seed, x.got.High80-x.got.Centre)
			}
		}
	}
}
