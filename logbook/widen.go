package logbook

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// mendable reports whether a file that cannot be read lacks no more than columns that
// the journal can fill in again; without its keys nothing tells which row is which.
func (e *fileError) mendable() bool {
	return len(e.lacks) > 0 &&
		!slices.ContainsFunc(e.lacks, func(name string) bool { return name == "id" || name == "rev" || name == "status" })
}

// prepare is a file as a repair has it before it appends what was lost: with the
// columns for it, and without the lines that were shifted.
func (x *examination) prepare(t table, c *content) *content {
	dropped, lost := x.dropped[t.file], x.lost[t.file]
	lacks := c.lacking(lost)
	spare := x.spare(t, c)
	for start, alone := range spare {
		if alone {
			x.drop(t, start)
			dropped = x.dropped[t.file]
		}
	}
	if len(lacks) > 0 && len(dropped) == 0 {
		if w, err := c.wider(lacks); err == nil {
			x.wider[t.file] = append(x.wider[t.file], lacks...)
			return w
		} else if len(spare) == 0 {
			x.stuck[t.file] = err
			return c
		}
	}
	switch {
	case len(lacks) > 0:
		for start := range spare {
			x.drop(t, start)
		}
		return x.anew(t, c)
	case len(dropped) > 0:
		return c.without(dropped)
	}
	return c
}

// instead makes c what is to stand in the place of a file as it was read.
func (c *content) instead(disk []byte) { c.made, c.disk = true, disk }

// without is a file without some of its lines.
func (c *content) without(lines map[int]bool) *content {
	var out bytes.Buffer
	at := 0
	for _, start := range slices.Sorted(maps.Keys(lines)) {
		out.Write(c.data[at:start])
		at = c.endOf(start)
	}
	out.Write(c.data[at:])
	w, err := scan(c.name, c.schema, out.Bytes(), nil)
	if err != nil {
		panic("a file does not read without a line: " + err.Error())
	}
	w.now, w.times = c.now, c.times
	w.instead(c.disk)
	return w
}

// endOf is where the row or the damaged line ends that begins at start.
func (c *content) endOf(start int) int {
	if i, found := slices.BinarySearchFunc(c.rows, start, func(r rowRef,
		start int,
	) int {
		return r.start - start
	}); found {
		return c.rows[i].end
	}
	return lineEnd(c.data, start)
}

// anew makes a file of the rows that read and are to stay, in our own manner. It is for
// one whose heading lacks columns and whose rows do not fit it.
func (x *examination) anew(t table, c *content) *content {
	refuse := func(line int, why string) *content {
		x.stuck[t.file] = fmt.Errorf("%s line %d %s: correct it by hand first", t.file, line, why)
		return c
	}
	for _, u := range c.unreadLines() {
		if !x.dropped[t.file][u.start] {
			return refuse(c.problems[u.problem].Line, "does not read")
		}
	}
	if unkept := x.unkept[t.file].rows; len(unkept) > 0 {
		return refuse(unkept[0].line, "is not in the journal, and the heading lacks columns")
	}
	var stay []texts
	for _, r := range c.rows {
		switch {
		case x.dropped[t.file][r.start]:
		case x.bad[t.file][r.start]:
			return refuse(r.line, "does not read")
		default:
			stay = append(stay, c.texts(r))
		}
	}
	w := t.empty(slices.Concat(stay, x.lost[t.file]))
	lines, _, err := change{t: t, c: w, rows: stay, journaled: true}.render()
	if err != nil {
		x.stuck[t.file] = err
		return c
	}
	if w, err = scan(t.file, t.schema, slices.Concat(w.data, lines), nil); err != nil {
		panic("our own file cannot be read: " + err.Error())
	}
	w.now, w.times = c.now, c.times
	w.instead(c.disk)
	x.remake[t.file] = DoRemake
	return w
}

