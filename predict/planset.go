package predict

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"
)

// catalogue are candidates, ranked, and what goes with what.
type catalogue struct {
	all   []Worth
	needs [][]int  // the closure: what each needs, and that needs
	bars  [][]bool // two that do not go together
}

// newCatalogue finds who needs and replaces whom.
func newCatalogue(ranked []Worth) (c catalogue, err error) {
	c.all = ranked
	at := map[string]int{}
	for i, w := range ranked {
		at[w.Name] = i
	}
	c.needs, c.bars = make([][]int, len(ranked)), make([][]bool, len(ranked))
	for i := range ranked {
		c.bars[i] = make([]bool, len(ranked))
		if c.needs[i], err = c.closure(at, nil, i); err != nil {
			return c, err
		}
	}
	for i, w := range ranked {
		for _, name := range w.Replaces {
			if j, there := at[name]; there && j != i {
				c.bars[i][j], c.bars[j][i] = true, true
			}
		}
		for j, o := range ranked {
			c.bars[i][j] = c.bars[i][j] || i != j && w.Boosted && o.Boosted
		}
	}
	return c, nil
}

func (c *catalogue) closure(at map[string]int, had []int, i int) ([]int, error) {
	for _, name := range c.all[i].Needs {
		j, there := at[name]
		switch {
		case !there:
			return nil, fmt.Errorf("%s needs %s, which is not on the plan", c.all[i].Name, name)
		case slices.Contains(had, j):
			continue
		}
		var err error
		if had, err = c.closure(at, append(had, j), j); err != nil {
			return nil, err
		}
	}
	return had, nil
}

// worthBuying reports whether a candidate is bought for what it does itself: one that
// costs, only where it is quicker for sure, as the ends of its 80 % have it.
func (w Worth) worthBuying() bool {
	return w.ETGain.Likely < 0 && (w.Cost.Likely == 0 || w.ETGain.High < 0)
}

// with adds a candidate and what it needs to a set; false where it does not go with it.
func (c *catalogue) with(set []bool, i int) (out []bool, cost, gain float64, ok bool) {
	out = slices.Clone(set)
	for _, j := range append([]int{i}, c.needs[i]...) {
		if out[j] {
			continue
		}
		for k, in := range out {
			if in && c.bars[j][k] {
				return nil, 0, 0, false
			}
		}
		out[j] = true
		cost, gain = cost+c.all[j].Cost.Likely, gain-c.all[j].ETGain.Likely
	}
	return out, cost, gain, true
}

// search goes through the sets that go together, within a budget. It asks visit about each,
// with its likely cost and gain, and whether to take more to it; it gives up a branch of which
// not even all that is left, as far as the money goes and by the fraction, makes more than wanted().
func (c *catalogue) search(budget float64, wanted func() float64, visit func(set []bool, cost, gain float64) bool) {
	order := c.byRate()
	var try func(at int, set []bool, cost, gain float64)
	try = func(at int, set []bool, cost, gain float64) {
		if !visit(set, cost, gain) {
			return
		}
		best, money := gain, budget-cost
		for _, i := range order[at:] {
			if set[i] {
				continue
			}
			price := c.all[i].Cost.Likely
			if price > money {
				best -= c.all[i].ETGain.Likely * money / price
				break
			}
			best -= c.all[i].ETGain.Likely
			money -= price
		}
		if best <= wanted() {
			return
		}
		for k := at; k < len(order); k++ {
			if set[order[k]] {
				continue
			}
			if next, more, by, ok := c.with(set, order[k]); ok && cost+more <= budget {
				try(k+1, next, cost+more, gain+by)
			}
		}
	}
	try(0, make([]bool, len(c.all)), 0, 0)
}

// mostHeldSets bounds how many sets cheapestFirst goes through.
const mostHeldSets = 50_000

// partSet is a set on its way to a gain: of the candidates from a place in the order on it may
// take more, and then costs no less than its bound.
type partSet struct {
	set               []bool
	at                int
	cost, gain, bound float64
}

