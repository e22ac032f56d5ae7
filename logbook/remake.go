package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// saysAll reports whether the journal says all that a file does whose heading cannot be
// read, so that nothing is lost when it is made anew from the journal: each of its rows
// has no cell that some row recorded for it has not.
func (x *examination) saysAll(t table, data []byte) bool {
	d := dialectOf(data)
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, bom)))
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = d.comma, -1, true
	var recorded [][]string // the cells of each row, in order
	for _, e := range x.journal[t.file] {
		recorded = append(recorded, slices.Sorted(maps.Values(e.texts())))
	}
	for first := true; ; first = false {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return len(recorded) > 0
		}
		if err != nil {
			return false
		}
		if first && slices.ContainsFunc(cells, t.schema.isColumn) {
			continue
		}
		row := slices.DeleteFunc(slices.Sorted(slices.Values(cells)), func(cell string) bool { return cell == "" })
		if len(row) > 0 && !slices.ContainsFunc(recorded, func(have []string) bool { return within(row, have) }) {
			return false
		}
	}
}

// isColumn reports whether a cell is the name of a column, however it is capitalised.
func (s schema) isColumn(cell string) bool {
	_, ok := s.byName[strings.ToLower(strings.TrimSpace(cell))]
	return ok
}

// within reports whether all that a row says is said in another, in whatever columns.
func (s schema) within(row, other texts) bool {
	return within(plainValues(slices.Collect(maps.Values(row))), plainValues(slices.Collect(maps.Values(other))))
}

// plainValues are the cells that say something, sorted, numbers and times in one form.
func plainValues(cells []string) []string {
	plain := make([]string, 0, len(cells))
	for _, text := range cells {
		var n units.Number
		var at Time
		switch {
		case text == "":
			continue
		case n.UnmarshalCSV(text) == nil:
			text = n.String()
		case at.UnmarshalCSV(text) == nil:
			text = at.Format(stampLayout)
		}
		plain = append(plain, text)
	}
	slices.Sort(plain)
	return plain
}

// index finds recorded rows by what tells them apart: their ids, and when they were recorded.
type index struct {
	ids  map[string]bool
	rows map[string][][]string // plain values by an id or a moment
}

func indexed(s schema, entries []journalEntry) index {
	x := index{map[string]bool{}, map[string][][]string{}}
	for _, e := range entries {
		t := e.texts()
		values := plainValues(slices.Collect(maps.Values(t)))
		x.ids[e.id] = true
		for _, by := range []string{e.id, t["recorded_at"]} {
			x.rows[by] = append(x.rows[by], values)
		}
	}
	return x
}

// most is how many recorded rows a damaged line is held against.
const most = 100

// says reports whether the cells of a line are all those of one recorded row.
func (x index) says(cells []string) bool {
	plain := plainValues(cells)
	if len(plain) < 3 { // an id, and one or two words that many rows have
		return false
	}
	for _, cell := range plain {
		rows := x.rows[cell]
		for _, recorded := range rows[:min(most, len(rows))] {
			if within(plain, recorded) {
				return true
			}
		}
	}
	return false
}

// within reports whether all of one sorted list is in another.
func within(some, all []string) bool {
	for _, v := range all {
		if len(some) > 0 && some[0] == v {
			some = some[1:]
		}
	}
	return len(some) == 0
}
