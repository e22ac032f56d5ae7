package logbook

import (
	"maps"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// saysAll reports whether the journal says all that a file does whose heading cannot be
// read, so that nothing is lost when it is made anew from the journal: the cells of each
// of its rows are all those of one recorded row.
func (x *examination) saysAll(t table, data []byte) bool {
	recorded := indexed(t.schema, x.journal[t.file])
	d := dialectOf(data)
	rows := newRowReader(data, d.comma)
	pos := rows.skipBlank(d.heading)
	headed := false
	for no := 1; pos < len(data); no++ {
		cells, end, err := rows.read(pos)
		if err != nil {
			end = lineEnd(data, pos)
			cells = rows.loose(pos, end)
		}
		heading := no <= 2 && slices.ContainsFunc(cells, t.schema.isColumn) // in two, where it was cut
		headed = headed || heading
		if !heading && len(plainValues(cells)) > 0 && !recorded.says(cells) {
			return false
		}
		pos = rows.skipBlank(end)
	}
	return headed || len(recorded.ids) > 0 // a heading alone says nothing that could be lost
}

// isColumn reports whether a cell is the name of a column, however it is capitalised.
func (s columnSet) isColumn(cell string) bool {
	_, ok := s.byName[strings.ToLower(strings.TrimSpace(cell))]
	return ok
}

// within reports whether all that a row says is said in another, in whatever columns.
func (s columnSet) within(row, other texts) bool {
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

func indexed(s columnSet, entries []journalEntry) index {
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
