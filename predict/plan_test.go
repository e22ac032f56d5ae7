package predict

import (
	"fmt"
	"math"
	"slices"
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
		{
			Name:   "headers",
			Change: Change{Gain: Range{0.01, 0.04, 0.06}, WeightLb: Exactly(-15)},
			Cost:   Exactly(450),
			Hours:  Exactly(8),
		},
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
	bought, err := p.Together(ranked, math.Inf(1))
	all := bought.Steps
	// The tires may do nothing where it is not they that limit the launch: not paid for.
	if err != nil || len(all) != 3 || all[0].Name != "seats-out" {
		t.Fatalf("%+v, %v", all, err)
	}
	sum := 0.
	for _, w := range ranked {
		if w.Name != "tyres" {
			sum += math.Min(w.ETGain.Likely, 0)
		}
	}
	if together := all[2].ETGain.Likely; math.Abs(together/sum-1) > 0.1 {
		t.Errorf("together %v, one by one %v", together, sum)
	}
	for _, c := range []struct {
		budget float64
		want   string
	}{{math.NaN(), "want 0 or more"}, {-5, "want 0 or more"}} {
		if got, err := p.Together(ranked, c.budget); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("budget %v: %v, %v", c.budget, got, err)
		}
	}
	free, err := p.Together(ranked, 0)
	if err != nil || free.Owed != nil || len(free.Steps) != 1 || free.Steps[0].Name != "seats-out" {
		t.Errorf("for nothing: %+v, %v", free, err)
	}
	if got, err := p.Together(ranked[4:], 1000); err == nil {
		t.Errorf("only what makes it slower: %v", got)
	}
}

// The set against trying every set.
func TestBestSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := drawWorths(t, 9)
		budget := float64(rapid.IntRange(1, 3000).Draw(t, "budget"))
		most := 0.
		eachSet(some, func(cost, gain float64) {
			if cost <= budget {
				most = math.Max(most, gain)
			}
		})
		cost, gain, boosted := 0., 0., 0
		c, err := newCatalogue(some)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range c.of(c.best(budget, func([]bool, float64) bool { return true })) {
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

// TestFreeBesidesTheBudget: what costs nothing goes with a set that takes the whole budget,
// whatever else that does not fit gains more.
func TestFreeBesidesTheBudget(t *testing.T) {
	c, err := newCatalogue([]Worth{
		{Candidate: Candidate{Name: "one", Cost: Exactly(1)}, ETGain: Exactly(-0.5)},
		{Candidate: Candidate{Name: "other", Cost: Exactly(1)}, ETGain: Exactly(-0.45)},
		{Candidate: Candidate{Name: "free"}, ETGain: Exactly(-0.004)},
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.best(1, func([]bool, float64) bool { return true }); !slices.Equal(got, []bool{true, false, true}) {
		t.Errorf("took %v, want one and what is free", got)
	}
}

func BenchmarkRankThirty(b *testing.B) {
	p, err := NewProspect(nil, Pass{Machine: Machine{Kind: Car}})
	if err != nil {
		b.Fatal(err)
	}
	var thirty []Candidate
	for i := range 30 {
		thirty = append(
			thirty,
			Candidate{
				Name:   fmt.Sprint(i),
				Change: Change{Gain: ClaimedGain(0.01 * float64(i+1)), WeightLb: Exactly(-float64(i))},
				Cost:   Exactly(float64(100 + 37*i)),
			},
		)
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

// Radials and slicks, two sets of headers: one of each. What a change needs is bought with
// it and comes first. What may be slower is not paid for. The bar that the times call for
// is bought with them, and what the budget then leaves is spent on the rest.
func TestPlanGoesTogether(t *testing.T) {
	p := drag(t)
	names := func(steps []Step) (names []string) {
		for _, s := range steps {
			names = append(names, s.Name)
		}
		return names
	}
	grip := func(by float64) Change { return Change{Launch: Range{0.5 * by, by, 1.5 * by}} }
	for _, c := range []struct {
		what   string
		some   []Candidate
		budget float64
		want   []string // in this order
	}{
		{"one set of tires", []Candidate{
			{Name: "radials", Change: grip(0.05), Cost: Exactly(300), Replaces: []string{"slicks"}},
			{Name: "slicks", Change: grip(0.10), Cost: Exactly(500)},
		}, 5000, []string{"slicks"}},
		{"what it needs", []Candidate{
			{Name: "cam", Change: Change{Gain: ClaimedGain(0.2)}, Cost: Exactly(600), Needs: []string{"springs"}},
			{Name: "springs", Change: Change{WeightLb: Exactly(1)}, Cost: Exactly(200)},
		}, 5000, []string{"springs", "cam"}},
		{"what it needs is over the budget", []Candidate{
			{Name: "cam", Change: Change{Gain: ClaimedGain(0.2)}, Cost: Exactly(600), Needs: []string{"springs"}},
			{Name: "springs", Change: Change{WeightLb: Exactly(1)}, Cost: Exactly(200)},
			{Name: "headers", Change: Change{Gain: ClaimedGain(0.08)}, Cost: Exactly(400)},
		}, 700, []string{"headers"}},
		{"perhaps slower: free only", []Candidate{
			{Name: "paid", Change: Change{Gain: Range{-0.02, 0.01, 0.04}}, Cost: Exactly(10)},
			{Name: "free", Change: Change{Gain: Range{-0.02, 0.01, 0.04}}},
		}, 5000, []string{"free"}},
		{"a bar for the time", []Candidate{
			{Name: "blower", Change: Change{Gain: ClaimedGain(0.5)}, Cost: Exactly(3000)},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar},
		}, 5000, []string{"bar", "blower"}},
		{"no money for the bar", []Candidate{
			{Name: "blower", Change: Change{Gain: ClaimedGain(0.5)}, Cost: Exactly(3000)},
			{Name: "headers", Change: Change{Gain: ClaimedGain(0.04)}, Cost: Exactly(400)},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar},
		}, 3500, []string{"bar", "headers"}},
		{"nor for a bar that today's times call for", []Candidate{
			{Name: "headers", Change: Change{Gain: ClaimedGain(0.04)}, Cost: Exactly(400)},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar},
			{Name: "seats-out", Change: Change{WeightLb: Exactly(-60)}},
		}, 700, []string{"seats-out"}},
		{"a cage takes in a bar, of two the cheaper does", []Candidate{
			{Name: "blower", Change: Change{Gain: ClaimedGain(1.6)}, Cost: Exactly(3000)},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar, Replaces: []string{"cage"}},
			{Name: "cage", Change: Change{WeightLb: Exactly(110)}, Cost: Exactly(2100), Safety: RollCage, Needs: []string{"seat"}},
			{Name: "light cage", Change: Change{WeightLb: Exactly(90)}, Cost: Exactly(2900), Safety: RollCage},
			{Name: "seat", Change: Change{WeightLb: Exactly(5)}, Cost: Exactly(300)},
		}, 9000, []string{"seat", "cage", "blower"}},
	} {
		ranked, err := p.Rank(c.some, ByET)
		if err != nil {
			t.Fatal(err)
		}
		bought, err := p.Together(ranked, c.budget)
		steps := bought.Steps
		if got := names(steps); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, %v; want %v", c.what, got, err, c.want)
		}
		if n := len(steps); n > 0 && steps[n-1].Spent > c.budget {
			t.Errorf("%s: spends %v of %v", c.what, steps[n-1].Spent, c.budget)
		}
	}
	for _, budget := range []float64{700, 5000} {
		ranked, _ := p.Rank([]Candidate{
			{Name: "seats-out", Change: Change{WeightLb: Exactly(-60)}},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar},
		}, ByET)
		if bought, err := p.Together(ranked, budget); err != nil || (bought.Owed != nil) != (budget < 800) {
			t.Errorf("budget %v: %v owed, %v", budget, bought.Owed, err)
		}
	}
	if _, err := newCatalogue([]Worth{{Candidate: Candidate{Name: "cam", Needs: []string{"springs"}}}}); err == nil {
		t.Error("a need that is nowhere is taken")
	}
}

