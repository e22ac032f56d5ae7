package printed

import "slices"

// column is what a text says of one lane, before its figures are read.
type column struct {
	side      string
	cells     map[field]number
	unsure    map[field]bool // where a figure stands is not told
	won, lost bool
	foul      bool
	car       string
}

func newColumn(name string) *column {
	return &column{side: name, cells: map[field]number{}, unsure: map[field]bool{}}
}

// put gives a figure to a field; a second one makes it unsure.
func (c *column) put(f field, n number) {
	if was, there := c.cells[f]; there && was.digits != n.digits {
		c.unsure[f] = true
		return
	}
	c.cells[f] = n
}

// segment is a label with what stands behind it, up to the next.
type segment struct {
	f       field
	text    string
	vals    []item
	section string // the lane under whose name it stands, "" under none or both
	line    int
}

// segments part the items at their labels.
func segments(items []item) (segs []segment, sides []string) {
	section, mark := "", finish
	at := func(i int) item {
		if i < 0 || i >= len(items) {
			return item{line: -1}
		}
		return items[i]
	}
	beside := func(i, k int) bool { return at(k).line == items[i].line }
	for i := 0; i < len(items); i++ {
		it := items[i]
		last := func() *segment {
			if len(segs) == 0 {
				return &segment{}
			}
			return &segs[len(segs)-1]
		}
		empty := len(segs) > 0 && len(last().vals) == 0 && beside(i, i-1)
		switch {
		case it.of == label && it.f.kind == unit:
		case it.of == label && it.f.kind == speed:
			switch {
			case empty && last().f.kind == et:
				last().f = field{speed, last().f.mark}
			case at(i-1).of == numeral && beside(i, i-1) && !(at(i+1).of == numeral && beside(i, i+1)):
				// the unit of the figure before it
			default:
				segs = append(segs, segment{f: field{speed, mark}, text: it.text, section: section, line: it.line})
			}
		case it.of == label && it.f == field{et, finish} && empty && last().f.kind == et:
		case it.of == label && it.f.kind == et && it.n.digits != "" && empty &&
			slices.Contains([]kind{dial, index, et, speed}, last().f.kind) &&
			!(at(i+1).of == numeral && beside(i, i+1)):
			last().vals = append(
				last().vals,
				item{of: numeral, text: it.text, n: it.n, line: it.line},
			) // a dial without its point
		case it.of == label:
			if it.f.kind == et {
				mark = it.f.mark
			}
			segs = append(segs, segment{f: it.f, text: it.text, section: section, line: it.line})
		case it.of == sideName:
			switch prev, next := at(i-1), at(i+1); {
			case last().f.kind == winner && len(last().vals) == 0 &&
				(beside(i, i-1) || next.line < 0 || next.of == label && !next.f.measured() && next.f.kind != car):
				last().vals = append(last().vals, it)
			case next.of == sideName || next.f.kind == laneWord && at(i+2).of == sideName && at(i+2).line == next.line:
				sides, section = []string{it.text, other(it.text)}, ""
			case prev.of == sideName || prev.f.kind == laneWord && at(i-2).of == sideName && at(i-2).line == prev.line:
			default:
				section = it.text
			}
		case len(segs) > 0:
			last().vals = append(last().vals, it)
		}
	}
	return segs, sides
}

func other(name string) string {
	if name == "left" {
		return "right"
	}
	return "left"
}

func figuresOf(items []item) (ns []number) {
	for _, it := range items {
		if it.of == numeral {
			ns = append(ns, it.n)
		}
	}
	return ns
}

// measured reports a field with a figure of a run.
func (f field) measured() bool { return f.kind >= reaction && f.kind <= index }

// behind reads figures that stand behind their labels.
func behind(segs []segment, sides []string) []*column {
	sections := map[string]bool{}
	two, one := 0, 0
	for _, s := range segs {
		if s.f.measured() {
			sections[s.section] = true
			switch n := len(timesAmong(s)); {
			case n > 1:
				two++
			case n == 1:
				one++
			}
		}
	}
	delete(sections, "")
	if len(sides) == 0 && len(sections) < 2 && two <= one { // one lane
		name := ""
		for s := range sections {
			name = s
		}
		c := newColumn(name)
		for _, s := range segs {
			c.take(s)
		}
		return []*column{c}
	}
	if len(sides) == 0 {
		sides = []string{"left", "right"}
	}
	both := []*column{newColumn(sides[0]), newColumn(sides[1])}
	for _, s := range segs {
		if i := slices.Index(sides, s.section); i >= 0 && len(sections) > 1 {
			both[i].take(s)
			continue
		}
		share(both, s)
	}
	return both
}

