package predict

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
)

func TestMedianCost(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	times := sized(200_000, 50_000)
	for i, cost := range medianCost {
		n := i + 1
		medians := make([]float64, times)
		values := make([]float64, n)
		for k := range medians {
			for j := range values {
				values[j] = r.NormFloat64()
			}
			slices.Sort(values)
			medians[k] = (values[(n-1)/2] + values[n/2]) / 2
		}
		// The variance of a variance of so many draws is 2/times of its square.
		if got := stat.Variance(medians, nil) * float64(n); math.Abs(got/cost-1) > 4*math.Sqrt(2/float64(times)) {
			t.Errorf("%d values: %.3f, want %.3f", n, cost, got)
		}
	}
}
