package notebook

import (
	"slices"
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/typed"
)

// block is runs of a sheet under one heading.
type block struct {
	grid  *Grid
	heads []string // of the columns, "" for none; two lines joined
	rows  []place
	flip  bool // the runs stand across: rows are the sheet's columns
}

// place is a row of a block with what stood above it.
type place struct {
	at    int // counted from 0
	above heading
}

// heading is what lines between the runs say of those below.
type heading struct {
	date, track, vehicle, meet string
}

// Remark is a line of a sheet that is no run.
type Remark struct {
	Sheet string
	Row   int
	Text  string
}

// summaryWord is what sheets call an average, a best, a count: in English and the usual other languages.
const summaryWord = `(?:avg|averages?|mean|median|totals?|sums?|best|worst|min|max|minimum|maximum|st\.?\s?dev|` +
	`std\.? ?dev|counts?|fastest|quickest|high|low|durchschnitt|mittel(?:wert)?|summe|schnitt|moyennes?|meilleurs?|` +
	`media|promedio|mejor|migliore|gemiddelde|medel(?:värde)?|snitt|bäst)`

// summary is such a word first on a line; summaryOf is a cell with nothing else, or behind what it
// is of: day best, Saturday's average.
var (
	summary   = pattern.Of(`(?i)^\s*` + summaryWord + `(?:$|[^\pL])`)
	summaryOf = pattern.Of(
		`(?i)^\s*(?:(?:the |of )?(?:day|daily|round|session|meet|event|season|year|month|week|weekend|track|car|runs?|` +
			`overall|tag(?:es)?|jour|d[ií]a|giorno|dag)(?:'?s)?[\s-]*)?` + summaryWord + `\s*$`,
	)
)

// layout finds the blocks of a sheet, with its rows down or across, whichever has more runs.
func layout(g *Grid, names *names) (blocks []*block, remarks []Remark) {
	blocks, remarks = blocksOf(g, names, g.named(names))
	if len(g.Rows) > 0 && len(g.Rows) <= mostColumns {
		without, above, titles := g.titled(names)
		if across, other := blocksOf(without.across(), names, above); runsIn(across) > 0 &&
			headed(across) > headed(blocks) {
			for _, b := range across {
				b.flip = true
			}
			return across, append(titles, other...)
		}
	}
	return blocks, remarks
}

func runsIn(blocks []*block) (n int) {
	for _, b := range blocks {
		n += len(b.rows)
	}
	return n
}

// headed is how well the headings of the blocks are known: so many different ones, of the best.
func headed(blocks []*block) (most int) {
	for _, b := range blocks {
		said := map[label]bool{}
		for _, h := range b.heads {
			if l := readLabel(h); l.role != "" {
				said[l] = true
			}
		}
		if len(b.rows) > 0 {
			most = max(most, len(said))
		}
	}
	return most
}

// line is what a row looks like.
type line struct {
	filled, labels, figures, decimals int
	first                             string
	sums                              bool // what stands before its figures calls it an average, a total, a best
}

func lineOf(g *Grid, row []Field) (l line) {
	seen := ""
	for i, f := range row {
		if f.Blank() || f.Copy && i > 0 && row[i-1].Text == f.Text {
			continue
		}
		if l.filled++; l.first == "" {
			l.first = f.Text
		}
		seen = f.Text
		l.sums = l.sums ||
			l.decimals == 0 && (summaryOf.MatchString(seen) || l.filled == 1 && summary.MatchString(seen))
		_, _, isSplit := g.splitOf(f)
		said := strings.HasSuffix(seen, ":") && i+1 < len(row) && !row[i+1].Blank() // what it is stands beside it
		if !said && mayHead(seen) && !isSplit && !f.isDecimal(g) && f.When.IsZero() {
			if known := readLabel(seen); known.role != "" || known.unit != "" {
				l.labels++
				continue
			}
		}
		if isSplit {
			l.figures, l.decimals = l.figures+2, l.decimals+2
		} else if _, ok := g.amountOf(f); ok {
			l.figures++
			if f.isDecimal(g) {
				l.decimals++
			}
		} else if _, ok := g.reactionOf(f); ok {
			l.figures, l.decimals = l.figures+1, l.decimals+1
		}
	}
	return l
}

