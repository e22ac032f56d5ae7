// Package table renders every table of the program, in each of its forms.
package table

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// Format is one of the forms that output is given in.
type Format string

// The formats.
const (
	Text     Format = "table"
	CSV      Format = "csv"
	JSON     Format = "json"
	Markdown Format = "markdown"
)

// Formats lists them, for help and errors.
var Formats = []Format{Text, CSV, JSON, Markdown}

// Column is a column of a table.
type Column struct {
	Head  string // what a person reads
	Key   string // the heading in CSV; stable, snake_case, with the unit
	Right bool   // numbers stand right
	Drop  int    // dropped where there is no room: the highest first, 0 never
}

// Table is rows of cells that are already written out.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Add appends a row.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, cells) }

// Cells are the cells of a row by the keys of their columns; those left out are empty.
type Cells map[string]string

// AddCells appends a row; a key that no column has is a mistake in the program.
func (t *Table) AddCells(cells Cells) {
	row := make([]string, len(t.Columns))
	n := 0
	for i, c := range t.Columns {
		if cell, some := cells[c.Key]; some {
			row[i] = cell
			n++
		}
	}
	if n != len(cells) {
		panic(fmt.Sprintf("table: the columns have not all of %v", cells))
	}
	t.Rows = append(t.Rows, row)
}

// Render writes the table in a form other than JSON. Text is fitted into width
// columns of a terminal, 0 being no limit, by leaving columns out; what was left
// out is said.
func (t Table) Render(w io.Writer, f Format, width int) error {
	shown, dropped := t, 0
	if f == Text && width > 0 {
		for shown.width() > width && shown.droppable() >= 0 {
			shown = shown.without(shown.droppable())
			dropped++
		}
	}
	out := shown.writer(f)
	var s string
	switch f {
	case CSV:
		s = out.RenderCSV()
	case Markdown:
		s = out.RenderMarkdown()
	default:
		s = trimLines(out.Render())
	}
	if _, err := fmt.Fprintln(w, s); err != nil {
		return err
	}
	if dropped > 0 {
		columns := "columns"
		if dropped == 1 {
			columns = "column"
		}
		_, err := fmt.Fprintf(w, "(%d %s left out: widen, or --format csv)\n", dropped, columns)
		return err
	}
	return nil
}

func (t Table) writer(f Format) table.Writer {
	out := table.NewWriter()
	header := make(table.Row, len(t.Columns))
	configs := make([]table.ColumnConfig, len(t.Columns))
	for i, c := range t.Columns {
		header[i] = c.Head
		if f == CSV {
			header[i] = c.Key
		}
		configs[i] = table.ColumnConfig{Number: i + 1}
		if c.Right {
			configs[i].Align, configs[i].AlignHeader = text.AlignRight, text.AlignRight
		}
	}
	out.AppendHeader(header)
	out.SetColumnConfigs(configs)
	for _, r := range t.Rows {
		row := make(table.Row, len(r))
		for i, cell := range r {
			row[i] = Clean(cell)
			if f == CSV && !t.Columns[i].Right {
				row[i] = Defuse(Clean(cell))
			}
		}
		out.AppendRow(row)
	}
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Format.Header = text.FormatDefault
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	out.SetStyle(style)
	return out
}

func (t Table) width() int {
	widest := 0
	for line := range strings.Lines(trimLines(t.writer(Text).Render())) {
		widest = max(widest, text.StringWidthWithoutEscSequences(strings.TrimRight(line, "\n")))
	}
	return widest
}

// DropEmpty leaves out the columns that may be dropped and in which no row has anything.
func (t *Table) DropEmpty() {
	for i := len(t.Columns) - 1; i >= 0 && len(t.Rows) > 0; i-- {
		if t.Columns[i].Drop > 0 && !slices.ContainsFunc(t.Rows, func(r []string) bool { return r[i] != "" }) {
			*t = t.without(i)
		}
	}
}

// droppable is the column to leave out first, -1 when all must stay.
func (t Table) droppable() int {
	at, most := -1, 0
	for i, c := range t.Columns {
		if c.Drop >= most && c.Drop > 0 {
			at, most = i, c.Drop
		}
	}
	return at
}

func (t Table) without(at int) Table {
	cut := func(i int) bool { return i == at }
	var less Table
	for i, c := range t.Columns {
		if !cut(i) {
			less.Columns = append(less.Columns, c)
		}
	}
	for _, r := range t.Rows {
		var row []string
		for i, cell := range r {
			if !cut(i) {
				row = append(row, cell)
			}
		}
		less.Rows = append(less.Rows, row)
	}
	return less
}

func trimLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// Clean makes text safe to show: control and formatting characters, which could
// steer the terminal or hide what is there, become a visible mark, line ends a blank.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar:
			return '?'
		}
		return r
	}, s)
}

// Defuse puts a quote mark before text that a spreadsheet would take for a formula.
func Defuse(s string) string {
	if s != "" && strings.ContainsRune("=+-@", rune(s[0])) {
		return "'" + s
	}
	return s
}
