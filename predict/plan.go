package predict

import (
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

// Bought is what is best bought for a budget, in the order in which it is best done.
type Bought struct {
	Steps []Step
	// Owed is the safety equipment that today's times call for already, where no set with it is
	// within the budget: it bars only what costs. Nil without.
	Owed *Owed
	// CutShort says that there were more sets to work out than that is done for: there may be a
	// better one.
	CutShort bool
}

// Owed is safety equipment, with what it needs, and what it costs in dollars.
type Owed struct {
	Names []string
	Cost  float64
}

// Together finds what is best bought for the budget, and the order: the set that gains
// most when each is taken at its likely worth and cost alone, of those that go together,
// each with what it needs and with the safety equipment of the plan that the set's times
// call for; then, one after the other, the one that gives most for its cost beside those
// already in. One that costs and may not be quicker at all is not bought. Their joint
// worth is worked out together, since power and weight do not simply add up. No budget
// is +Inf.
func (p *Prospect) Together(ranked []Worth, budget float64) (b Bought, err error) {
	if !(budget >= 0) {
		return b, fmt.Errorf("a budget of %g: want 0 or more", budget)
	}
	c, err := newCatalogue(ranked)
	if err != nil {
		return b, err
	}
	set, cut, err := p.bestSafe(&c, budget, nil)
	if b.CutShort = cut; err == nil && len(set) == 0 {
		var today []bool
		var cost float64
		if today, cost, err = p.withSafety(&c, make([]bool, len(c.all)), nil); err == nil && slices.Contains(today, true) {
			b.Owed = &Owed{Cost: cost}
			set, _, err = p.bestSafe(&c, 0, today)
		}
		for _, w := range c.of(today) {
			b.Owed.Names = append(b.Owed.Names, w.Name)
		}
	}
	if err != nil {
		return b, err
	}
	if len(set) == 0 {
		return b, errors.New("nothing of the plan is quicker and within the budget")
	}
	b.Steps, err = p.inOrder(set)
	return b, err
}

// bestSafe is the best set of those that go together whose cost, with the safety equipment
// that its times call for, is within the budget; what is owed is not asked for. cut says that
// not all that might be better was tried.
func (p *Prospect) bestSafe(c *catalogue, budget float64, owed []bool) (set []Worth, cut bool, err error) {
	tries := 0
	var tooDear [][]bool
	best := c.best(budget, func(some []bool, spent float64) bool {
		if !c.anySafety() {
			return true
		}
		// What is quicker still calls for no less.
		if slices.ContainsFunc(tooDear, func(dear []bool) bool { return within(dear, some) }) || err != nil {
			return false
		}
		if tries++; tries > mostTriedSets {
			cut = true
			return false
		}
		var more float64
		if _, more, err = p.withSafety(c, some, owed); err != nil || spent+more > budget {
			tooDear = append(tooDear, some)
			return false
		}
		return true
	})
	if err != nil || best == nil {
		return nil, cut, err
	}
	best, _, err = p.withSafety(c, best, owed)
	return c.of(best), cut, err
}

// within reports that all of one set is in another.
func within(one, other []bool) bool {
	for i, in := range one {
		if in && !other[i] {
			return false
		}
	}
	return true
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
		if !callsFor(p.next.Machine, u.Quick(), item) || slices.ContainsFunc(append(c.of(set), c.of(owed)...), there) {
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
	Steps  []Step  // none where none of the plan makes it
	Chance float64 // that the next run after them is at the time or under it
	// CutShort says that there were more sets to work out than that is done for, the cheapest
	// first: one that costs more may make it.
	CutShort bool
}

// mostTriedSets bounds how many sets are worked out together.
const mostTriedSets = 400

// Reaching finds the cheapest set of the candidates that makes a time in s at the finish
// within the budget.
func (p *Prospect) Reaching(ranked []Worth, et, budget float64) (out Cheapest, err error) {
	if !(et > 0 && budget >= 0) {
		return out, fmt.Errorf("a target of %g s for %g: want a time above 0, a budget of 0 or more", et, budget)
	}
	c, err := newCatalogue(ranked)
	if err != nil {
		return out, err
	}
	// Alone they add up to about what they do together: a tenth more or less.
	need := 0.9 * (p.Before.ETs[p.Finish].Centre - et)
	least, tries := math.Inf(1), 0
	ended := c.cheapestFirst(need, budget, func(set []bool, cost float64) (more bool) {
		if cost >= least || err != nil {
			return false
		}
		if tries++; tries > mostTriedSets {
			out.CutShort = true
			return false
		}
		var with []bool
		var safety float64
		if with, safety, err = p.withSafety(&c, set, nil); err != nil || cost+safety >= least || cost+safety > budget {
			return err == nil
		}
		var all Change
		for _, w := range c.of(with) {
			all = all.With(w.Change)
		}
		var u Upgrade
		if u, err = p.Try(all); err != nil || u.ETs[p.Finish].Centre > et {
			return err == nil
		}
		if out.Steps, err = p.inOrder(c.of(with)); err != nil {
			return false
		}
		b := u.ETs[p.Finish]
		sd := math.Log(b.High80/b.Low80) / (2 * z80)
		out.Chance, least = distuv.UnitNormal.CDF(math.Log(et/b.Centre)/sd), cost+safety
		return true
	})
	out.CutShort = out.CutShort || !ended
	return out, err
}
