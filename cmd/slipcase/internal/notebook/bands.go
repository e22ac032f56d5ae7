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

// bandStarts are the rows behind a blank one at which bands begin: each has a time to 60 ft across,
// named at its left.
func (g *Grid) bandStarts() (starts []int) {
	blank := 0 // the row behind the last blank one
	for r, row := range g.Rows {
		l := lineOf(g, row)
		if l.filled == 0 {
			blank = r + 1
			continue
		}
		if len(row) > 1 && l.decimals > 0 && readLabel(row[0].Text).role == "et_60_s" &&
			!slices.Contains(starts, blank) {
			starts = append(starts, blank)
		}
	}
	return starts
}
