package notebook

import (
	"math"
	"slices"
	"strconv"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"
)

// ditto reports the marks that say the same as above.
func ditto(text string) bool {
	return slices.Contains([]string{"\"", "\"\"", "''", "″", "”", "“", "〃", "do.", "ditto", "idem", "-\"-", "- \" -"}, text)
}

// Days as a spreadsheet counts them, from 30 December 1899: those of 1982 and of 2064.
const (
	serialFrom = 30_000
	serialTo   = 60_000
)

// serials takes a column without a heading, or one that says date, for numbers of days, where
// no other has dates and all its figures can be such.
func (m *mapper) serials() {
	if slices.ContainsFunc(m.cols, func(c Mapped) bool { return c.Role == Date && c.dates > 0 }) {
		return
	}
	for i := range m.cols {
		c := &m.cols[i]
		said := c.Role == Date || c.label.role == Date || c.label.role == anyTime
		other := func(v float64) bool { return v < serialFrom || v > m.opts.today() }
		if c.Forced && c.Role != Date || !said && (c.Head != "" || c.Role != "") || len(c.values) == 0 ||
			len(c.values) < c.FilledN || slices.ContainsFunc(c.values, other) {
			continue
		}
		c.ByValues = !said
		c.Role, c.serial = Date, true
		return
	}
}

// today is the number of tomorrow's day, or the last one that is taken for a day.
func (o *Options) today() float64 {
	return math.Min(serialTo, o.Now.AddDate(0, 0, 1).Sub(dayZero).Hours()/24)
}

var dayZero = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

// dayNumber is the moment that a number of a day is.
func (g *Grid) dayNumber(f Field) time.Time {
	a, ok := g.amountOf(f)
	if !ok || a.v < serialFrom || a.v > serialTo {
		return time.Time{}
	}
	return dayZero.Add(time.Duration(a.v * 24 * float64(time.Hour))).Round(time.Minute)
}

var yearAlone = pattern.Of(`\b(19[5-9]\d|20\d\d)\b`)

// yearOver takes the year that the name of a sheet and the lines over its runs say, where they
// say but one.
func (n *Notebook) yearOver(g *Grid, now time.Time) {
	said := map[int]bool{}
	take := func(text string) {
		for _, y := range yearAlone.FindAllString(text, -1) {
			if v, _ := strconv.Atoi(y); v <= now.Year() {
				said[v] = true
			}
		}
	}
	take(g.Name)
	for _, row := range g.Rows {
		if lineOf(g, row).decimals > 1 {
			break
		}
		take(lineText(row))
	}
	for year := range said {
		if len(said) == 1 {
			n.Years[g.Name] = year
		}
	}
}
