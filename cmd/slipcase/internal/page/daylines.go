package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"slipcase/cmd/slipcase/internal/table"
)

// The least room of a column, to be written in by hand: of figures, and of words.
const leastFigure, leastWord = 5, 3

// laidOut lays a table out in so many columns of text, each row on as many lines as it takes,
// its cells in their order; the last cell has what is left of its line, and goes on below.
// An empty row is ruled.
func laidOut(t table.Table, width int) (out []string) {
	widths := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		widths[i] = max(leastWord, utf8.RuneCountInString(c.Head))
		if c.Right {
			widths[i] = max(leastFigure, widths[i])
		}
		for _, r := range t.Rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(table.Clean(r[i])))
		}
	}
	last := len(widths) - 1
	widths[last] = max(leastWord, utf8.RuneCountInString(t.Columns[last].Head))
	var starts []int // the cells that begin a line
	used := width + 1
	for i, w := range widths {
		if used+1+w > width {
			starts, used = append(starts, i), -1
		}
		used += 1 + w
	}
	widths[last] += max(0, width-used)
	heads := make([]string, len(widths))
	for i, c := range t.Columns {
		heads[i] = c.Head
	}
	out = append(out, rowLines(t, heads, widths, starts)...)
	rule := strings.Repeat("-", min(width, slices.Max(lengths(out))))
	for _, r := range t.Rows {
		out = append(append(out, rule), rowLines(t, r, widths, starts)...)
	}
	return out
}

func lengths(lines []string) (list []int) {
	for _, l := range lines {
		list = append(list, utf8.RuneCountInString(l))
	}
	return list
}

// rowLines are the lines of a row.
func rowLines(t table.Table, cells []string, widths, starts []int) (out []string) {
	empty := strings.Join(cells, "") == ""
	last := len(widths) - 1
	var below []string
	var line strings.Builder
	end := func() {
		if line.Len() > 0 {
			out = append(out, strings.TrimRight(line.String(), " "))
		}
		line.Reset()
	}
	for i, w := range widths {
		if slices.Contains(starts, i) {
			end()
		} else {
			line.WriteByte(' ')
		}
		cell := table.Clean(cells[i])
		if i == last && cell != "" {
			notes := Lines(cell, w)
			cell, below = notes[0], notes[1:]
		}
		if empty {
			cell = strings.Repeat("_", w)
		}
		room := strings.Repeat(" ", max(0, w-utf8.RuneCountInString(cell)))
		if t.Columns[i].Right {
			cell = room + cell
		} else {
			cell += room
		}
		line.WriteString(cell)
	}
	indent := utf8.RuneCountInString(line.String()) - widths[last]
	end()
	for _, l := range below {
		out = append(out, strings.Repeat(" ", indent)+l)
	}
	return out
}
