package notebook

import (
	"math"
	"slices"
)

// slack is by how much more, as a share, times may be apart whose headings say what they are: a car
// that spins at the start and is strong at the end (common practice, no source).
const slack = 0.05

// fits reports that a time could be that at a mark, beside those that are there.
func (m *mapper) fits(at [5]*Mapped, mark int, c *Mapped) bool {
	f := fieldOf(etMarks[mark])
	if !f.within(c.median()) {
		return false
	}
	for k, other := range at {
		if other == nil || k == mark {
			continue
		}
		lo, hi, r := min(k, mark), max(k, mark), c.over(other)
		if k < mark {
			r = 1 / r
		}
		span := ratios[[2]int{lo, hi}]
		if m.loose || c.label.role == etMarks[mark] && other.label.role == etMarks[k] {
			span[0], span[1] = span[0]*(1-slack), span[1]*(1+slack)
		}
		if r < span[0] || r > span[1] {
			return false
		}
	}
	return true
}

// chain tells the times by each other.
func (m *mapper) chain() {
	at := m.timed()
	for k, c := range at {
		if c != nil && !c.Forced && !m.fits(at, k, c) {
			m.ask(NotLike, etMarks[k], c)
			at[k] = nil
		}
	}
	var open []*Mapped // times whose mark nobody says
	for i := range m.cols {
		c := &m.cols[i]
		decimal := len(c.values)*2 > c.FilledN && c.texts*2 <= c.FilledN
		if c.Role == anyET || c.Role == "" && !c.Forced && decimal && c.FilledN > 0 && c.fraction() {
			if v := c.median(); v >= 0.7 && v <= 35 {
				open = append(open, c)
			}
		}
	}
	if len(open) == 0 {
		return
	}
	best, ways := m.assign(open, at)
	if best == at || m.unexplained(best, open) != nil {
		m.loose = true
		best, ways = m.assign(open, at)
	}
	if c := m.unexplained(best, open); c != nil {
		m.ask(WhichDistance, anyET, c)
		return
	}
	for k, c := range best {
		if c == nil || at[k] != nil {
			continue
		}
		if ways[k] > 1 {
			var alike []*Mapped
			for _, o := range open {
				without := best
				without[k] = nil
				if o == c || o.Role != Note && o.free(best) && m.fits(without, k, o) {
					alike = append(alike, o)
				}
			}
			if len(alike) > 1 {
				m.ask(TwoAlike, etMarks[k], alike...)
			}
			continue
		}
		c.ByValues = c.Role == ""
		c.Role = etMarks[k]
	}
	for _, c := range open {
		if c.Role == anyET && !m.byOneMark(c) {
			m.ask(WhichDistance, anyET, c)
		}
	}
}

// unexplained is a column without a heading amid those that are taken for times by their values, in
// its place and by its size: it is a time too, and they may all be others.
func (m *mapper) unexplained(at [5]*Mapped, open []*Mapped) *Mapped {
	for _, c := range open {
		below, above := false, false
		for _, o := range at {
			if o == nil || o.label.role != "" || c.Head != "" || !c.free(at) {
				continue
			}
			below = below || o.col < c.col && o.over(c) < 1
			above = above || o.col > c.col && o.over(c) > 1
		}
		if below && above {
			return c
		}
	}
	return nil
}

// byOneMark takes an ET for the eighth or the quarter mile where the other times allow but
// one of them.
func (m *mapper) byOneMark(c *Mapped) bool {
	at := m.timed()
	var could []int
	some := false
	for k := range at {
		some = some || at[k] != nil
		if (k == 2 || k == 4) && at[k] == nil && m.fits(at, k, c) {
			could = append(could, k)
		}
	}
	if some && len(could) == 1 {
		c.Role = etMarks[could[0]]
		return true
	}
	return false
}

func (c *Mapped) free(at [5]*Mapped) bool { return !slices.Contains(at[:], c) }

// fraction reports values that are no whole numbers.
func (c *Mapped) fraction() bool {
	n := 0
	for _, v := range c.values {
		if v != math.Trunc(v) {
			n++
		}
	}
	return n*2 > len(c.values)
}

// assign gives open columns the marks that most of them fit together, from left to right.
// ways says how many columns could be each.
func (m *mapper) assign(open []*Mapped, at [5]*Mapped) (best [5]*Mapped, ways [5]int) {
	score, ties := -1, 0
	given := at
	var try func(i int, at [5]*Mapped, n int)
	try = func(i int, at [5]*Mapped, n int) {
		if i == len(open) || i > 12 {
			n := n*10 + m.told(at)
			switch {
			case n > score:
				best, score, ties = at, n, 1
			case n == score && at != best:
				ties++
			}
			return
		}
		c := open[i]
		for k := range at {
			if at[k] != nil || !m.inOrder(at, k, c) || !m.fits(at, k, c) {
				continue
			}
			next := at
			next[k] = c
			try(i+1, next, n+1)
		}
		try(i+1, at, n)
	}
	try(0, at, 0)
	marks := 0
	for _, c := range best {
		if c != nil {
			marks++
		}
	}
	// Two times alone hang together in several ways: a speed must tell which.
	if marks < 3 && m.told(best) == 0 {
		return given, ways
	}
	for k := range best {
		if best[k] == nil {
			continue
		}
		for _, o := range open {
			without := best
			without[k] = nil
			if (o == best[k] || o.free(best)) && m.fits(without, k, o) {
				ways[k]++
			}
		}
	}
	if ties > 1 && !slices.ContainsFunc(ways[:], func(n int) bool { return n > 1 }) {
		return given, ways
	}
	return best, ways
}

// told counts speeds beside times that only fit these marks.
func (m *mapper) told(at [5]*Mapped) (n int) {
	for k, c := range at {
		if c == nil || k < 2 {
			continue
		}
		for i := range m.cols {
			s := &m.cols[i]
			beside := s.col == c.col+1 && s.Role != Note && len(s.values) > 0
			if (beside || s.Role == speedMarks[etMarks[k]]) && s != c {
				if r := pace(k, c, s); isMPH(r) || isKmh(r) {
					n++
					break
				}
			}
		}
		if c.splits > 0 && isSpeedAt(k, c) {
			n++
		}
	}
	return n
}

func isSpeedAt(k int, c *Mapped) bool {
	r := pace(k, c, c)
	return isMPH(r) || isKmh(r)
}
