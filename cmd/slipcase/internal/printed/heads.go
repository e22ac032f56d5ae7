package printed

import (
	"math"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

// fewestHeads are so many labels in a row that make a heading.
const fewestHeads = 4

// underHeads reads lanes under a heading of labels, in rows or one column after the other;
// joined takes a mark and what follows it for one label.
func underHeads(items []item, joined bool) []*column {
	heads, rest := headingOf(items, joined)
	if len(heads) < fewestHeads {
		return nil
	}
	var all []*column
	var groups [][]number
	open := false
	for _, it := range rest {
		switch {
		case it.of == sideName && !open && len(groups) > 0 && len(groups[len(groups)-1]) == 0:
		case it.of == sideName:
			all, groups = append(all, newColumn(it.text)), append(groups, nil)
			open = true
		case it.of == numeral:
			if len(groups) == 0 {
				all, groups = append(all, newColumn("")), append(groups, nil)
			}
			groups[len(groups)-1] = append(groups[len(groups)-1], it.n)
		case it.of == label && it.f.kind == winner:
			if len(all) > 1 {
				open = false
			}
		case it.of == label && len(all) > 0 && it.f.kind == foul:
			all[len(all)-1].foul = true
		case it.of == label && len(all) > 0 && it.f.kind == result:
			all[len(all)-1].says(segment{text: it.text})
		}
		if it.of == label && (it.f.kind == winner || it.f.kind == ignored) {
			break
		}
	}
	if len(groups) == 1 && len(groups[0]) > len(heads)+1 { // two lanes whose names do not stand by them
		half := len(groups[0]) / 2
		all[0].side = "left"
		all = append(all, newColumn("right"))
		groups = [][]number{groups[0][:half], groups[0][half:]}
	}
	var out []*column
	for i, c := range all {
		if len(groups[i]) > 1 && len(out) < 2 {
			c.align(heads, groups[i])
			out = append(out, c)
		}
	}
	return out
}

// headingOf is the longest row of labels without a figure between them, and what follows it.
func headingOf(items []item, joined bool) (best []field, rest []item) {
	var heads []field
	mark := finish
	for i, it := range items {
		if it.of == numeral || it.of == sideName {
			heads = nil
			continue
		}
		if it.of != label || it.f.kind == unit {
			continue
		}
		f := it.f
		was := field{}
		if len(heads) > 0 {
			was = heads[len(heads)-1]
		}
		switch {
		case f.kind == et && f.mark == finish && joined && was.kind == et:
			continue
		case f.kind == et:
			mark = f.mark
		case f.kind == speed:
			f.mark = mark
			if joined && was.kind == et {
				heads[len(heads)-1] = f
				f = field{}
			}
		}
		if f.measured() || f.kind == car || f.kind == runNo {
			heads = append(heads, f)
		}
		if len(heads) > len(best) || f == (field{}) && len(heads) == len(best) {
			best, rest = append([]field{}, heads...), items[i+1:]
		}
	}
	return best, rest
}

// align gives figures to headings in their order, leaving out what cannot be.
func (c *column) align(heads []field, ns []number) {
	const noFigure, noHead = 3, 9
	cost := make([][]float64, len(heads)+1)
	for h := range cost {
		cost[h] = make([]float64, len(ns)+1)
		for k := range cost[h] {
			best := math.Inf(1)
			if h == 0 && k == 0 {
				best = 0
			}
			if h > 0 {
				best = math.Min(best, cost[h-1][k]+noFigure)
			}
			if k > 0 {
				best = math.Min(best, cost[h][k-1]+noHead)
			}
			if h > 0 && k > 0 {
				best = math.Min(best, cost[h-1][k-1]+unlike(heads[h-1], ns[k-1]))
			}
			cost[h][k] = best
		}
	}
	for h, k := len(heads), len(ns); h > 0 && k > 0; {
		switch f, n := heads[h-1], ns[k-1]; {
		case cost[h][k] == cost[h-1][k-1]+unlike(f, n):
			switch {
			case f.kind == car:
				c.car = n.text
			case f.measured():
				c.put(f, n)
				// Where headings and figures do not pair off, what only its place tells is not sure.
				c.unsure[f] = c.unsure[f] || len(heads) != len(ns) && (f.kind == dial || f.kind == index)
			}
			h, k = h-1, k-1
		case cost[h][k] == cost[h-1][k]+noFigure:
			h--
		default:
			k--
		}
	}
}

// unlike is how far a figure is from one of a field: 0 where it can be one.
func unlike(f field, n number) float64 {
	const never, badly = 12, 8
	if f.kind == car || f.kind == runNo {
		if n.whole() && !n.neg {
			return 0
		}
		return never
	}
	for _, r := range n.readings() {
		if f.holds(r.v) {
			if n.points() != 1 {
				return 1
			}
			return 0
		}
	}
	return badly
}

// holds reports that a field can have a value.
func (f field) holds(v float64) bool {
	switch f.kind {
	case reaction:
		return v > -2 && v < 5
	case dial, index:
		return typed.HoldsDial(v)
	case speed:
		return typed.HoldsSpeed(v)
	case et:
		if f.mark == finish {
			return v > logbook.QuickestS[660] && v < 30
		}
		return typed.Holds(markFt[f.mark], v)
	}
	return false
}
