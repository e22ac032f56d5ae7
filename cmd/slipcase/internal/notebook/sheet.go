package notebook

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

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
func RunSheet(parts []Part[*crew.Told], each func(func(*crew.Told) error) error) Sheet {
	s := Sheet{Name: "runs"}
	for _, p := range parts {
		s.Heads = append(s.Heads, p.Heads...)
	}
	s.Rows = func(yield func([]Cell, error) bool) {
		r := row[*crew.Told]{parts: parts, cells: make([]Cell, len(s.Heads)), of: make([]string, len(parts))}
		err := each(func(t *crew.Told) error {
			if !yield(r.fill(t), nil) {
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

// row is one that is filled again and again: a part of it that stays the same is left as it is.
type row[T any] struct {
	parts []Part[T]
	cells []Cell
	of    []string // by part, the entry that its cells are of, "" for none
}

func (r *row[T]) fill(t T) []Cell {
	cells := r.cells
	for i, p := range r.parts {
		id := ""
		if p.ID != nil {
			id = p.ID(t)
		}
		if id == "" || id != r.of[i] {
			p.Fill(cells[:len(p.Heads)], t)
			r.of[i] = id
		}
		cells = cells[len(p.Heads):]
	}
	return r.cells
}

// RecordSheet is a table of records of the log.
func RecordSheet[R any](name string, records []R) Sheet {
	part := recordPart[R]("")
	return Sheet{name, part.Heads, func(yield func([]Cell, error) bool) {
		cells := make([]Cell, len(part.Heads))
		for i := range records {
			if part.Fill(cells, &records[i]); !yield(cells, nil) {
				return
			}
		}
	}}
}