// timesAmong are the figures of a segment that are no speeds behind their times.
func timesAmong(s segment) (ns []number) {
	ns = figuresOf(s.vals)
	if s.f.kind == et && s.f.mark >= 2 && len(ns) > 1 && speedBehind(ns[0], ns[1]) {
		return append(ns[:1:1], ns[min(2, len(ns)):]...)
	}
	return ns
}

// speedBehind reports that the second of two figures can only be the speed of the first.
func speedBehind(time, mph number) bool {
	for _, t := range time.readings() {
		for _, v := range mph.readings() {
			if t.v > 2.5 && t.v < 30 && v.v > 40 && v.v/t.v > 3.3 && (mph.points() == 1 || v.decimals == 2) &&
				(time.points() == 1 || t.decimals > 2) {
				return true
			}
		}
	}
	return false
}

// take gives a segment to a lane.
func (c *column) take(s segment) {
	ns := figuresOf(s.vals)
	switch {
	case s.f.kind == car && len(s.vals) > 0:
		c.car = s.vals[0].text
	case s.f.kind == foul:
		c.foul = true
	case s.f.kind == winner && len(s.vals) == 0, s.f.kind == winner && s.vals[0].of != sideName && s.section != "":
		c.won = true
	case s.f.kind == result:
		c.says(s)
	case !s.f.measured() || len(ns) == 0:
	case s.f.kind == et && s.f.mark >= 2 && len(ns) > 1:
		c.put(s.f, ns[0])
		c.put(field{speed, s.f.mark}, ns[1])
	default:
		c.put(s.f, ns[0])
	}
}

// says takes a result, by its label or behind it.
func (c *column) says(s segment) {
	words := []string{fold(s.text)}
	for _, v := range s.vals {
		words = append(words, fold(v.text))
	}
	for _, w := range words {
		c.won = c.won || w == fold("won") || w == fold("win") || w == "w"
		c.lost = c.lost || w == fold("lost") || w == fold("loss") || w == fold("loser")
	}
}

// share gives a segment's figures to both lanes.
func share(both []*column, s segment) {
	ns := figuresOf(s.vals)
	if s.f.kind == car {
		for i, v := range s.vals {
			if i < 2 {
				both[i].car = v.text
			}
		}
	}
	if !s.f.measured() {
		return
	}
	mph := field{speed, s.f.mark}
	switch {
	case len(ns) == 2:
		both[0].put(s.f, ns[0])
		both[1].put(s.f, ns[1])
	case len(ns) >= 4 && s.f.kind == et && speedBehind(ns[0], ns[1]):
		both[0].put(s.f, ns[0])
		both[0].put(mph, ns[1])
		both[1].put(s.f, ns[2])
		both[1].put(mph, ns[3])
	case len(ns) >= 4 && s.f.kind == et && s.f.mark >= 2:
		both[0].put(s.f, ns[0])
		both[1].put(s.f, ns[1])
		both[0].put(mph, ns[2])
		both[1].put(mph, ns[3])
	case len(ns) > 2:
		both[0].put(s.f, ns[0])
		both[1].put(s.f, ns[1])
	case len(ns) == 1: // whose it is the rest of the lanes must tell
		for _, c := range both {
			c.put(s.f, ns[0])
			c.unsure[s.f] = true
		}
	}
}

// around reads labels with a lane's figure on either side.
func around(items []item, sides []string) []*column {
	if len(sides) == 0 {
		sides = []string{"left", "right"}
	}
	both := []*column{newColumn(sides[0]), newColumn(sides[1])}
	fields := []field{} // of the labels, in order
	lines := []int{}
	between := [][]item{nil}
	mark := finish
	for i, it := range items {
		switch {
		case it.of == label && it.f.kind == unit:
		case it.of == label && it.f.kind == speed && i > 0 && items[i-1].of == label && items[i-1].f.kind == et &&
			items[i-1].line == it.line:
			fields[len(fields)-1] = field{speed, items[i-1].f.mark}
		case it.of == label:
			f := it.f
			if f.kind == et {
				mark = f.mark
			} else if f.kind == speed {
				f.mark = mark
			}
			fields, lines, between = append(fields, f), append(lines, it.line), append(between, nil)
		case it.of == numeral || it.of == word:
			between[len(between)-1] = append(between[len(between)-1], it)
		}
	}
	put := func(c *column, f field, it item) {
		switch {
		case f.kind == car:
			c.car = it.text
		case f.measured() && it.of == numeral:
			c.put(f, it.n)
		}
	}
	for i, f := range fields {
		before, after := between[i], between[i+1]
		if n := len(before); n > 0 && !(n == 1 && i > 0 && before[0].line == lines[i-1] && before[0].line != lines[i]) {
			put(both[0], f, before[n-1])
		}
		if n := len(after); n > 0 &&
			!(n == 1 && i+1 < len(lines) && after[0].line == lines[i+1] && after[0].line != lines[i]) {
			put(both[1], f, after[0])
		}
	}
	return both
}
