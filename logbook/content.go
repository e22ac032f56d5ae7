package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// maxCell is the longest cell that is read; a longer one is damage, not a note.
const maxCell = 1 << 20

// content is a CSV file as read: where each row lies and which entry it is
// about. The rows themselves are decoded later, and only those that are asked for.
type content struct {
	name     string
	schema   schema
	dialect  dialect
	data     []byte
	header   []string
	at       map[string]int // header name -> place in a row
	rows     []rowRef
	whole    int  // bytes up to the end of the last whole row
	noEnd    bool // the last whole row lacks its line end
	damaged  map[string]bool
	problems []Problem
}

// rowRef is a row known by place, entry and what it may be picked by.
type rowRef struct {
	id         string
	rev        int
	start, end int
	line       int
	picked     bool
	void       bool
}

// fileError is a file that cannot be read at all.
type fileError struct{ Problem }

func (e *fileError) Error() string { return e.String() }

// scan finds the rows of a file. pick, when given, marks the rows that hold the
// wanted text in the wanted column, before anything is decoded.
func scan(name string, s schema, data []byte, pick *pick) (*content, error) {
	c := &content{name: name, schema: s, data: data, dialect: dialectOf(data), at: map[string]int{}, damaged: map[string]bool{}}
	start := 0
	if c.dialect.bom {
		start = len(bom)
	}
	body, err := c.readHeader(start)
	if err != nil {
		return nil, err
	}
	suspicious := bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data)
	pickAt := -1
	if pick != nil {
		pickAt = c.at[pick.column]
	}
	c.whole = body
	line := 1 + bytes.Count(data[:body], []byte("\n"))
	for pos := body; pos < len(data); {
		r := csv.NewReader(bytes.NewReader(data[pos:]))
		r.Comma, r.ReuseRecord, r.FieldsPerRecord = c.dialect.comma, true, -1
		base, baseLine := pos, line
		for {
			start := base + int(r.InputOffset())
			rec, err := r.Read()
			if err == io.EOF {
				return c, nil
			}
			end := base + int(r.InputOffset())
			var at int
			if len(rec) > 0 {
				at, _ = r.FieldPos(0)
			} else {
				var pe *csv.ParseError
				if errors.As(err, &pe) {
					at = pe.StartLine
				}
			}
			lineNo := baseLine + at - 1
			if err == nil && len(rec) == len(c.header) && !(suspicious && c.foul(data[start:end])) && slack(rec) {
				if data[end-1] != '\n' {
					c.noEnd = true
				}
				c.add(rec, pick, pickAt, start, end, lineNo)
				continue
			}
			// A row that does not read: leave it out by its physical line and start
			// anew behind it, since an open quote may have swallowed good rows.
			start = skipBlank(data, start)
			end = lineEnd(data, start)
			c.reject(rec, err, start, end, lineNo)
			pos, line = end, lineNo+1
			break
		}
	}
	return c, nil
}

// pick chooses rows by one column before they are decoded.
type pick struct{ column, text string }

func slack(rec []string) bool {
	for _, cell := range rec {
		if len(cell) > maxCell {
			return false
		}
	}
	return true
}

func (c *content) foul(row []byte) bool { return bytes.IndexByte(row, 0) >= 0 || !utf8.Valid(row) }

func skipBlank(data []byte, pos int) int {
	for pos < len(data) && (data[pos] == '\n' || data[pos] == '\r') {
		pos++
	}
	return pos
}

func lineEnd(data []byte, start int) int {
	if i := bytes.IndexByte(data[start:], '\n'); i >= 0 {
		return start + i + 1
	}
	return len(data)
}

func (c *content) readHeader(start int) (int, error) {
	refuse := func(what string) (int, error) {
		return 0, &fileError{Problem{File: c.name, Line: 1, What: what, LeftOut: true}}
	}
	r := csv.NewReader(bytes.NewReader(c.data[start:]))
	r.Comma = c.dialect.comma
	header, err := r.Read()
	if err != nil {
		return refuse("the header row cannot be read: want " + strings.Join(c.schema.required(), ", ") + " and the other columns")
	}
	end := start + int(r.InputOffset())
	if c.data[end-1] != '\n' && end == len(c.data) && len(header) < len(c.schema.columns) {
		return refuse("the header row is cut off: slipcase check --repair")
	}
	for i, name := range header {
		name = strings.TrimSpace(name)
		if _, twice := c.at[name]; twice && name != "" {
			return refuse(fmt.Sprintf("column %q is there twice: rename one", clip(name)))
		}
		c.at[name], header[i] = i, name
	}
	c.header = header
	for _, name := range c.schema.required() {
		if _, ok := c.at[name]; !ok {
			return refuse(fmt.Sprintf("column %q is missing", name))
		}
	}
	for _, col := range c.schema.columns {
		if _, ok := c.at[col.name]; !ok {
			c.problems = append(c.problems, Problem{File: c.name, Line: 1, What: fmt.Sprintf("no column %q: such values cannot be recorded until it is added to the header", col.name)})
		}
	}
	return end, nil
}