// someones reports that the word of a sum in a row is a name, Max or Min: the row has a date of its
// own, or a figure that is neither the largest nor the smallest of the rows above it, or of those
// below the first.
func (g *Grid) someones(r int) bool {
	named := func(f Field) bool { return strings.EqualFold(f.Text, "max") || strings.EqualFold(f.Text, "min") }
	if !slices.ContainsFunc(g.Rows[r], named) || slices.ContainsFunc(g.Rows[r], Field.dated) {
		return slices.ContainsFunc(g.Rows[r], named)
	}
	more, less := map[int]bool{}, map[int]bool{}
	step := -1
	if r == 0 || lineOf(g, g.Rows[r-1]).decimals == 0 {
		step = 1
	}
	for at := r + step; at >= 0 && at < len(g.Rows); at += step {
		if other := lineOf(g, g.Rows[at]); other.decimals == 0 ||
			other.sums && !slices.ContainsFunc(g.Rows[at], Field.dated) {
			break
		}
		for c, f := range g.Rows[r] {
			a, ok := g.amountOf(f)
			b, both := g.amountOf(g.Rows[at][c])
			more[c] = more[c] || ok && both && a.v > b.v
			less[c] = less[c] || ok && both && a.v < b.v
		}
	}
	for c := range more {
		if more[c] && less[c] {
			return true
		}
	}
	return false
}

var markAlone = pattern.Of(`^(60|330|660|1,?000|1,?320|1/8|1/4|⅛|¼)['’′"]?$`)

// mayHead reports a text that could be a heading: words, or a mark.
func mayHead(text string) bool {
	const longest = 40
	letters := strings.IndexFunc(text, unicode.IsLetter) >= 0
	return len(text) <= longest && (letters || strings.ContainsAny(text, "%°") || markAlone.MatchString(text))
}

