package printed

// column is what a text says of one lane, before its figures are read.
type column struct {
	side      string
	cells     map[field]number
	unsure    map[field]bool // where a figure stands is not told
	won, lost bool
	foul      bool
	car       string
	used      []int // the figures of the text that it has
}

func newColumn(name string) *column {
	return &column{side: name, cells: map[field]number{}, unsure: map[field]bool{}}
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
	section := ""
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
		switch {
		case it.of == label && it.f.kind == unit:
		case it.of == label:
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
	if len(sides) == 0 {
		sides = halfNamed(items)
	}
	return segs, sides
}

// halfNamed are the lanes of a line for their names of which one is read: the other is the other.
func halfNamed(items []item) []string {
	for i, it := range items {
		if it.of != sideName {
			continue
		}
		lanes, before, after := 0, 0, 0
		for k, o := range items {
			switch {
			case o.line != it.line || k == i:
			case o.of == label && o.f.kind == laneWord:
				lanes++
			case o.of == label || o.of == sideName:
				lanes = -len(items)
			case k < i:
				before++
			default:
				after++
			}
		}
		switch {
		case lanes < 1:
		case before == 0 && after == 1:
			return []string{it.text, other(it.text)}
		case before == 1 && after == 0:
			return []string{other(it.text), it.text}
		}
	}
	return nil
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

// hears takes what a text says of a lane beside its figures.
func (c *column) hears(s segment) {
	switch {
	case s.f.kind == foul:
		c.foul = true
	case s.f.kind == winner && len(s.vals) == 0, s.f.kind == winner && s.vals[0].of != sideName && s.section != "":
		c.won = true
	case s.f.kind == result:
		c.says(s)
	}
}
