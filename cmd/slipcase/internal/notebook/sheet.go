package notebook

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
)

// Head is the head of a column.
type Head struct {
	Name string
	Kind Kind
}

// Sheet is a table to be written: its rows come one at a time, each good until the next,
// until one ends in an error.
type Sheet struct {
	Name  string
	Heads []Head
	Rows  iter.Seq2[[]Cell, error]
}

// Endings are those of the files that Write writes.
var Endings = []string{".csv", ".json", ".jsonl", ".xlsx", ".md"}

// Ending is the one of a file's name that Write knows, "" where it knows none.
func Ending(name string) string {
	i := slices.IndexFunc(Endings, func(e string) bool { return strings.HasSuffix(strings.ToLower(name), e) })
	if i < 0 {
		return ""
	}
	return Endings[i]
}

// Write writes sheets in the form of an ending: the first alone, but all into a workbook.
func Write(w io.Writer, ending string, sheets ...Sheet) error {
	switch ending {
	case ".csv":
		return writeCSV(w, sheets[0])
	case ".json":
		return writeJSON(w, sheets[0])
	case ".jsonl":
		return writeLines(w, sheets[0])
	case ".md":
		return writeMarkdown(w, sheets[0])
	case ".xlsx":
		return writeWorkbook(w, sheets)
	}
	return fmt.Errorf("%q: want one of %s", ending, strings.Join(Endings, ", "))
}

// RunSheet is a table of runs; each tells every one of them to its argument.
func RunSheet(columns []Column[*crew.Told], each func(func(*crew.Told) error) error) Sheet {
	s := Sheet{Name: "runs", Heads: headsOf(columns)}
	s.Rows = func(yield func([]Cell, error) bool) {
		row := make([]Cell, len(columns))
		err := each(func(t *crew.Told) error {
			if !yield(fill(row, columns, t), nil) {
				return errStopped
			}
			return nil
		})
		if err != nil && err != errStopped {
			yield(nil, err)
		}
	}
	return s
}

var errStopped = errors.New("no more rows are wanted")

// RecordSheet is a table of records of the log.
func RecordSheet[R any](name string, records []R) Sheet {
	columns := recordColumns[R]()
	return Sheet{name, headsOf(columns), func(yield func([]Cell, error) bool) {
		row := make([]Cell, len(columns))
		for i := range records {
			if !yield(fill(row, columns, &records[i]), nil) {
				return
			}
		}
	}}
}

func headsOf[T any](columns []Column[T]) []Head {
	heads := make([]Head, len(columns))
	for i, c := range columns {
		heads[i] = Head{c.Name, c.Kind}
	}
	return heads
}

func fill[T any](row []Cell, columns []Column[T], t T) []Cell {
	for i, c := range columns {
		row[i] = c.Cell(t)
	}
	return row
}

// plain is a cell as text, a formula's beginning made harmless.
func plain(c Cell) string {
	switch c := c.(type) {
	case string:
		return Defused(c)
	case float64:
		return strconv.FormatFloat(c, 'f', -1, 64)
	case bool:
		return strconv.FormatBool(c)
	case time.Time:
		return stamp(c)
	}
	return ""
}

// Defused puts a quote mark before text that a spreadsheet would take for a formula, and
// before one that has such a mark already, so that Fused gets each back.
func Defused(s string) string {
	if rest := strings.TrimLeft(s, "'"); rest != "" && strings.ContainsRune("=+-@\t\r", rune(rest[0])) {
		return "'" + s
	}
	return s
}

// Fused undoes Defused.
func Fused(s string) string {
	if rest, marked := strings.CutPrefix(s, "'"); marked && Defused(rest) == s {
		return rest
	}
	return s
}
