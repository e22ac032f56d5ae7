package notebook

import (
	"fmt"
	"strings"
	"time"

	"slipcase/weather/units"
)

// Grid is a sheet of somebody else's file as its cells read.
type Grid struct {
	Name string // of the sheet, "" where the file is the sheet
	Rows [][]Field
	// CommaDecimal says that numbers in text have a decimal comma, as where cells stand
	// apart by semicolons.
	CommaDecimal bool
}

// Field is a cell as read.
type Field struct {
	Text   string
	Number units.Number // where the sheet has a number
	When   time.Time    // where the sheet has a date or a time of day, by its clock
	Fault  string       // why it has no value, though something stands there
	Copy   bool         // one of merged cells but the first, which says the same
}

// Blank reports a cell without anything.
func (f Field) Blank() bool { return f.Text == "" && f.Fault == "" }

// DayAlone reports a date without a time of day.
func (f Field) DayAlone() bool {
	return !f.When.IsZero() && f.When.Year() >= firstYear && f.When.Equal(f.When.Truncate(24*time.Hour))
}

// ClockAlone reports a time of day without a date: a sheet counts it from its day 0.
func (f Field) ClockAlone() bool { return !f.When.IsZero() && f.When.Year() < 1905 }

// firstYear is before all slips that are kept.
const firstYear = 1950

// What is more than a notebook has.
const (
	mostColumns = 1000
	mostRows    = 100_000
	mostBytes   = 64 << 20
	mostUnzip   = 256 << 20
)

// tooLarge refuses what no notebook has.
func (g *Grid) tooLarge() error {
	where := ""
	if g.Name != "" {
		where = fmt.Sprintf("sheet %q, ", g.Name)
	}
	if len(g.Rows) > mostRows {
		return fmt.Errorf("%smore than %s rows: want the sheet with the runs alone", where, units.Group(fmt.Sprint(mostRows)))
	}
	for i, row := range g.Rows {
		if len(row) > mostColumns {
			return fmt.Errorf("%srow %d has %s columns: want %s at most, the sheet with the runs alone",
				where, i+1, units.Group(fmt.Sprint(len(row))), units.Group(fmt.Sprint(mostColumns)))
		}
	}
	return nil
}

// even gives all rows the same length, blanks cut off the end, and no cell stray blanks.
func (g *Grid) even() {
	width := 0
	for _, row := range g.Rows {
		for c := range row {
			row[c].Text = strings.TrimSpace(strings.ReplaceAll(row[c].Text, "\u00a0", " "))
			if !row[c].Blank() {
				width = max(width, c+1)
			}
		}
	}
	for i, row := range g.Rows {
		if len(row) < width {
			row = append(row, make([]Field, width-len(row))...)
		}
		g.Rows[i] = row[:width]
	}
}

// across is the grid with its rows as columns.
func (g *Grid) across() *Grid {
	out := &Grid{Name: g.Name, CommaDecimal: g.CommaDecimal}
	if len(g.Rows) == 0 {
		return out
	}
	for c := range g.Rows[0] {
		row := make([]Field, len(g.Rows))
		for r := range g.Rows {
			row[r] = g.Rows[r][c]
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// columnName is A, B, ... AA, as spreadsheets call a column.
func columnName(c int) (name string) {
	for c++; c > 0; c = (c - 1) / 26 {
		name = string(rune('A'+(c-1)%26)) + name
	}
	return name
}
