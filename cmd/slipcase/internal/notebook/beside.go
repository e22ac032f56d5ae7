package notebook

import (
	"slices"
	"strings"
)

// sideBySide takes a sheet apart in which runs of several cars stand beside each other under
// the same headings, each with what stands before all of them; another is one part.
func (g *Grid) sideBySide(known *names) []*Grid {
	for r, row := range g.Rows {
		if !lineOf(g, row).heading() {
			continue
		}
		from, starts := repeats(textsOf(row))
		if from < 0 || g.otherOver(r, starts) {
			return []*Grid{g}
		}
		parts := make([]*Grid, len(starts))
		for i, at := range starts {
			end := len(row)
			if i+1 < len(starts) {
				end = starts[i+1]
			}
			parts[i] = g.only(r, from, at, end, known)
		}
		return parts
	}
	return []*Grid{g}
}

// repeats finds where headings begin that stand there again and again to the end of a line.
func repeats(heads []string) (from int, starts []int) {
	for from := range heads {
		for next := from + 3; heads[from] != "" && next < len(heads); next++ {
			if heads[next] != heads[from] {
				continue
			}
			starts := []int{from}
			same := withoutBlanks(heads[from:next])
			at := next
			for at < len(heads) {
				end := min(at+next-from, len(heads))
				if !slices.Equal(withoutBlanks(heads[at:end]), same) {
					break
				}
				starts, at = append(starts, at), end
			}
			if len(starts) > 1 && len(withoutBlanks(heads[min(at, len(heads)):])) == 0 && marksIn(same) > 1 {
				return from, starts
			}
		}
	}
	return -1, nil
}

func withoutBlanks(words []string) (out []string) {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "" })
}

// marksIn are so many different marks that headings name the times of.
func marksIn(heads []string) int {
	said := map[Role]bool{}
	for _, h := range heads {
		if l := readLabel(h); slices.Contains(etMarks, l.role) && !l.corrected {
			said[l.role] = true
		}
	}
	return len(said)
}

// otherOver reports that what stands over the parts is the other lane, or air, say: no cars.
func (g *Grid) otherOver(r int, starts []int) bool {
	return r > 0 && slices.ContainsFunc(starts, func(at int) bool {
		over := readLabel(g.Rows[r-1][at].Text)
		return over.opponent || over.corrected || over.role != "" && over.role != Track
	})
}

// only is the grid with the columns before from and those of one part. A name over the part
// alone is that of its car, unless a track is called so.
func (g *Grid) only(r, from, at, end int, known *names) *Grid {
	out := &Grid{Name: g.Name, CommaDecimal: g.CommaDecimal, Rows: make([][]Field, len(g.Rows))}
	for i, row := range g.Rows {
		out.Rows[i] = make([]Field, len(row))
		copy(out.Rows[i], row[:from])
		copy(out.Rows[i][at:end], row[at:end])
	}
	if r == 0 || g.Rows[r-1][at].Blank() {
		return out
	}
	name := g.Rows[r-1][at].Text
	if _, track := known.track(name); !track && !strings.ContainsAny(name, ":=") {
		out.Rows[r-1] = slices.Repeat([]Field{{}}, len(out.Rows[r-1]))
		out.Rows[r-1][at].Text = "Car: " + name
	}
	return out
}

// severalDays reports a row with different dates: each is of the runs below it.
func severalDays(row []Field) bool {
	first := ""
	for _, f := range row {
		if f.Blank() || !f.dated() {
			continue
		}
		if first != "" && f.Text != first {
			return true
		}
		first = f.Text
	}
	return false
}

// titled takes the lines over a sheet whose runs stand across: what they say is of all runs.
// The grid that comes back is without them.
func (g *Grid) titled(known *names) (without *Grid, above heading, remarks []Remark) {
	without = &Grid{Name: g.Name, CommaDecimal: g.CommaDecimal, Rows: slices.Clone(g.Rows)}
	above = g.named(known)
	const few = 3
	for r, row := range g.Rows {
		l := lineOf(g, row)
		if l.filled == 0 {
			continue
		}
		figureless := fieldOf(readLabel(row[0].Text).role).figure() // the label of a row of figures, which has none
		if l.decimals > 0 || l.filled >= few && l.filled*few >= len(row) && !figureless || severalDays(row) {
			break
		}
		text := lineText(row)
		if text == "" {
			continue
		}
		if !above.take(text, row, known) {
			remarks = append(remarks, Remark{g.Name, r + 1, text})
		}
		without.Rows[r] = make([]Field, len(row))
	}
	return without, above, remarks
}
