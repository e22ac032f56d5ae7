package logbook

import (
	"encoding/csv"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/gocarina/gocsv"
)

// rowsAtATime is how many rows are decoded at a time: enough to spread gocsv's work
// on the header, few enough that a bad cell costs little.
const rowsAtATime = 512

// failed is a row with a cell that does not say what its column holds.
type failed struct {
	row     rowRef
	problem Problem
}

// decode maps rows to records by gocsv; kept are the rows of the records.
func decode[T any](c *content, rows []rowRef) (records []T, kept []rowRef, bad []failed) {
	records = make([]T, 0, len(rows)) // an empty list is a list, also in JSON
	kept = make([]rowRef, 0, len(rows))
	width := len(c.header)
	most := min(rowsAtATime, len(rows))
	space := make([]string, most*width)
	raw := make(rawRows, 0, most)
	told := newTold(most, width)
	room := make([]*T, most) // pointers: gocsv makes each record itself, and of a slice of values each twice
	own, words := newKeeper(reflect.TypeFor[T]()), c.wordColumns()
	for len(rows) > 0 {
		n := min(rowsAtATime, len(rows))
		raw = raw[:0]
		for i, row := range c.each(rows[:n]) {
			c.plainCells(row)
			place := space[i*width : (i+1)*width : (i+1)*width]
			copy(place, row)
			raw = append(raw, place)
		}
		out := room[:n]
		thin := told.of(c.header, raw)
		err := gocsv.UnmarshalCSV(thin, &out)
		var cell *csv.ParseError
		if errors.As(err, &cell) {
			// gocsv counts the header as line 1 and has filled all rows before this one.
			n = cell.Line - 1
			out = out[:n-1]
			bad = append(bad, c.fail(rows[n-1], thin[0][cell.Column-1], thin[n][cell.Column-1]))
		} else if err != nil {
			panic("gocsv cannot map " + c.name + ": " + err.Error())
		}
		for i := range out {
			if col, text, ok := words.bad(raw[i]); !ok {
				bad = append(bad, c.fail(rows[i], col, text))
				continue
			}
			own.keepTexts(reflect.ValueOf(out[i]).Elem())
			records, kept = append(records, *out[i]), append(kept, rows[i])
		}
		rows = rows[n:]
	}
	return records, kept, bad
}

func (c *content) fail(r rowRef, columnName, text string) failed {
	want := c.schema.columns[c.schema.byName[columnName]].want
	return failed{r, (&CellError{c.name, r.line, columnName, text, want}).problem(r.id)}
}

// present decodes the rows that count. In place of one that cannot be read stands
// another of the same entry and revision, as check --repair appends it.
func present[T any](c *content, rows []rowRef) (records []T, kept []rowRef, problems []Problem) {
	records, kept, bad := decode[T](c, rows)
	if len(bad) == 0 {
		return records, kept, nil
	}
	others := map[key][]rowRef{}
	for _, f := range bad {
		others[f.row.key()] = nil
	}
	for _, r := range c.rows {
		if _, wanted := others[r.key()]; wanted {
			others[r.key()] = append(others[r.key()], r)
		}
	}
	for _, f := range bad {
		recs, refs, _ := decode[T](c, others[f.row.key()])
		if len(recs) > 0 {
			i := c.schema.stands(c.versions(refs), c.now)
			records, kept = append(records, recs[i]), append(kept, refs[i])
			f.problem.What += fmt.Sprintf("; line %d makes it good", refs[i].line)
			f.problem.LeftOut = false
		}
		problems = append(problems, f.problem)
	}
	return records, kept, problems
}

// rawRows feeds gocsv rows that are parsed already.
type rawRows [][]string

func (r rawRows) Read() ([]string, error)      { panic("gocsv reads all rows at once") }
func (r rawRows) ReadAll() ([][]string, error) { return r, nil }

// told are the columns of rows in which any of them has something: half of a slip's are
// mostly empty, and gocsv takes as long for an empty cell as for a figure.
type told struct {
	rows  rawRows
	space []string
	at    []int
}

func newTold(rows, columns int) *told {
	return &told{rows: make(rawRows, 0, rows+1), space: make([]string, 0, (rows+1)*columns)}
}

// of gives them, good until the next time, the heading first. A record has nothing where a
// column is left out, as where its cell is empty.
func (t *told) of(header []string, rows rawRows) rawRows {
	t.rows, t.space, t.at = t.rows[:0], t.space[:0], t.at[:0]
	for i := range header {
		if slices.ContainsFunc(rows, func(row []string) bool { return row[i] != "" }) {
			t.at = append(t.at, i)
		}
	}
	t.add(header)
	for _, row := range rows {
		t.add(row)
	}
	return t.rows
}

func (t *told) add(row []string) {
	from := len(t.space)
	for _, i := range t.at {
		t.space = append(t.space, row[i])
	}
	t.rows = append(t.rows, t.space[from:len(t.space):len(t.space)])
}

// wordColumns are the columns of a file whose cells gocsv takes as they are, and that
// must say certain words or something at all.
func (c *content) wordColumns() (list wordColumns) {
	for _, col := range c.schema.columns {
		if i, there := c.at[col.name]; there && (col.oneOf != nil || col.required) {
			list = append(list, wordColumn{col, i})
		}
	}
	return list
}

type wordColumns []wordColumn

type wordColumn struct {
	column
	at int
}

func (list wordColumns) bad(row []string) (columnName, text string, ok bool) {
	for _, col := range list {
		if !col.checkCell(row[col.at]) {
			return col.name, row[col.at], false
		}
	}
	return "", "", true
}

// keeper gives records texts of their own, so that they do not hold on to the lines
// that they were parsed from, and one for all that say the same: the vehicle, the track.
type keeper struct {
	fields []textField
	kept   map[string]string
}

// textField is a field of a record, and what it said last: mostly it says so again.
type textField struct {
	path     []int
	was, own string
}

// maxKept is from how many different texts on each has its own, as notes and ids have.
const maxKept = 4096

func newKeeper(record reflect.Type) keeper {
	k := keeper{kept: map[string]string{}}
	for _, f := range reflect.VisibleFields(record) {
		if f.Type.Kind() == reflect.String {
			k.fields = append(k.fields, textField{path: f.Index})
		}
	}
	return k
}

func (k keeper) keepTexts(record reflect.Value) {
	for i := range k.fields {
		of := &k.fields[i]
		f := record.FieldByIndex(of.path)
		text := f.String()
		if text == "" {
			continue
		}
		if of.was != text {
			of.own = k.keep(text)
			of.was = strings.Clone(text)
		}
		f.SetString(of.own)
	}
}

func (k keeper) keep(text string) string {
	kept, there := k.kept[text]
	if !there {
		kept = strings.Clone(unescapeNewlines(text))
		if len(k.kept) < maxKept {
			k.kept[strings.Clone(text)] = kept
		}
	}
	return kept
}
