package logbook

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// decode maps rows to records; kept are the rows of the records.
func decode[T any](c *content, rows []rowRef) (records []T, kept []rowRef, bad []failed) {
	records = make([]T, 0, len(rows)) // an empty list is a list, also in JSON
	kept = make([]rowRef, 0, len(rows))
	var record, none T
	columns := c.tiedTo(reflect.ValueOf(&record).Elem())
	for i, row := range c.each(rows) {
		c.plainCells(row)
		record = none
		if b := columns.take(row); b != nil {
			bad = append(bad, c.fail(rows[i], b.column, row[b.at]))
			continue
		}
		records, kept = append(records, record), append(kept, rows[i])
	}
	return records, kept, bad
}

// failed is a row with a cell that does not say what its column holds.
type failed struct {
	row     rowRef
	problem Problem
}

// tied is a column of a file with its field of the one record that all rows are read
// into: what a cell is for is found out once for a file and not for each of its cells.
type tied struct {
	*column
	at   int // in a row
	read func(cell string) error
}

type tiedColumns []tied

// take takes a row, an empty cell as it is in an empty record, up to one that does not say
// what its column holds.
func (list tiedColumns) take(row []string) *tied {
	for i := range list {
		b := &list[i]
		if cell := row[b.at]; !b.checkCell(cell) || cell != "" && b.read(cell) != nil {
			return b
		}
	}
	return nil
}

// tiedTo ties the columns of a file to a record, in the order of the file.
func (c *content) tiedTo(record reflect.Value) (list tiedColumns) {
	kept := map[string]string{}
	for i := range c.schema.columns {
		column := &c.schema.columns[i]
		if at, there := c.at[column.name]; there {
			list = append(list, tied{column, at, readInto(record.FieldByIndex(column.field), kept)})
		}
	}
	slices.SortFunc(list, func(a, b tied) int { return cmp.Compare(a.at, b.at) })
	return list
}

// readInto tells how a cell is read into a field.
func readInto(field reflect.Value, kept map[string]string) func(cell string) error {
	switch to := field.Addr().Interface().(type) {
	case interface{ UnmarshalCSV(cell string) error }:
		return to.UnmarshalCSV
	case *int:
		return func(cell string) (err error) {
			*to, err = strconv.Atoi(strings.TrimSpace(cell))
			return err
		}
	}
	var was, own string // what the column said last: mostly it says so again
	return func(cell string) error {
		if was != cell {
			own = keep(kept, cell)
			was = strings.Clone(cell)
		}
		field.SetString(own)
		return nil
	}
}

// maxKept is from how many different texts on each has its own, as notes and ids have.
const maxKept = 4096

// keep gives a record a text of its own, so that it does not hold on to the line that it was
// parsed from, and one for all that say the same: the vehicle, the track.
func keep(kept map[string]string, cell string) string {
	text, there := kept[cell]
	if !there {
		text = strings.Clone(unescapeNewlines(cell))
		if len(kept) < maxKept {
			kept[strings.Clone(cell)] = text
		}
	}
	return text
}

func (c *content) fail(r rowRef, col *column, text string) failed {
	return failed{r, (&CellError{c.name, r.line, col.name, text, col.want}).problem(r.id)}
}

// present decodes the rows that count. In place of one that cannot be read stands
// another of the same entry and revision, as check --repair appends it.
func present[T any](c *content, rows []rowRef) (records []T, kept []rowRef, problems []Problem) {
	records, kept, bad := decode[T](c, rows)
	if len(bad) == 0 {
		return records, kept, nil
	}
	others := c.others(bad)
	for _, f := range bad {
		recs, refs, _ := decode[T](c, others[f.row.key()])
		if len(recs) > 0 {
			i := c.good(&f.problem, refs)
			records, kept = append(records, recs[i]), append(kept, refs[i])
		}
		problems = append(problems, f.problem)
	}
	return records, kept, problems
}

// others are all rows of the entries and revisions of failed ones.
func (c *content) others(bad []failed) map[key][]rowRef {
	others := map[key][]rowRef{}
	for _, f := range bad {
		others[f.row.key()] = nil
	}
	for _, r := range c.rows {
		if _, wanted := others[r.key()]; wanted {
			others[r.key()] = append(others[r.key()], r)
		}
	}
	return others
}

// good is which of rows stands for one that cannot be read, and says so in its problem.
func (c *content) good(p *Problem, refs []rowRef) int {
	i := c.schema.stands(c.versions(refs), c.now)
	p.What += fmt.Sprintf("; line %d makes it good", refs[i].line)
	p.LeftOut = false
	return i
}