// Of a car whose times so far call for no bar, what crosses the threshold is left where there
// is no money for the bar as well, and the next best taken; nor is the bar bought without it.
func TestPlanStaysUnderABar(t *testing.T) {
	runs := leaving(0) // 12.3 s
	now := runs[0]
	now.Time, now.Day = now.Time.AddDate(0, 1, 0), "now"
	p, err := NewProspect(runs, now)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		budget float64
		want   []string
	}{{3500, []string{"headers"}}, {4300, []string{"bar", "headers", "blower"}}} {
		ranked, err := p.Rank([]Candidate{
			{Name: "blower", Change: Change{Gain: ClaimedGain(0.5)}, Cost: Exactly(3000)},
			{Name: "headers", Change: Change{Gain: ClaimedGain(0.08)}, Cost: Exactly(400)},
			{Name: "bar", Change: Change{WeightLb: Exactly(60)}, Cost: Exactly(800), Safety: RollBar},
		}, ByET)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		bought, err := p.Together(ranked, c.budget)
		for _, s := range bought.Steps {
			got = append(got, s.Name)
		}
		if err != nil || bought.Owed != nil || !slices.Equal(got, c.want) {
			t.Errorf("for %v: %v, %v owed, %v; want %v", c.budget, got, bought.Owed, err, c.want)
		}
		// The least for a time counts the bar: 11.9 takes the blower, 12.2 the headers alone.
		for et, want := range map[float64]float64{11.9: 3800, 12.2: 400} {
			least, err := p.Reaching(ranked, et, math.Inf(1))
			if err != nil || least.Steps == nil || least.Steps[len(least.Steps)-1].Spent != want {
				t.Errorf("%.1f takes %+v, %v; want %v", et, least, err, want)
			}
		}
	}
}

// The cheapest set for a time against trying every set, each worked out together.
func TestReachingIsTheCheapest(t *testing.T) {
	p := drag(t)
	ranked, err := p.Rank(garage(), ByET)
	if err != nil {
		t.Fatal(err)
	}
	for _, off := range []float64{0.05, 0.2, 0.4} {
		et := p.Before.ETs[p.Finish].Centre - off
		least := math.Inf(1)
		for set := range 1 << len(ranked) {
			var all Change
			cost := 0.
			for i, w := range ranked {
				if set>>i&1 == 1 {
					all, cost = all.With(w.Change), cost+w.Cost.Likely
				}
			}
			if u, err := p.Try(all); err == nil && u.ETs[p.Finish].Centre <= et {
				least = math.Min(least, cost)
			}
		}
		got, err := p.Reaching(ranked, et, math.Inf(1))
		ok := got.Steps != nil
		if err != nil || ok != !math.IsInf(least, 1) {
			t.Errorf("%.2f off: %+v, %v, %v; the least is %v", off, got, ok, err, least)
		} else if ok && (got.Steps[len(got.Steps)-1].Spent != least || got.Chance < 0.5 || got.Chance > 0.9) {
			t.Errorf("%.2f off: %+v; the least is %v", off, got, least)
		}
	}
}
