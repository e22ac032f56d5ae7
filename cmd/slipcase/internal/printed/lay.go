package printed

import (
	"cmp"
	"maps"
	"slices"
)

// laid is a text along a plan.
type laid struct {
	columns []*column
	cost    float64
	plan    *plan
}

// lay reads a text in the order of figures that it fits best.
func lay(w *written, segs []segment, sides []string) (best solver, columns []*column, err error) {
	items := telling(w.items)
	if len(items) > mostItems {
		return best, nil, errTooLong
	}
	joined, apart := cuesOf(items, false), cuesOf(items, true)
	ways := settleAll(w, items, joined, sides)
	if !maps.Equal(joined, apart) {
		ways = append(ways, settleAll(w, items, apart, sides)...)
	}
	way := slices.MinFunc(ways, func(a, b laid) int { return cmp.Compare(a.cost, b.cost) })
	for _, other := range ways {
		if other.cost < way.cost+clear {
			way.doubt(other)
		}
	}
	for _, c := range way.columns {
		for _, s := range segs {
			if len(way.columns) == 1 || c.side == s.section {
				c.hears(s)
			}
		}
	}
	for _, c := range way.columns {
		if w.once {
			c.cells[field{index, noMark}] = w.both
		}
	}
	best = solver{kmh: way.plan.kmh, sums: sumsOf(segs, w.items, way.columns)}
	best.solve(way.columns)
	return best, way.columns, nil
}

// withoutBye leaves out a lane in which nobody ran: most of what is printed of it is that there is
// nothing, and no time. What else stands in its rows is the other's; times that do, and that the other
// has not, may be either's.
func withoutBye(columns []*column) []*column {
	if len(columns) < 2 {
		return columns
	}
	for i, c := range columns {
		if c.nones < 2 {
			continue
		}
		ran, times, shared := columns[1-i], 0, 0
		for f := range c.cells {
			if _, both := ran.cells[f]; f.timed() && both {
				shared++
			} else if f.timed() {
				times++
				c.unsure[f] = true
			}
		}
		if times == 0 && shared == 0 {
			ran.take(c)
			return []*column{ran}
		}
		for f := range c.cells {
			c.unsure[f] = c.unsure[f] || shared == 0
		}
	}
	return columns
}

// take takes what another lane's rows have and its own have not.
func (c *column) take(from *column) {
	c.car = cmp.Or(c.car, from.car)
	for f, n := range from.cells {
		if _, has := c.cells[f]; !has && !n.nothing() {
			c.cells[f] = n
		}
	}
}

// settleAll lays a text along all plans.
func settleAll(w *written, items []item, cues map[int]cue, sides []string) (ways []laid) {
	a := newAligner(items, cues)
	for _, p := range plansOf(w, items, cues) {
		way := a.settle(p, sides)
		way.columns = withoutBye(way.columns)
		ways = append(ways, way)
	}
	return ways
}

// doubt makes unsure what another way reads otherwise.
func (w laid) doubt(other laid) {
	if len(w.columns) < w.plan.lanes && (len(other.columns) > 1 || w.columns[0].side != other.columns[0].side) {
		w.columns[0].side = ""
	}
	for lane, c := range w.columns {
		for f, n := range c.cells {
			if lane >= len(other.columns) || other.columns[lane].cells[f].digits != n.digits {
				c.unsure[f] = true
			}
		}
	}
}
