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
	nones     int   // so many places say that there is no figure
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

// partAtLabels parts the items at their labels.
func partAtLabels(items []item) (segs []segment, sides []string) {
	section := ""
	items = slices.DeleteFunc(slices.Clone(items), func(it item) bool { return it.of == gap }) // names stand among them
	at := func(i int) item {
		if i < 0 || i >= len(items) {
			return item{line: -1}
		}
		return items[i]
	}
	beside := func(i, k int) bool { return at(k).line == items[i].line }
	alone := func(i int) bool { return !beside(i, i-1) && !beside(i, i+1) }
	paired := func(i, step int) bool { // with the other lane's name, or a word for lanes and that
		o, behind := at(i+step), at(i+2*step)
		return o.of == sideName && (beside(i, i+step) || alone(i) && alone(i+step)) ||
			o.f.kind == laneWord && behind.of == sideName && behind.line == o.line
	}
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
			switch next := at(i + 1); {
			case last().f.kind == winner && len(last().vals) == 0 &&
				(beside(i, i-1) || next.line < 0 || next.of == label && !next.f.measured() && next.f.kind != car &&
					next.f.kind != laneWord):
				last().vals = append(last().vals, it)
			case paired(i, 1):
				sides, section = []string{it.text, other(it.text)}, ""
			case paired(i, -1):
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
		lanes, before, after, names := 0, 0, 0, 0
		for k, o := range items {
			switch {
			case o.line != it.line || k == i:
			case o.of == label && o.f.kind == laneWord:
				lanes++
			case o.of == label || o.of == sideName:
				lanes, names = -len(items), -len(items)
			case k < i:
				names += nameLike(o, other(it.text))
				before++
			default:
				names += nameLike(o, other(it.text))
				after++
			}
		}
		switch {
		case lanes < 1 && names < 1:
		case before == 0 && after == 1:
			return []string{it.text, other(it.text)}
		case before == 1 && after == 0:
			return []string{other(it.text), it.text}
		}
	}
	return nil
}

// nameLike counts a word that may be a lane's name misread: as long, with most of its letters.
func nameLike(it item, name string) int {
	if it.of != word || len(it.text) != len(name) {
		return 0
	}
	said, want := deep(it.text), deep(name)
	same := 0
	for i := range min(len(said), len(want)) {
		if said[i] == want[i] {
			same++
		}
	}
	return same * 2 / (len(want) + 1) // 1 for more than half of them
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
