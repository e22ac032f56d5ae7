package predict

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func garage() []Candidate {
	return []Candidate{
		{Name: "cam", Change: Change{Gain: ClaimedGain(0.08)}, Cost: Exactly(900), Hours: Exactly(20)},
		{Name: "seats-out", Change: Change{WeightLb: Exactly(-60)}, Cost: Exactly(0), Hours: Exactly(2)},
		{Name: "tyres", Change: Change{Grip: Range{0.02, 0.06, 0.10}}, Cost: Range{500, 600, 700}},
		{Name: "stereo", Change: Change{WeightLb: Exactly(40)}, Cost: Exactly(300)},
		{Name: "headers", Change: Change{Gain: Range{0.01, 0.04, 0.06}, WeightLb: Exactly(-15)}, Cost: Exactly(450), Hours: Exactly(8)},
	}
}

func TestRank(t *testing.T) {
	p := drag(t)
	byET, err := p.Rank(garage(), ByET)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(byET); i++ {
		if byET[i].ETGain.Likely < byET[i-1].ETGain.Likely {
			t.Errorf("%s before %s", byET[i-1].Name, byET[i].Name)
		}
		if overlap := byET[i].ETGain.Low <= byET[i-1].ETGain.High; overlap != byET[i].Tie {
			t.Errorf("%s: tie %v, overlap %v", byET[i].Name, byET[i].Tie, overlap)
		}
	}
	if last := byET[len(byET)-1]; last.Name != "stereo" || !math.IsInf(last.CostPerTenth.Likely, 1) {
		t.Errorf("what makes it slower ends the list at no price: %+v", last)
	}
	byCost, err := p.Rank(garage(), ByCost)
	if err != nil || byCost[0].Name != "seats-out" || byCost[0].CostPerTenth.Likely != 0 {
		t.Errorf("what is free comes first by cost: %+v, %v", byCost[0], err)
	}
	if w := byCost[1]; w.CostPerTenth.Likely != w.Cost.Likely*0.1/-w.ETGain.Likely {
		t.Errorf("a tenth costs %v at %v for %v", w.CostPerTenth, w.Cost, w.ETGain)
	}
}

func TestTogether(t *testing.T) {
	p := drag(t)
	ranked, err := p.Rank(garage(), ByET)
	if err != nil {
		t.Fatal(err)
	}
	all, err := p.Together(ranked, math.Inf(1))
	if err != nil || len(all) != 4 || all[0].Name != "seats-out" {
		t.Fatalf("%+v, %v", all, err)
	}
	sum := 0.
	for _, w := range ranked {
		sum += math.Min(w.ETGain.Likely, 0)
	}
	if together := all[3].ETGain.Likely; math.Abs(together/sum-1) > 0.1 {
		t.Errorf("together %v, one by one %v", together, sum)
	}
	for _, c := range []struct {
		budget float64
		want   string
	}{{0, "want more than 0"}, {math.NaN(), "want more than 0"}, {-5, "want more than 0"}} {
		if got, err := p.Together(ranked, c.budget); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("budget %v: %v, %v", c.budget, got, err)
		}
	}
	if got, err := p.Together(ranked[4:], 1000); err == nil {
		t.Errorf("only what makes it slower: %v", got)
	}
}

// The set against trying every set.
func TestBestSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var some []Worth
		for i := range rapid.IntRange(1, 9).Draw(t, "parts") {
			some = append(some, Worth{
				Candidate: Candidate{Name: fmt.Sprint(i), Cost: Exactly(float64(rapid.IntRange(0, 900).Draw(t, "cost"))), Boosted: rapid.IntRange(0, 2).Draw(t, "boosted") == 0},
				ETGain:    Exactly(-rapid.Float64Range(0.001, 0.5).Draw(t, "gain")),
			})
		}
		budget := float64(rapid.IntRange(1, 3000).Draw(t, "budget"))
		most := 0.
		for set := range 1 << len(some) {
			cost, gain, boosted := 0., 0., 0
			for i, w := range some {
				if set>>i&1 == 1 {
					cost, gain = cost+w.Cost.Likely, gain-w.ETGain.Likely
					if w.Boosted {
						boosted++
					}
				}
			}
			if cost <= budget && boosted < 2 {
				most = math.Max(most, gain)
			}
		}
		cost, gain, boosted := 0., 0., 0
		for _, w := range bestSet(some, budget) {
			cost, gain = cost+w.Cost.Likely, gain-w.ETGain.Likely
			if w.Boosted {
				boosted++
			}
		}
		if cost > budget || boosted > 1 || math.Abs(gain-most) > 1e-9 {
			t.Fatalf("%v for %v of %v, the best is %v", gain, cost, budget, most)
		}
	})
}

func BenchmarkRankThirty(b *testing.B) {
	p, err := NewProspect(nil, Pass{Machine: Machine{Kind: Car}})
	if err != nil {
		b.Fatal(err)
	}
	var thirty []Candidate
	for i := range 30 {
		thirty = append(thirty, Candidate{Name: fmt.Sprint(i), Change: Change{Gain: ClaimedGain(0.01 * float64(i+1)), WeightLb: Exactly(-float64(i))}, Cost: Exactly(float64(100 + 37*i))})
	}
	for b.Loop() {
		ranked, err := p.Rank(thirty, ByET)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := p.Together(ranked, 5000); err != nil {
			b.Fatal(err)
		}
	}
}
