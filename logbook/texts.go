package logbook

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// texts is a row by its columns, in plain form whatever the manner of its file:
// numbers with a point, newlines escaped, empty cells left out. It is what the
// journal keeps and what two copies of a logbook are compared by.
type texts map[string]string

// textsOf are the columns of a record, and the cells of the racer's own columns.
func textsOf(s columnSet, rec Record, own texts) (texts, error) {
	row, err := cells(rec)
	if err != nil {
		return nil, err
	}
	t := texts{}
	maps.Copy(t, own)
	for i, col := range s.columns {
		if row[i] != "" {
			t[col.name] = row[i]
		}
	}
	return t, nil
}

// texts reads one row of a file.
func (c *content) texts(r rowRef) texts { return c.textsOf(c.cells(r)) }

func (c *content) textsOf(row []string) texts {
	c.plainCells(row)
	t := texts{}
	for name, i := range c.at {
		if text := c.schema.plain(name, row[i]); text != "" {
			t[name] = text
		}
	}
	return t
}

// plain brings a cell of a file, where another program may have left a bare newline
// in quotes, to the form in which we would have written it. What is not text is read
// past the newline, as past a blank.
func (s columnSet) plain(name, cell string) string {
	if !strings.ContainsAny(cell, "\r\n") {
		return cell
	}
	if i, ours := s.byName[name]; ours && !s.columns[i].text {
		return strings.Join(strings.Fields(cell), " ")
	}
	return breaks.Replace(cell)
}

// own are the cells of the columns that only the racer knows.
func (s columnSet) own(t texts) texts {
	own := maps.Clone(t)
	for _, col := range s.columns {
		delete(own, col.name)
	}
	return own
}

// canonical writes a row so that two which say the same are the same: numbers
// and times as we would write them, whatever a spreadsheet made of them.
func (s columnSet) canonical(t texts) string {
	plain := make(texts, len(t))
	for name, text := range t {
		if i, ours := s.byName[name]; ours {
			text = s.columns[i].canonical(text)
		}
		plain[name] = text
	}
	return string(plain.json())
}

// json writes a row, sorted by column.
func (t texts) json() []byte {
	b, err := json.Marshal(t)
	if err != nil {
		panic("texts cannot be written as JSON: " + err.Error())
	}
	return b
}

func (c column) canonical(text string) string {
	switch {
	case c.number:
		var n units.Number
		if n.UnmarshalCSV(text) == nil {
			return n.String()
		}
	case c.time:
		var t Time
		if t.UnmarshalCSV(text) == nil {
			return t.Format(stampLayout)
		}
	}
	return text
}

// diff names the columns in which two rows differ.
func (s columnSet) diff(a, b texts) []string {
	var names []string
	for name := range a {
		if _, there := b[name]; !there {
			names = append(names, name)
		}
	}
	for name, text := range b {
		i, ours := s.byName[name]
		if a[name] != text && !(ours && s.columns[i].canonical(a[name]) == s.columns[i].canonical(text)) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}
