package predict

import (
	"fmt"
	"slices"
	"strconv"

	"pgregory.net/rapid"
)

// drawWorths are up to most candidates, of which some replace or need another, or are boosted.
func drawWorths(t *rapid.T, most int) (some []Worth) {
	for i := range rapid.IntRange(1, most).Draw(t, "parts") {
		var replaces, needs []string
		if other := rapid.IntRange(0, 20).Draw(t, "replaces"); other < i {
			replaces = []string{fmt.Sprint(other)}
		}
		if other := rapid.IntRange(0, 20).Draw(t, "needs"); other < i {
			needs = []string{fmt.Sprint(other)}
		}
		some = append(some, Worth{
			Candidate: Candidate{
				Name:     fmt.Sprint(i),
				Replaces: replaces,
				Needs:    needs,
				Cost:     Exactly(float64(rapid.IntRange(0, 900).Draw(t, "cost"))),
				Boosted:  rapid.IntRange(0, 2).Draw(t, "boosted") == 0,
			},
			ETGain: Exactly(-rapid.Float64Range(0.001, 0.5).Draw(t, "gain")),
		})
	}
	return some
}

// eachSet tries every set of the candidates, and visits those that go together.
func eachSet(some []Worth, visit func(cost, gain float64)) {
	for set := range 1 << len(some) {
		cost, gain, boosted, goes := 0., 0., 0, true
		in := func(name string) bool { i, _ := strconv.Atoi(name); return set>>i&1 == 1 }
		for i, w := range some {
			if set>>i&1 == 0 {
				continue
			}
			goes = goes && !slices.ContainsFunc(w.Replaces, in)
			for _, n := range w.Needs {
				goes = goes && in(n)
			}
			cost, gain = cost+w.Cost.Likely, gain-w.ETGain.Likely
			if w.Boosted {
				boosted++
			}
		}
		if goes && boosted < 2 {
			visit(cost, gain)
		}
	}
}
