package predict_test

import (
	"fmt"
	"math"
	"sort"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

func TestZero(t *testing.T) {
	var zs, es []float64
	for seed := uint64(1); seed < 200; seed++ {
		s := season.New(seed)
		r := s.Runs[0]
		f, _ := predict.Expect(nil, r.Pass)
		at := s.Finish
		e := math.Log(f.ETs[at].Centre / r.Mean[at])
		sd := math.Log(f.ETs[at].High80/f.ETs[at].Centre) / 1.28
		zs = append(zs, e/sd)
		if s.Sheet {
			es = append(es, e)
			fmt.Printf("Z %v %v e %.3f sd %.3f t60 e %.3f mph %.3f el %.3f\n", s.Kind, at, e, sd, math.Log(f.ETs[0].Centre/r.Mean[0]), f.MPHs[at].Centre, s.Elasticity)
		}
	}
	sort.Float64s(zs)
	sort.Float64s(es)
	n := len(zs)
	fmt.Println(zs[n/10], zs[n/4], zs[n/2], zs[3*n/4], zs[9*n/10])
	n = len(es)
	fmt.Println(es[n/10], es[n/4], es[n/2], es[3*n/4], es[9*n/10])
}
