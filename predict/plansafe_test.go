package predict

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestFreeChangesBesideOwedSafety: safety equipment that today's times call for, and no budget
// of this size buys, bars only what costs: also where the plan has two of its kind, or a bar and
// a cage. It is owed where it is dearer than the budget, and told with what it costs.
func TestFreeChangesBesideOwedSafety(t *testing.T) {
	p := drag(t) // its times call for a bar
	free := Candidate{Name: "seats-out", Change: Change{WeightLb: Exactly(-60)}}
	item := func(name string, cost float64, what Equipment) Candidate {
		return Candidate{Name: name, Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(cost), Safety: what}
	}
	bar, other, cage := item("bar", 800, RollBar), item("other bar", 900, RollBar), item("cage", 2100, RollCage)
	for what, some := range map[string][]Candidate{
		"a bar": {free, bar}, "two bars": {free, bar, other}, "a bar and a cage": {free, bar, cage},
		"all three": {free, bar, other, cage},
	} {
		ranked, err := p.Rank(some, ByET)
		if err != nil {
			t.Fatal(err)
		}
		got, err := p.Together(ranked, 700)
		if err != nil || len(got.Steps) != 1 || got.Steps[0].Name != "seats-out" {
			t.Errorf("%s, for 700: %+v, %v; want what is free", what, got.Steps, err)
		}
		if got.Owed == nil || got.Owed.Cost != 800 || !slices.Equal(got.Owed.Names, []string{"bar"}) {
			t.Errorf("%s: owed %+v; want the bar for 800", what, got.Owed)
		}
	}
}

// TestPlanIsNotCutShort: however many small changes go with one that calls for a bar too dear for
// the budget, those without it are found.
func TestPlanIsNotCutShort(t *testing.T) {
	t.Parallel()
	runs := leaving(0) // 12.3 s
	now := runs[0]
	now.Time, now.Day = now.Time.AddDate(0, 1, 0), "now"
	p, err := NewProspect(runs, now)
	if err != nil {
		t.Fatal(err)
	}
	some := []Candidate{
		{Name: "blower", Change: Change{Gain: ClaimedGain(0.5)}, Cost: Exactly(100)},
		{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(8000), Safety: RollBar},
	}
	for i := range 10 {
		some = append(some, Candidate{Name: fmt.Sprint(i), Change: Change{Gain: Exactly(0.002)}, Cost: Exactly(100)})
	}
	ranked, err := p.Rank(some, ByET)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Together(ranked, 2000)
	if err != nil || got.CutShort || len(got.Steps) != 10 {
		t.Errorf("%d steps, cut short %v, %v; want the ten without the blower", len(got.Steps), got.CutShort, err)
	}
}

// TestCheapestFirst: the sets come the cheapest first, each once, all that gain enough within the
// budget, against trying every set.
func TestCheapestFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := drawWorths(t, 8)
		need := rapid.Float64Range(0, 1.5).Draw(t, "need")
		budget := float64(rapid.IntRange(1, 3000).Draw(t, "budget"))
		least, most := 0, 0 // the last digit may go either way
		eachSet(some, func(cost, gain float64) {
			if cost <= budget && gain >= need-1e-9 {
				most++
				if gain >= need+1e-9 {
					least++
				}
			}
		})
		c, err := newCatalogue(some)
		if err != nil {
			t.Fatal(err)
		}
		last, n := math.Inf(-1), 0
		all := c.cheapestFirst(need, budget, func(set []bool, cost float64) bool {
			if n++; cost < last-1e-9 {
				t.Errorf("one of %v after one of %v", cost, last)
			}
			last = cost
			return true
		})
		if !all || n < least || n > most {
			t.Errorf("%d sets, all %v; there are %d to %d", n, all, least, most)
		}
	})
}
