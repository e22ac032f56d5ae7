package predict

import (
	"cmp"
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
// with its likely cost and gain, and gives up a branch of which not even all that is left,
// as far as the money goes and by the fraction, makes more than wanted().
func (c *catalogue) search(
	budget float64,
	wanted func(cost float64) float64,
	visit func(set []bool, cost, gain float64),
) {
	var order []int
	for i, w := range c.all {
		if w.worthBuying() {
			order = append(order, i)
		}
	}
	rate := func(i int) float64 { return c.all[i].ETGain.Likely / math.Max(c.all[i].Cost.Likely, 0.01) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rate(a), rate(b)) })
	var try func(at int, set []bool, cost, gain float64)
	try = func(at int, set []bool, cost, gain float64) {
		visit(set, cost, gain)
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
		if best <= wanted(cost) {
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

// best is the set that gains most for the budget, each at its likely worth and cost alone,
// of those that fit; nil where none gains.
func (c *catalogue) best(budget float64, fits func(set []bool, cost float64) bool) (best []bool) {
	most := 0.
	c.search(budget, func(float64) float64 { return most + 1e-12 }, func(set []bool, cost, gain float64) {
		if gain > most && fits(set, cost) {
			most, best = gain, set
		}
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
