package logbook

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// mendable reports whether a file that cannot be read lacks no more than columns that
// the journal can fill in again; without its keys nothing tells which row is which.
func (e *fileError) mendable() bool {
	return len(e.lacks) > 0 && !slices.ContainsFunc(e.lacks, func(name string) bool { return name == "id" || name == "rev" || name == "status" })
}

// widen adds the columns to a file as it was read that its lost rows have and it has not.
func (x *examination) widen(t table, c *content) (*content, error) {
	var names []string
	for _, row := range x.lost[t.file] {
		for name := range row {
			if _, there := c.at[name]; !there && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return c, nil
	}
	slices.Sort(names)
	x.wider[t.file] = append(x.wider[t.file], names...)
	return wider(t, c.data, names)
}

// readWider reads a file that lacks columns as if they stood empty at its end.
func (lb *Logbook) readWider(t table, names []string) (*content, error) {
	data, _, err := readFile(lb.fs, lb.path(t.file))
	if err != nil {
		return nil, err
	}
	return wider(t, data, names)
}

// wider adds columns at the end of a file: their names to the header, empty cells to
// each row that reads. Whatever else stands in the file stays byte for byte.
func wider(t table, data []byte, names []string) (*content, error) {
	c := newContent(t.file, t.schema, data)
	body, err := c.readHeader()
	if err != nil && body == 0 {
		return nil, err
	}
	comma := string(c.dialect.comma)
	var out bytes.Buffer
	copied := 0
	extend := func(end int, more string) {
		out.Write(data[copied:end])
		out.WriteString(more)
		copied = end
	}
	withoutEnd := func(start, end int) int { return start + len(bytes.TrimRight(data[start:end], "\r\n")) }
	extend(withoutEnd(0, body), comma+strings.Join(names, comma))
	for l := range c.lines(body) {
		if short := len(c.header) + len(names) - len(l.cells); l.damage == "" && short > 0 {
			extend(withoutEnd(l.start, l.end), strings.Repeat(comma, short))
		}
	}
	out.Write(data[copied:])
	w, err := scan(t.file, t.schema, out.Bytes(), nil)
	if err != nil {
		return nil, fmt.Errorf("%s with the columns %s: %w", t.file, strings.Join(names, ", "), err)
	}
	return w, nil
}