// partSets are ordered by their bound, as container/heap wants it: of one bound first what gains more.
type partSets []partSet

func (h partSets) Len() int { return len(h) }
func (h partSets) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].bound, h[j].bound), cmp.Compare(h[j].gain, h[i].gain)) < 0
}
func (h partSets) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *partSets) Push(x any)   { *h = append(*h, x.(partSet)) }
func (h *partSets) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}

// cheapestFirst asks visit about the sets that go together and gain as much as needed, within a
// budget, the cheapest first, until that wants no more: best first, by what the gain that a set
// still lacks costs at the least, where fractions of candidates could be bought. all says that
// it came to an end.
func (c *catalogue) cheapestFirst(need, budget float64, visit func(set []bool, cost float64) (more bool)) (all bool) {
	order := c.byRate()
	var open partSets
	add := func(s partSet) {
		if s.bound = s.cost + c.leastFor(need-s.gain, s, order); s.bound <= budget {
			heap.Push(&open, s)
		}
	}
	add(partSet{set: make([]bool, len(c.all))})
	seen := map[string]bool{}
	for n := 0; len(open) > 0; n++ {
		if n == mostHeldSets {
			return false
		}
		s := heap.Pop(&open).(partSet)
		key := fmt.Sprint(s.set)
		if s.gain >= need && !seen[key] { // a set may be come to by what another needs, too
			seen[key] = true
			if !visit(s.set, s.cost) {
				return true
			}
		}
		for k := s.at; k < len(order); k++ {
			if s.set[order[k]] {
				continue
			}
			if next, more, by, ok := c.with(s.set, order[k]); ok {
				add(partSet{set: next, at: k + 1, cost: s.cost + more, gain: s.gain + by})
			}
		}
	}
	return true
}

// leastFor is what a gain costs at the least of those that a set may still take.
func (c *catalogue) leastFor(gain float64, s partSet, order []int) (cost float64) {
	for _, i := range order[s.at:] {
		w := c.all[i]
		switch {
		case gain <= 0:
			return cost
		case !s.set[i]:
			share := math.Min(1, gain/-w.ETGain.Likely)
			cost, gain = cost+share*w.Cost.Likely, gain+share*w.ETGain.Likely
		}
	}
	if gain > 1e-9 {
		return math.Inf(1)
	}
	return cost
}

// byRate are the candidates that are worth buying, what gains most for its cost first: what
// costs nothing before all, or what is left could make more than search and leastFor believe.
func (c *catalogue) byRate() (order []int) {
	for i, w := range c.all {
		if w.worthBuying() {
			order = append(order, i)
		}
	}
	rate := func(i int) float64 { return c.all[i].ETGain.Likely / c.all[i].Cost.Likely } // -Inf where it is free
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(a), rate(b)) })
	return order
}

// best is the set that gains most for the budget, each at its likely worth and cost alone,
// of those that fit; nil where none gains. With more in it a set that does not fit fits no more.
func (c *catalogue) best(budget float64, fits func(set []bool, cost float64) bool) (best []bool) {
	most := 0.
	c.search(budget, func() float64 { return most + 1e-12 }, func(set []bool, cost, gain float64) bool {
		if gain > most {
			if !fits(set, cost) {
				return false
			}
			most, best = gain, set
		}
		return true
	})
	return best
}

func (c *catalogue) anySafety() bool {
	return slices.ContainsFunc(c.all, func(w Worth) bool { return w.Safety != "" })
}

// bySafety are the candidates that are safety equipment, what takes in others first, of one
// kind the cheapest.
func (c *catalogue) bySafety() (order []int) {
	for i, w := range c.all {
		if w.Safety != "" {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := c.all[i], c.all[j]
		return cmp.Or(cmp.Compare(rung(b.Safety), rung(a.Safety)), cmp.Compare(a.Cost.Likely, b.Cost.Likely))
	})
	return order
}

func (c *catalogue) of(set []bool) (out []Worth) {
	for i, in := range set {
		if in {
			out = append(out, c.all[i])
		}
	}
	return out
}