// isDecimal reports a number with a fraction, as times have and headings have not.
func (f Field) isDecimal(g *Grid) bool {
	a, ok := g.amountOf(f)
	digits := strings.TrimRight(f.Text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ'\" ")
	return ok && (a.v != float64(int64(a.v)) || strings.ContainsAny(digits, ".,") && !grouped.MatchString(digits))
}

// dated reports a cell with a date.
func (f Field) dated() bool {
	if !f.When.IsZero() {
		return !f.ClockAlone()
	}
	_, rest, ok := typed.ReadDay(f.Text)
	return ok && rest == ""
}

func (l line) heading() bool {
	return l.labels >= 2 && l.decimals == 0 && l.labels*3 >= l.filled || l.labels >= 4 && l.decimals <= 1
}

// blocksOf parts a sheet into blocks, each the rows of runs under one heading, and the rows that
// are neither.
func blocksOf(g *Grid, names *names, above heading) (blocks []*block, remarks []Remark) {
	var b *block
	skip := -1
	for r, row := range g.Rows {
		l := lineOf(g, row)
		switch {
		case l.filled == 0 || r == skip:
		case l.sums && l.decimals > 0 && !l.heading() && !g.someones(r):
			remarks = append(remarks, Remark{g.Name, r + 1, l.first})
		case l.heading():
			heads := slices.Repeat([]string{""}, len(row))
			for c, f := range row {
				heads[c] = f.Text
			}
			if r+1 < len(g.Rows) {
				if next := lineOf(g, g.Rows[r+1]); next.heading() {
					heads, skip = joined(heads, g.Rows[r+1]), r+1
				}
			}
			if r > 0 && skip != r+1 && overHeads(g, r-1, row) {
				heads = joined(textsOf(g.Rows[r-1]), row)
				remarks = slices.DeleteFunc(remarks, func(m Remark) bool { return m.Row == r })
			}
			if b == nil || !slices.Equal(b.heads, heads) {
				b = &block{grid: g, heads: heads}
				blocks = append(blocks, b)
			}
		case b != nil && b.isRun(row, l), b == nil && l.decimals >= 2:
			if b == nil {
				b = &block{grid: g, heads: slices.Repeat([]string{""}, len(row))}
				blocks = append(blocks, b)
				// What stands above it in each column is its heading, whatever it means.
				if r > 0 {
					if over := lineOf(g, g.Rows[r-1]); over.filled > 2 && over.decimals == 0 {
						b.heads = textsOf(g.Rows[r-1])
						remarks = slices.DeleteFunc(remarks, func(m Remark) bool { return m.Row == r })
					}
				}
			}
			b.rows = append(b.rows, place{r, above})
		default:
			text := lineText(row)
			if !above.take(text, row, names) {
				remarks = append(remarks, Remark{g.Name, r + 1, text})
			}
		}
	}
	return slices.DeleteFunc(blocks, func(b *block) bool { return len(b.rows) == 0 }), remarks
}

func textsOf(row []Field) []string {
	out := make([]string, len(row))
	for i, f := range row {
		out[i] = f.Text
	}
	return out
}

func lineText(row []Field) string {
	var words []string
	for i, f := range row {
		if !f.Blank() && !(f.Copy && i > 0 && row[i-1].Text == f.Text) {
			words = append(words, f.Text)
		}
	}
	return strings.Join(words, " ")
}

// overHeads reports that the line above a heading is its first line: where it has marks or
// lanes over columns that alone say ET or MPH, or the line has two things in it over others.
func overHeads(g *Grid, r int, below []Field) bool {
	over := g.Rows[r]
	l := lineOf(g, over)
	merged := slices.ContainsFunc(over, func(f Field) bool { return f.Copy })
	if l.filled == 0 || l.decimals > 0 || l.filled == 1 && !merged && l.labels == 0 {
		return false
	}
	for c, f := range over {
		if f.Blank() || c >= len(below) {
			continue
		}
		said, under := readLabel(f.Text), readLabel(below[c].Text)
		if (said.role != "" || said.opponent) && (carries(under) || below[c].Blank()) && c > 0 {
			return true
		}
	}
	return false
}

// carries reports a heading that a mark or a lane above it completes.
func carries(l label) bool {
	switch l.role {
	case anyET, anyMPH, anyTime, "reaction_s", "dial_s", "":
		return true
	}
	return false
}

// joined joins two lines of a heading; what stands once over several columns is over all
// of them that it completes.
func joined(over []string, below []Field) []string {
	heads := make([]string, len(below))
	carried := ""
	for c, f := range below {
		up := ""
		if c < len(over) {
			up = over[c]
		}
		low := readLabel(f.Text)
		own := up != ""
		if own {
			carried = up
		}
		switch {
		case f.Text == "" || f.Text == up:
			heads[c] = up
		case own:
			heads[c] = strings.TrimSpace(up + " " + f.Text)
		case carries(low) && low.role != "" && carried != "":
			heads[c] = carried + " " + f.Text
		default:
			heads[c], carried = f.Text, ""
		}
	}
	return heads
}

// isRun reports a row with figures where the block has its columns.
func (b *block) isRun(row []Field, l line) bool {
	if l.decimals == 0 {
		return false
	}
	under := 0
	for c, f := range row {
		if f.Blank() || c >= len(b.heads) || b.heads[c] == "" {
			continue
		}
		if _, ok := b.grid.amountOf(f); ok {
			under++
		} else if _, _, ok := b.grid.splitOf(f); ok {
			under += 2
		}
	}
	return under >= 2 || under >= 1 && l.filled >= 3 ||
		!slices.ContainsFunc(b.heads, func(h string) bool { return h != "" })
}
