package predict_test

import (
	"fmt"
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestDbg(t *testing.T) {
	sum := map[string]float64{}
	n := map[string]float64{}
	for seed := uint64(1); seed < 60; seed++ {
		s := season.New(seed)
		var all []predict.Pass
		day := ""
		for i, r := range s.Runs {
			at := s.Finish
			if i > 8 {
			f, _ := predict.Expect(all, r.Pass)
			k := fmt.Sprint("first of day ", r.Pass.Day != day, " setup ", r.Setup)
			if r.Setup == 1 && r.Nth < 5 { k += fmt.Sprint(r.Nth) }
			day = r.Pass.Day
			sum[k] += math.Log(f.ETs[at].Centre)-math.Log(r.Mean[at])
			n[k]++
			}
			all = append(all, r.Pass)
		}
	}
	for k := range n {
		fmt.Println(k, n[k], sum[k]/n[k])
	}
}