// spare are the damaged lines, by their start, that say nothing the journal has not:
// those that nothing else makes good are to go alone, the others when they are in the way.
func (x *examination) spare(t table, c *content) map[int]bool {
	spare := map[int]bool{}
	unread := c.unreadLines()
	if len(unread)+len(x.bad[t.file]) == 0 {
		return spare
	}
	recorded := indexed(t.schema, x.journal[t.file])
	rows := newRowReader(c.data, c.dialect.comma)
	for _, u := range unread {
		if p := c.problems[u.problem]; recorded.says(rows.loose(u.start, u.end)) {
			spare[u.start] = p.LeftOut && !recorded.ids[p.ID]
		}
	}
	for _, r := range c.rows {
		if x.bad[t.file][r.start] && recorded.says(slices.Clone(c.cells(r))) {
			spare[r.start] = !recorded.ids[r.id]
		}
	}
	return spare
}

// readWider reads a file that lacks columns as if they stood empty at its end.
func (lb *Logbook) readWider(t table, names []string) (*content, error) {
	disk, _, err := readOrAbsent(lb.fs, lb.path(t.file))
	if err != nil {
		return nil, err
	}
	data, _ := translated(disk)
	c := newContent(t.file, t.schema, data)
	c.disk, c.whole, c.now, c.times = disk, len(data), lb.now(), &times{lb: lb}
	w, err := c.wider(names)
	if err == nil {
		w.restamp()
	}
	return w, err
}

// lacking are the columns that rows have and the file has not.
func (c *content) lacking(rows []texts) (names []string) {
	for _, row := range rows {
		for name := range row {
			if _, there := c.at[name]; !there && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return c.schema.inOrder(names)
}

// inOrder sorts the names of columns as we write them, those of the racer's own last.
func (s columnSet) inOrder(names []string) []string {
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(s.place(a), s.place(b)), cmp.Compare(a, b))
	})
	return names
}

// place is that of a column among ours, behind them all of a racer's own.
func (s columnSet) place(name string) int {
	if i, ours := s.byName[name]; ours {
		return i
	}
	return len(s.columns)
}

// wider adds columns at the end of a file: their names to the header, empty cells to
// each row that reads and is whole. Whatever else stands in the file stays byte for
// byte. A damaged line that would read then, as one with a cell too many, must not:
// that refuses it.
func (c *content) wider(names []string) (*content, error) {
	was := newContent(c.name, c.schema, c.data)
	body, err := was.readHeader()
	if err != nil && body == 0 {
		return nil, err
	}
	comma := string(c.dialect.comma)
	var out bytes.Buffer
	copied := 0
	extend := func(start, end int, more string) {
		end = start + len(bytes.TrimSuffix(bytes.TrimSuffix(c.data[start:end], []byte("\n")), []byte("\r")))
		out.Write(c.data[copied:end])
		out.WriteString(more)
		copied = end
	}
	heading, err := was.dialect.line(names)
	if err != nil {
		return nil, err
	}
	extend(0, body, comma+string(bytes.TrimRight(heading, "\r\n")))
	for l := range was.lines(body) {
		if short := len(was.header) + len(names) - len(l.cells); l.damage == "" && short > 0 && l.end <= c.whole {
			extend(l.start, l.end, strings.Repeat(comma, short))
		}
	}
	out.Write(c.data[copied:])
	w := newContent(c.name, c.schema, out.Bytes())
	wideBody, err := w.readHeader()
	if err != nil {
		return nil, fmt.Errorf("%s with the columns %s: %w", c.name, strings.Join(names, ", "), err)
	}
	before, after := was.damagedLines(body), w.damagedLines(wideBody)
	for i, no := range before {
		if i >= len(after) || after[i] != no {
			return nil, fmt.Errorf(
				"%s line %d does not read, and would read wrong with the columns %s: correct it by hand first",
				c.name,
				no,
				strings.Join(names, ", "),
			)
		}
	}
	if w, err = scan(c.name, c.schema, out.Bytes(), nil); err != nil {
		return nil, err
	}
	w.now, w.times = c.now, c.times
	w.instead(c.disk)
	return w, nil
}

func (c *content) damagedLines(body int) (numbers []int) {
	for l := range c.lines(body) {
		if l.damage != "" {
			numbers = append(numbers, l.no)
		}
	}
	return numbers
}
