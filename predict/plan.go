package predict

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
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
	// Replaces names candidates that do not go together with it, Needs those that must be
	// in with it.
	Replaces, Needs []string
	// Safety is the equipment that it is, "" for what makes it quicker: bought where the
	// set calls for it.
	Safety Equipment
}

// Worth is what a candidate, alone, does at the finish.
type Worth struct {
	Candidate
	ETGain  Range // s, below 0 is quicker
	MPHGain Range
	// A tenth of a second, at this candidate's price: dollars and hours; low, likely
	// and high, infinite where it may not be quicker at all.
	CostPerTenth, HoursPerTenth Range
	Notes                       []Note // what it goes beyond
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
	w.Notes = slices.DeleteFunc(u.Notes, func(n Note) bool { return n.Kind != MuchPower && n.Kind != MuchWeight })
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

// Together finds what is best bought for the budget, and the order: the set that gains
// most when each is taken at its likely worth and cost alone, of those that go together,
// each with what it needs and with the safety equipment of the plan that the set's times
// call for; then, one after the other, the one that gives most for its cost beside those
// already in. One that costs and may not be quicker at all is not bought. Their joint
// worth is worked out together, since power and weight do not simply add up. No budget
// is +Inf. What today's times call for already and no budget of this size buys, owed, bars
// only what costs.
func (p *Prospect) Together(ranked []Worth, budget float64) (steps []Step, owed []string, err error) {
	if !(budget >= 0) {
		return nil, nil, fmt.Errorf("a budget of %g: want 0 or more", budget)
	}
	c, err := newCatalogue(ranked)
	if err != nil {
		return nil, nil, err
	}
	set, err := p.bestSafe(&c, budget, nil)
	if err == nil && len(set) == 0 {
		var today []bool
		if today, _, err = p.withSafety(&c, make([]bool, len(c.all)), nil); err == nil && slices.Contains(today, true) {
			set, err = p.bestSafe(&c, 0, today)
		}
		for _, w := range c.of(today) {
			owed = append(owed, w.Name)
		}
	}
	if err != nil {
		return nil, nil, err
	}
	if len(set) == 0 {
		return nil, owed, errors.New("nothing of the plan is quicker and within the budget")
	}
	steps, err = p.inOrder(set)
	return steps, owed, err
}

// bestSafe is the best set of those that go together whose cost, with the safety equipment
// that its times call for, is within the budget; what is owed is not asked for.
func (p *Prospect) bestSafe(c *catalogue, budget float64, owed []bool) (set []Worth, err error) {
	tries := 0
	best := c.best(budget, func(some []bool, spent float64) bool {
		if !c.anySafety() {
			return true
		}
		if tries++; tries > mostTriedSets || err != nil {
			return false
		}
		var more float64
		_, more, err = p.withSafety(c, some, owed)
		return err == nil && spent+more <= budget
	})
	if err != nil || best == nil {
		return nil, err
	}
	best, _, err = p.withSafety(c, best, owed)
	return c.of(best), err
}

// withSafety adds the safety equipment that a set's times call for, less what is owed, and
// what it costs: what is on the plan is not in yet, whatever today's times called for
// already. Of one kind it takes the cheapest, of a bar and a cage, where both are called
// for, the cage.
func (p *Prospect) withSafety(c *catalogue, set, owed []bool) (with []bool, cost float64, err error) {
	var all Change
	for _, w := range c.of(set) {
		all = all.With(w.Change)
	}
	u, err := p.Try(all)
	if err != nil {
		return nil, 0, err
	}
	for _, i := range c.bySafety() {
		item := c.all[i].Safety
		there := func(w Worth) bool { return w.Safety != "" && takesIn(w.Safety, item) }
		if owed != nil && owed[i] || !callsFor(p.next.Machine, u.Quick(), item) || slices.ContainsFunc(c.of(set), there) {
			continue
		}
		if next, more, _, ok := c.with(set, i); ok {
			set, cost = next, cost+more
		}
	}
	return set, cost, nil
}

func holds(set []Worth, name string) bool {
	return slices.ContainsFunc(set, func(w Worth) bool { return w.Name == name })
}

// inOrder puts a set in the order in which it is best done: what a candidate needs comes
// before it, safety equipment and what it needs first of all.
func (p *Prospect) inOrder(left []Worth) ([]Step, error) {
	first := firstOfAll(left)
	var steps []Step
	var in Change
	spent, most, now := 0., 0., 0.
	for len(left) > 0 {
		best, bestRate, bestUp := -1, math.Inf(-1), Upgrade{}
		for i, w := range left {
			if slices.ContainsFunc(w.Needs, func(name string) bool { return holds(left, name) }) {
				continue
			}
			u, err := p.Try(in.With(w.Change))
			if err != nil {
				return nil, fmt.Errorf("%s with those before it: %w", w.Name, err)
			}
			rate := (now - u.ETGain[p.Finish].Likely) / math.Max(w.Cost.Likely, 0.01)
			if slices.Contains(first, w.Name) {
				rate = math.MaxFloat64
			}
			if rate > bestRate {
				best, bestRate, bestUp = i, rate, u
			}
		}
		if best < 0 {
			return nil, fmt.Errorf("%s: needs what needs it", left[0].Name)
		}
		w := left[best]
		in, spent, most, now = in.With(w.Change), spent+w.Cost.Likely, most+w.Cost.High, bestUp.ETGain[p.Finish].Likely
		steps = append(steps, Step{w.Name, w.Cost.Likely, spent, most, bestUp.ETGain[p.Finish]})
		left = slices.Delete(left, best, best+1)
	}
	return steps, nil
}

// firstOfAll names the safety equipment of a set and what it needs.
func firstOfAll(set []Worth) (names []string) {
	for _, w := range set {
		if w.Safety != "" {
			names = append(names, w.Name)
		}
	}
	for i := 0; i < len(names); i++ {
		for _, w := range set {
			for _, need := range w.Needs {
				if w.Name == names[i] && !slices.Contains(names, need) {
					names = append(names, need)
				}
			}
		}
	}
	return names
}

// Cheapest is the least that makes a time at the finish, as that which half of the runs
// would beat.
type Cheapest struct {
	Steps  []Step
	Chance float64 // that the next run after them is at the time or under it
}

// mostTriedSets bounds how many sets are worked out together, the cheapest first.
const mostTriedSets = 400

// Reaching finds the cheapest set of the candidates that makes a time in s at the finish;
// false where none of them does within the budget.
func (p *Prospect) Reaching(ranked []Worth, et, budget float64) (out Cheapest, ok bool, err error) {
	if !(et > 0 && budget >= 0) {
		return out, false, fmt.Errorf("a target of %g s for %g: want a time above 0, a budget of 0 or more", et, budget)
	}
	c, err := newCatalogue(ranked)
	if err != nil {
		return out, false, err
	}
	// Alone they add up to about what they do together: a tenth more or less.
	type priced struct {
		set  []bool
		cost float64
	}
	need := 0.9 * (p.Before.ETs[p.Finish].Centre - et)
	var sets []priced
	c.search(budget, func(float64) float64 { return need }, func(set []bool, cost, gain float64) {
		if gain >= need {
			sets = append(sets, priced{set, cost})
		}
	})
	slices.SortStableFunc(sets, func(a, b priced) int { return cmp.Compare(a.cost, b.cost) })
	least := budget
	for _, s := range sets[:min(len(sets), mostTriedSets)] {
		if ok && s.cost >= least {
			break
		}
		with, more, err := p.withSafety(&c, s.set, nil)
		if err != nil {
			return out, false, err
		}
		cost := s.cost + more
		if cost > least || ok && cost == least {
			continue
		}
		set, all := c.of(with), Change{}
		for _, w := range set {
			all = all.With(w.Change)
		}
		u, err := p.Try(all)
		if err != nil {
			return out, false, err
		}
		b := u.ETs[p.Finish]
		if b.Centre > et {
			continue
		}
		if out.Steps, err = p.inOrder(set); err != nil {
			return out, false, err
		}
		sd := math.Log(b.High80/b.Low80) / (2 * z80)
		out.Chance = distuv.UnitNormal.CDF(math.Log(et/b.Centre) / sd)
		least, ok = cost, true
	}
	return out, ok, nil
}
