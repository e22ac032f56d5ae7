package notebook

import "slices"

// bands parts a sheet whose days stand below each other with their runs across: each band has the
// labels of the one above it again. A band is the sheet without the others, so that its rows keep
// their numbers; what stands above the first band is said of all.
func (g *Grid) bands() []*Grid {
	starts := g.bandStarts()
	if len(starts) < 2 {
		return []*Grid{g}
	}
	var all []*Grid
	for k, from := range starts {
		to := len(g.Rows)
		if k+1 < len(starts) {
			to = starts[k+1]
		}
		band := &Grid{Name: g.Name, CommaDecimal: g.CommaDecimal, Rows: slices.Clone(g.Rows)}
		for r := range band.Rows {
			if r >= starts[0] && (r < from || r >= to) {
				band.Rows[r] = make([]Field, len(g.Rows[r]))
			}
		}
		all = append(all, band)
	}
	return all
}

// bandStarts are the rows at which bands begin: each has a time to 60 ft across, named at its left,
// and what stands over it since the figures before it, whatever blank rows part that. The first has
// as much over it as any other has: what stands higher is said of all.
func (g *Grid) bandStarts() (starts []int) {
	var heads [][]int // of each band, the rows where the paragraphs over it begin, and its own
	var over []int
	for from := 0; from < len(g.Rows); from++ {
		to, begins, figures := from, false, false
		for ; to < len(g.Rows); to++ {
			row := g.Rows[to]
			l := lineOf(g, row)
			if l.filled == 0 {
				break
			}
			label := readLabel(row[0].Text).role
			figures = figures || l.decimals > 0 && label != ""
			begins = begins || len(row) > 1 && l.decimals > 0 && label == "et_60_s"
		}
		switch {
		case to == from:
		case begins:
			heads, over = append(heads, append(over, from)), nil
		case figures && len(over) == 0: // of the band above
		default:
			over = append(over, from)
		}
		from = to
	}
	if len(heads) < 2 {
		return nil
	}
	least := len(heads[0])
	for _, h := range heads {
		least = min(least, len(h))
	}
	heads[0] = heads[0][len(heads[0])-least:]
	for _, h := range heads {
		starts = append(starts, h[0])
	}
	return starts
}
