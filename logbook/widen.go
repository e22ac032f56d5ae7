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
// Where that cannot be done the repair says so.
func (x *examination) widen(t table, c *content) *content {
	var names []string
	for _, row := range x.lost[t.file] {
		for name := range row {
			if _, there := c.at[name]; !there && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return c
	}
	slices.Sort(names)
	w, err := wider(t, c.data, c.whole, names)
	if err != nil {
		x.stuck[t.file] = err
		return c
	}
	x.wider[t.file] = append(x.wider[t.file], names...)
	return w
}

// readWider reads a file that lacks columns as if they stood empty at its end.
func (lb *Logbook) readWider(t table, names []string) (*content, error) {
	data, _, err := readFile(lb.fs, lb.path(t.file))
	if err != nil {
		return nil, err
	}
	return wider(t, data, len(data), names)
}

// wider adds columns at the end of a file: their names to the header, empty cells to
// each row that reads and is whole, as those before the byte whole are. Whatever else
// stands in the file stays byte for byte. A damaged line that would read then, as one
// with a cell too many, must not: that refuses it.
func wider(t table, data []byte, whole int, names []string) (*content, error) {
	c := newContent(t.file, t.schema, data)
	body, err := c.readHeader()
	if err != nil && body == 0 {
		return nil, err
	}
	comma := string(c.dialect.comma)
	var out bytes.Buffer
	copied := 0
	extend := func(start, end int, more string) {
		end = start + len(bytes.TrimSuffix(bytes.TrimSuffix(data[start:end], []byte("\n")), []byte("\r")))
		out.Write(data[copied:end])
		out.WriteString(more)
		copied = end
	}
	extend(0, body, comma+strings.Join(names, comma))
	for l := range c.lines(body) {
		if short := len(c.header) + len(names) - len(l.cells); l.damage == "" && short > 0 && l.end <= whole {
			extend(l.start, l.end, strings.Repeat(comma, short))
		}
	}
	out.Write(data[copied:])
	w := newContent(t.file, t.schema, out.Bytes())
	wideBody, err := w.readHeader()
	if err != nil {
		return nil, fmt.Errorf("%s with the columns %s: %w", t.file, strings.Join(names, ", "), err)
	}
	was, is := c.damagedLines(body), w.damagedLines(wideBody)
	for i, no := range was {
		if i >= len(is) || is[i] != no {
			return nil, fmt.Errorf("%s line %d does not read, and would read wrong with the columns %s: correct it by hand first", t.file, no, strings.Join(names, ", "))
		}
	}
	return scan(t.file, t.schema, out.Bytes(), nil)
}

func (c *content) damagedLines(body int) (numbers []int) {
	for l := range c.lines(body) {
		if l.damage != "" {
			numbers = append(numbers, l.no)
		}
	}
	return numbers
}
