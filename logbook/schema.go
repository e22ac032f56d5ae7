package logbook

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/gocarina/gocsv"

	"slipcase/weather/units"
)

// maxText is the longest text a cell may hold.
const maxText = 10_000

// columnSet is what the fields of a record say of its file: the columns in order,
// which of them must be there, and what their cells may hold.
type columnSet struct {
	columns []column
	byName  map[string]int
}

type column struct {
	name     string
	field    []int    // of the record, as reflect.Value.FieldByIndex has it
	want     string   // the form of a cell, for errors
	oneOf    []string // the words a cell may hold; nil is free
	required bool
	later    bool // newer than the first files: added when it first has a value
	text     bool // anything may stand in it
	number   bool
	time     bool
}

func schemaOf[T any]() columnSet { return schemaFor(reflect.TypeFor[T]()) }

// schemas are those that were read off their records: every record that is checked asks.
var schemas sync.Map // of columnSet by reflect.Type

func schemaFor(record reflect.Type) columnSet {
	s, read := schemas.Load(record)
	if !read {
		s, _ = schemas.LoadOrStore(record, readSchema(record))
	}
	return s.(columnSet)
}

func readSchema(record reflect.Type) columnSet {
	s := columnSet{byName: map[string]int{}}
	for _, f := range reflect.VisibleFields(record) {
		if f.Anonymous {
			continue
		}
		c := column{
			name: f.Tag.Get("csv"), field: f.Index,
			required: f.Tag.Get("required") != "", later: f.Tag.Get("later") != "",
		}
		switch {
		case f.Tag.Get("oneof") != "":
			c.oneOf = strings.Fields(f.Tag.Get("oneof"))
			c.want = "one of " + strings.Join(c.oneOf, ", ")
		case f.Type == reflect.TypeFor[units.Number]():
			c.number, c.want = true, "a plain number"
		case f.Type == reflect.TypeFor[Time]():
			c.time, c.want = true, "a time with its offset, as 2026-05-02T14:25:00-05:00"
		case f.Type == reflect.TypeFor[Lengths]():
			c.want = "lengths in feet, as 660 1320"
		case f.Type == reflect.TypeFor[Points]():
			c.want = "rpm:hp pairs apart by blanks, as 3000:171.4 3500:208"
		case f.Type.Kind() == reflect.Int:
			c.want = "a whole number"
		default:
			c.text, c.want = true, "text"
		}
		s.byName[c.name] = len(s.columns)
		s.columns = append(s.columns, c)
	}
	return s
}

// required names the columns without which a file cannot be read at all.
func (s columnSet) required() []string {
	names := []string{"id", "rev", "status"}
	for _, c := range s.columns {
		if c.required {
			names = append(names, c.name)
		}
	}
	return names
}

// later reports whether a column is newer than the first files, so that one without it
// has lost nothing.
func (s columnSet) later(name string) bool {
	i, ours := s.byName[name]
	return ours && s.columns[i].later
}

// checkCell refuses a cell that the column's words or the racer's need forbid.
func (c *column) checkCell(text string) bool {
	if text == "" {
		return !c.required
	}
	return c.oneOf == nil || slices.Contains(c.oneOf, text)
}

// cells marshals a record to its columns, in the schema's order.
func cells(rec Record) ([]string, error) {
	list := reflect.MakeSlice(reflect.SliceOf(reflect.TypeOf(rec)), 1, 1)
	list.Index(0).Set(reflect.ValueOf(rec))
	var got capture
	if err := gocsv.MarshalCSVWithoutHeaders(list.Interface(), &got); err != nil {
		return nil, err
	}
	for i, c := range got.row {
		got.row[i] = escapeNewlines(c)
	}
	return got.row, nil
}

// capture is a gocsv writer that keeps the one row it is given.
type capture struct{ row []string }

func (c *capture) Write(row []string) error { c.row = slices.Clone(row); return nil }
func (c *capture) Flush()                   {}
func (c *capture) Error() error             { return nil }

var newlines = strings.NewReplacer("\\", `\\`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// escapeNewlines keeps a row on one physical line: a newline becomes the two
// characters \n, and a backslash is doubled so that both read back.
func escapeNewlines(s string) string {
	if !strings.ContainsAny(s, "\\\r\n") {
		return s
	}
	return newlines.Replace(s)
}

var breaks = strings.NewReplacer("\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// unescapeNewlines undoes escapeNewlines. A backslash before anything else was
// typed in another program and stands for itself.
func unescapeNewlines(s string) string {
	if !strings.Contains(s, `\`) {
		return s
	}
	return strings.NewReplacer(`\\`, `\`, `\n`, "\n").Replace(s)
}

// checkRecord refuses what no column can hold, in words of the columns.
func checkRecord[T any, P interface {
	*T
	Record
}](rec P,
) error {
	row, err := cells(rec)
	if err != nil {
		return err
	}
	return schemaOf[T]().checkRow(row)
}

func (s columnSet) checkRow(row []string) error {
	for i, c := range s.columns {
		switch {
		case c.name == "id" || c.name == "rev" || c.name == "status" || c.name == "recorded_at":
		case !c.checkCell(row[i]) && row[i] == "":
			return fmt.Errorf("%s is missing: want %s", c.name, c.want)
		case !c.checkCell(row[i]):
			return fmt.Errorf("%s %q: want %s", c.name, clip(row[i]), c.want)
		case len(row[i]) > maxText:
			return fmt.Errorf("%s is %d bytes long: the most is %d", c.name, len(row[i]), maxText)
		case !utf8.ValidString(row[i]):
			return fmt.Errorf("%s is not valid UTF-8 text", c.name)
		case strings.ContainsRune(row[i], 0):
			return fmt.Errorf("%s holds a NUL character", c.name)
		}
	}
	return nil
}
