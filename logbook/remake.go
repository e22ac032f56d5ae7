package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
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

// within reports whether all of one sorted list is in another.
func within(some, all []string) bool {
	for _, v := range all {
		if len(some) > 0 && some[0] == v {
			some = some[1:]
		}
	}
	return len(some) == 0
}