func (c *content) add(rec []string, pick *pick, pickAt, start, end, line int) {
	id, revText := rec[c.at["id"]], strings.TrimSpace(rec[c.at["rev"]])
	rev, err := strconv.Atoi(revText)
	c.whole = end
	if id == "" {
		if strings.Join(rec, "") != "" {
			c.problems = append(c.problems, Problem{File: c.name, Line: line, What: "the row has no id: want the id of its entry, and rev 1", LeftOut: true})
		}
		return
	}
	id = strings.Clone(id)
	if err != nil || rev < 1 {
		c.damaged[id] = true
		e := &CellError{c.name, line, "rev", revText, "a whole number from 1 on"}
		c.problems = append(c.problems, e.problem(id))
		return
	}
	c.rows = append(c.rows, rowRef{id, rev, start, end, line, pick == nil || rec[pickAt] == pick.text, Status(rec[c.at["status"]]) == Void})
}

// reject leaves out the physical line [start,end) and, where its id can still
// be told, the whole entry: its older state must not be shown as the present.
func (c *content) reject(rec []string, err error, start, end, line int) {
	row := c.data[start:end]
	p := Problem{File: c.name, Line: line, LeftOut: true}
	switch {
	case bytes.IndexByte(row, 0) >= 0:
		p.What = "NUL bytes in the row"
	case !utf8.Valid(row):
		p.What = "the row is not valid UTF-8 text"
	case err != nil:
		p.What = "a quote in the row is not closed, or stands bare"
	case !slack(rec):
		p.What = fmt.Sprintf("a cell longer than %d bytes", maxCell)
	default:
		p.What = fmt.Sprintf("%d cells where the header has %d", len(rec), len(c.header))
	}
	if cells := looseCells(row, c.dialect.comma); c.at["id"] < len(cells) {
		p.ID = cells[c.at["id"]]
	}
	// The end of the file is where a crash or a power cut tears.
	if end == len(c.data) && (row[len(row)-1] != '\n' || bytes.IndexByte(row, 0) >= 0 || bytes.Count(row, []byte(`"`))%2 == 1) {
		p.Torn, p.What = true, "the last row is torn ("+p.What+")"
	} else {
		c.whole = end
		if p.ID != "" {
			c.damaged[p.ID] = true
		}
	}
	c.problems = append(c.problems, p)
}

// looseCells parts a damaged line well enough to find the id in it.
func looseCells(row []byte, comma rune) []string {
	r := csv.NewReader(bytes.NewReader(bytes.TrimRight(row, "\r\n")))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
	rec, err := r.Read()
	if err != nil {
		return nil
	}
	for i, cell := range rec {
		rec[i] = clip(strings.ToValidUTF8(strings.ReplaceAll(cell, "\x00", ""), ""))
	}
	return rec
}

// cells parses one known row again.
func (c *content) cells(r rowRef) []string {
	cr := csv.NewReader(bytes.NewReader(c.data[r.start:r.end]))
	cr.Comma, cr.FieldsPerRecord = c.dialect.comma, -1
	rec, err := cr.Read()
	if err != nil {
		panic("a row that was read once does not read again: " + err.Error())
	}
	return rec
}

// cell is the text of a column in a row, "" where the file has no such column.
func (c *content) cell(row []string, column string) string {
	if i, ok := c.at[column]; ok {
		return row[i]
	}
	return ""
}

// newest gives of each entry the row that counts, in the order of the file: the
// highest revision; of two with the same one, as a merge can leave, the later
// recorded, then the greater in bytes.
func (c *content) newest() []rowRef {
	best := make(map[string]int, len(c.rows))
	for i, r := range c.rows {
		j, seen := best[r.id]
		if !seen || c.beats(r, c.rows[j]) {
			best[r.id] = i
		}
	}
	picked := make([]int, 0, len(best))
	for id, i := range best {
		if !c.damaged[id] {
			picked = append(picked, i)
		}
	}
	slices.Sort(picked)
	rows := make([]rowRef, len(picked))
	for i, at := range picked {
		rows[i] = c.rows[at]
	}
	return rows
}

func (c *content) beats(a, b rowRef) bool {
	if a.rev != b.rev {
		return a.rev > b.rev
	}
	x, y := c.cells(a), c.cells(b)
	var ta, tb Time
	if ta.UnmarshalCSV(c.cell(x, "recorded_at")) == nil && tb.UnmarshalCSV(c.cell(y, "recorded_at")) == nil && !ta.Equal(tb.Time) {
		return ta.After(tb.Time)
	}
	return bytes.Compare(c.data[a.start:a.end], c.data[b.start:b.end]) > 0
}
