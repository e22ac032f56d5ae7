package printed

import "slices"

// underLabels puts figures that stand on a line under a line of their labels right behind these:
// DIAL REACT, and below it 8.90 .042. A table of lanes, with more lines of figures under its head or
// a lane's name before them, stays.
func underLabels(items []item) []item {
	lines := map[int][]item{}
	last := 0
	for _, it := range items {
		lines[it.line] = append(lines[it.line], it)
		last = max(last, it.line)
	}
	var out []item
	for at := 0; at <= last; at++ {
		head, below := lines[at], lines[at+1]
		if !headOf(head) || !figuresUnder(head, below) || figuresUnder(head, lines[at+2]) {
			out = append(out, head...)
			continue
		}
		out = append(out, woven(head, below)...)
		at++
	}
	return out
}

// headOf reports a line of labels, one of a run's figures at least.
func headOf(line []item) bool {
	return len(measuredOf(line)) > 0 && len(line) > 1 &&
		!slices.ContainsFunc(line, func(it item) bool { return it.of != label })
}

func measuredOf(line []item) (at []int) {
	for i, it := range line {
		if it.of == label && it.f.measured() {
			at = append(at, i)
		}
	}
	return at
}

func pointedOf(line []item) (at []int) {
	for i, it := range line {
		if it.of == numeral && !it.n.whole() {
			at = append(at, i)
		}
	}
	return at
}

// figuresUnder reports a line with as many figures as its head has labels of them.
func figuresUnder(head, line []item) bool {
	if slices.ContainsFunc(
		line,
		func(it item) bool { return it.of == sideName || it.of == label && it.f.kind != foul },
	) {
		return false
	}
	return len(pointedOf(line)) == len(measuredOf(head))
}

// woven are labels each before its figure, a car's before what stands first, then what else stands on
// the two lines.
func woven(head, line []item) (out []item) {
	figures, taken := pointedOf(line), map[int]bool{}
	var rest []item
	for _, it := range head {
		at := 0
		switch {
		case it.f.measured():
			at, figures = figures[0], figures[1:]
		case it.f.kind != car || taken[0] || line[0].of == numeral && !line[0].n.whole():
			rest = append(rest, it)
			continue
		}
		taken[at] = true
		out = append(out, it, line[at])
	}
	for i, it := range line {
		if !taken[i] {
			rest = append(rest, it)
		}
	}
	out = append(out, rest...)
	for i := range out {
		out[i].line = head[0].line
	}
	return out
}

// forBoth takes the index that is printed once, above the lanes, out of the items.
func forBoth(items []item) (rest []item, n number, ok bool) {
	at, sides := -1, 0
	for i, it := range items {
		switch {
		case it.of == sideName:
			sides++
		case it.of == label && it.f.kind == index && (at >= 0 || sides > 0):
			return items, n, false
		case it.of == label && it.f.kind == index:
			at = i
		}
	}
	if at < 0 || sides < 2 || at+1 >= len(items) || items[at+1].of != numeral || items[at+1].n.whole() ||
		items[at+1].line != items[at].line {
		return items, n, false
	}
	if after := at + 2; after < len(items) && items[after].of == numeral {
		return items, n, false
	}
	return slices.Concat(items[:at], items[at+2:]), items[at+1].n, true
}

// withBlanks puts the sign of no figure between a label and the other lane's name and label behind it,
// and behind the second of two such labels that ends its line.
func withBlanks(items []item) (out []item) {
	for i, it := range items {
		out = append(out, it)
		if it.of != label || !it.f.measured() && it.f.kind != car {
			continue
		}
		pair := func(at int) bool {
			return at > 0 && at+1 < len(items) && items[at].of == sideName && items[at].line == it.line &&
				items[at+1].of == label && items[at+1].f == it.f && items[at+1].line == it.line
		}
		ends := i+1 == len(items) || items[i+1].line != it.line
		first := slices.IndexFunc(items[:i], func(o item) bool { return o.line == it.line })
		if pair(i+1) || ends && first >= 0 && items[first].of == sideName && pair(i-1) {
			out = append(out, item{of: gap, line: it.line, n: number{id: len(items) + i}})
		}
	}
	return out
}

// oneLabel leaves out a label at the end of a line that begins with it.
func oneLabel(items []item) (out []item) {
	first := 0
	for i, it := range items {
		if it.line != items[first].line {
			first = i
		}
		last := i+1 == len(items) || items[i+1].line != it.line
		named := func(it item) bool { return it.of == sideName }
		if last && i > first+1 && it.of == label && items[first].of == label && it.f == items[first].f &&
			!slices.ContainsFunc(items[first:i], named) {
			continue
		}
		out = append(out, it)
	}
	return out
}
