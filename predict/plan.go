package predict

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Candidate is a change with what it costs.
type Candidate struct {
	Name   string
	Change Change
	Cost   Range // dollars
	Hours  Range // of work; zero where not said
	// Boosted says that it sets the pressure in the manifold, so that two such do
	// not go together: each was worked out from the pressure that there is today.
	Boosted bool
}

// Worth is what a candidate, alone, does at the finish.
type Worth struct {
	Candidate
	ETGain  Range // s, below 0 is quicker
	MPHGain Range
	// A tenth of a second, at this candidate's price: dollars and hours; low, likely
	// and high, infinite where it may not be quicker at all.
	CostPerTenth, HoursPerTenth Range
	// Tie says that its interval overlaps that of the one ranked before it.
	Tie bool
}

// RankBy is what candidates are ranked by.
type RankBy string

// The rankings.
const (
	ByET    RankBy = "et"
	ByCost  RankBy = "cost"
	ByHours RankBy = "hours"
)

// Rank tries every candidate alone and puts the best first.
func (p *Prospect) Rank(candidates []Candidate, by RankBy) ([]Worth, error) {
	key := map[RankBy]func(Worth) Range{
		ByET:    func(w Worth) Range { return w.ETGain },
		ByCost:  func(w Worth) Range { return w.CostPerTenth },
		ByHours: func(w Worth) Range { return w.HoursPerTenth },
	}[by]
	if key == nil {
		return nil, fmt.Errorf("ranked by %q: want %s, %s or %s", by, ByET, ByCost, ByHours)
	}
	ranked := make([]Worth, len(candidates))
	for i, c := range candidates {
		w, err := p.tried(c)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.Name, err)
		}
		ranked[i] = w
	}
	slices.SortStableFunc(ranked, func(a, b Worth) int {
		x, y := key(a).Likely, key(b).Likely
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	for i := 1; i < len(ranked); i++ {
		a, b := key(ranked[i-1]), key(ranked[i])
		ranked[i].Tie = !math.IsInf(b.Likely, 1) && b.Low <= a.High
	}
	return ranked, nil
}

func (p *Prospect) tried(c Candidate) (Worth, error) {
	if !(c.Cost.Low >= 0 && c.Cost.Low <= c.Cost.Likely && c.Cost.Likely <= c.Cost.High) {
		return Worth{}, fmt.Errorf("cost %g to %g: want 0 or more, rising", c.Cost.Low, c.Cost.High)
	}
	u, err := p.Try(c.Change)
	if err != nil {
		return Worth{}, err
	}
	m := p.Finish
	w := Worth{Candidate: c, ETGain: u.ETGain[m], MPHGain: u.MPHGain[m]}
	w.CostPerTenth = perTenth(c.Cost, w.ETGain)
	if c.Hours != (Range{}) {
		w.HoursPerTenth = perTenth(c.Hours, w.ETGain)
	} else {
		w.HoursPerTenth = Exactly(math.Inf(1))
	}
	return w, nil
}

// perTenth divides what is spent by what is gained; the ends pair the least
// with the most.
func perTenth(spent, et Range) Range {
	one := func(spent, et float64) float64 {
		if et >= 0 {
			return math.Inf(1)
		}
		return spent * 0.1 / -et
	}
	return Range{one(spent.Low, et.Low), one(spent.Likely, et.Likely), one(spent.High, et.High)}
}

// Step is one candidate of a plan, in the order in which they are best done.
type Step struct {
	Name   string
	Cost   float64 // likely
	Spent  float64 // with those before it
	Most   float64 // spent where each costs its high
	ETGain Range   // of all up to here together
}

// Together finds what is best bought for the budget, and the order: the set that
// gains most when each is taken at its likely worth and cost alone (solved
// exactly, a knapsack over whole dollars), then, one after the other, the one that
// gives most for its cost beside those already in. At most one of the set is
// boosted. Their joint worth is worked out together, since power and weight do not
// simply add up. No budget is +Inf.
func (p *Prospect) Together(ranked []Worth, budget float64) ([]Step, error) {
	if !(budget > 0) {
		return nil, fmt.Errorf("a budget of %g: want more than 0", budget)
	}
	left := bestSet(ranked, budget)
	if len(left) == 0 {
		return nil, errors.New("nothing of the plan is quicker and within the budget")
	}
	var steps []Step
	var in Change
	spent, most, now := 0., 0., 0.
	for len(left) > 0 {
		best, bestRate, bestUp := -1, math.Inf(-1), Upgrade{}
		for i, w := range left {
			u, err := p.Try(in.With(w.Change))
			if err != nil {
				return nil, fmt.Errorf("%s with those before it: %w", w.Name, err)
			}
			rate := (now - u.ETGain[p.Finish].Likely) / math.Max(w.Cost.Likely, 0.01)
			if rate > bestRate {
				best, bestRate, bestUp = i, rate, u
			}
		}
		w := left[best]
		in, spent, most, now = in.With(w.Change), spent+w.Cost.Likely, most+w.Cost.High, bestUp.ETGain[p.Finish].Likely
		steps = append(steps, Step{w.Name, w.Cost.Likely, spent, most, bestUp.ETGain[p.Finish]})
		left = slices.Delete(left, best, best+1)
	}
	return steps, nil
}

// bestSet is the best of the sets with no boosted candidate and with each one.
func bestSet(ranked []Worth, budget float64) []Worth {
	plain := slices.DeleteFunc(slices.Clone(ranked), func(w Worth) bool { return w.Boosted })
	most, best := 0., []Worth(nil)
	try := func(set []Worth) {
		gain := 0.
		for _, w := range set {
			gain -= w.ETGain.Likely
		}
		if gain > most {
			most, best = gain, set
		}
	}
	try(knapsack(plain, budget))
	for _, w := range ranked {
		if left := budget - w.Cost.Likely; w.Boosted && w.ETGain.Likely < 0 && left >= 0 {
			try(append(knapsack(plain, left), w))
		}
	}
	return best
}

// knapsack picks the set of the greatest worth whose likely costs are within the
// budget. A large budget is counted in coarser coins, costs rounded up.
func knapsack(ranked []Worth, budget float64) []Worth {
	var some []Worth
	sum := 0.
	for _, w := range ranked {
		if w.ETGain.Likely < 0 {
			some = append(some, w)
			sum += w.Cost.Likely
		}
	}
	if sum <= budget {
		return some
	}
	const mostCoins = 20_000
	coin := math.Max(1, math.Ceil(budget/mostCoins))
	coins := int(budget / coin)
	best := make([]float64, coins+1)
	taken := make([][]bool, len(some))
	for i, w := range some {
		taken[i] = make([]bool, coins+1)
		cost := int(math.Ceil(w.Cost.Likely / coin))
		for c := coins; c >= cost; c-- {
			if v := best[c-cost] - w.ETGain.Likely; v > best[c] {
				best[c], taken[i][c] = v, true
			}
		}
	}
	var set []Worth
	c := coins
	for i := len(some) - 1; i >= 0; i-- {
		if taken[i][c] {
			set = append(set, some[i])
			c -= int(math.Ceil(some[i].Cost.Likely / coin))
		}
	}
	slices.Reverse(set)
	return set
}
