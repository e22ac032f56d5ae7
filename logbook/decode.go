package logbook

import (
	"encoding/csv"
	"errors"
	"reflect"

	"github.com/gocarina/gocsv"
)

// batch is how many rows are decoded at a time: enough to spread gocsv's work
// on the header, few enough that a bad cell costs little.
const batch = 512

// decode maps rows to records by gocsv. A row with a cell that does not parse is
// left out, its entry named and its place told.
func decode[T any](c *content, rows []rowRef) (records []T, problems []Problem) {
	records = []T{} // an empty list is a list, also in JSON
	for len(rows) > 0 {
		n := min(batch, len(rows))
		raw := rawRows{c.header}
		for _, r := range rows[:n] {
			raw = append(raw, c.plain(r))
		}
		var out []T
		err := gocsv.UnmarshalCSV(raw, &out)
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			// gocsv counts the header as line 1 and has filled all rows before this one.
			n = bad.Line - 1
			out = out[:n-1]
			ref := rows[n-1]
			problems = append(problems, c.cellProblem(ref, c.header[bad.Column-1], raw[n][bad.Column-1]))
		} else if err != nil {
			panic("gocsv cannot map " + c.name + ": " + err.Error())
		}
		for i := range out {
			if col, text, ok := c.badWord(raw[i+1]); !ok {
				problems = append(problems, c.cellProblem(rows[i], col, text))
				continue
			}
			unescape(reflect.ValueOf(&out[i]).Elem())
			records = append(records, out[i])
		}
		rows = rows[n:]
	}
	return records, problems
}

func (c *content) cellProblem(r rowRef, columnName, text string) Problem {
	want := c.schema.columns[c.schema.byName[columnName]].want
	return (&CellError{c.name, r.line, columnName, text, want}).problem(r.id)
}

// rawRows feeds gocsv rows that are parsed already.
type rawRows [][]string

func (r rawRows) Read() ([]string, error)      { panic("gocsv reads all rows at once") }
func (r rawRows) ReadAll() ([][]string, error) { return r, nil }

// plain is a row with its numbers in plain form.
func (c *content) plain(r rowRef) []string {
	row := c.cells(r)
	if c.dialect.decimalComma {
		for _, col := range c.schema.columns {
			if i, ok := c.at[col.name]; ok && col.number {
				row[i] = c.dialect.toPoint(row[i])
			}
		}
	}
	return row
}

func (c *content) badWord(row []string) (columnName, text string, ok bool) {
	for _, col := range c.schema.columns {
		if i, there := c.at[col.name]; there && (col.oneOf != nil || col.required) && !col.checkCell(row[i]) {
			return col.name, row[i], false
		}
	}
	return "", "", true
}

func unescape(v reflect.Value) {
	for i := range v.NumField() {
		switch f := v.Field(i); f.Kind() {
		case reflect.String:
			f.SetString(unescapeNewlines(f.String()))
		case reflect.Struct:
			if v.Type().Field(i).Anonymous {
				unescape(f)
			}
		}
	}
}
