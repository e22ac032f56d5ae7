package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// maxColumns is how many columns a file may have; a spreadsheet gone wild writes
// thousands of empty ones, each dearer to read than its one byte.
const maxColumns = 500

// content is a CSV file as read: where each row lies and which entry it is
// about. The rows themselves are decoded later, and only those that are asked for.
type content struct {
	name        string
	schema      columnSet
	dialect     dialect
	data        []byte
	header      []string
	at          map[string]int // header name -> place in a row
	entry       entryAt
	named       int      // cells up to the last column with a name
	absent      []string // columns of the schema that it has not
	rows        []rowRef
	body        int  // where the rows begin
	whole       int  // bytes up to the end of the last whole row
	noEnd       bool // the last whole row, or the header alone, lacks its line end
	made        bool // data is not what is on the disk, but what is to be there before anything is appended
	disk        []byte
	foreign     bool // data is a translation of what is on the disk
	hurt        []damage
	damaged     map[string]bool // entries that cannot be shown
	problems    []Problem
	blank       int // rows of nothing but separators, and the line of the first
	blankAt     int
	timeColumns []timeColumn
	now         time.Time // by the clock of the reader, for stamps of the future
	times       *times    // reads what another program has rewritten; nil for none
}

// entryAt is where a row has what every entry has; -1 for no place.
type entryAt struct{ id, rev, status, recorded int }

// rowRef is a row known by place, entry and what it may be picked by.
type rowRef struct {
	id         string
	rev        int
	start, end int
	line       int
	at         int64 // when recorded, as in version
	picked     bool
	void       bool
}

// fileError is a file that cannot be read at all.
type fileError struct {
	Problem
	// headerCut: nothing follows the header and that is not whole, so that
	// the file can be made anew.
	headerCut bool
	lacks     []string // the columns that it cannot be read without
}

func (e *fileError) Error() string { return e.String() }

// ErrCutOff is a file of which only the beginning of a heading is left: it can be made anew.
var ErrCutOff = errors.New("the heading is cut off")

func (e *fileError) Is(target error) bool { return target == ErrCutOff && e.headerCut }

// pick chooses rows by one column before they are decoded, none where it names no column;
// look, where given, is shown each row and its place among the rows, the cells good until the
// next.
type pick struct {
	column, text string
	look         func(c *content, at int, cells []string)
}

func newContent(name string, s columnSet, data []byte) *content {
	return &content{
		name:    name,
		schema:  s,
		data:    data,
		disk:    data,
		dialect: dialectOf(data),
		at:      map[string]int{},
		damaged: map[string]bool{},
	}
}

// scan finds the rows of a file. pick, when given, marks the rows that hold the
// wanted text in the wanted column, before anything is decoded.
func scan(name string, s columnSet, data []byte, pick *pick) (*content, error) {
	c := newContent(name, s, data)
	body, err := c.readHeader()
	if err != nil {
		return nil, err
	}
	pickAt := -1
	if pick != nil && pick.column != "" {
		pickAt = c.at[pick.column]
	}
	c.whole, c.body = body, body
	c.rows = make([]rowRef, 0, bytes.Count(data[body:], []byte("\n"))+1)
	for l := range c.lines(body) {
		if l.damage != "" {
			c.reject(l)
		} else {
			c.add(l, pick, pickAt)
		}
	}
	last := len(data) - 1
	if c.torn() {
		last = c.whole - 1
	}
	c.noEnd = data[last] != '\n'
	c.settle()
	return c, nil
}

// line is a row as it lies in its file; one that does not read is a physical line.
type line struct {
	start, end int
	no         int
	cells      []string // good until the next line; of a damaged one as far as they can be told
	damage     string   // why it does not read
}

// lines finds the rows behind the header, blank lines left out.
func (c *content) lines(body int) iter.Seq[line] {
	suspicious := !utf8.Valid(c.data)
	rows := newRowReader(c.data, c.dialect.comma)
	nul := -1 // the next NUL: no row goes past it
	return func(yield func(line) bool) {
		for pos := rows.skipBlank(body); pos < len(c.data); pos = rows.skipBlank(pos) {
			if nul < pos {
				if nul = bytes.IndexByte(c.data[pos:], 0); nul >= 0 {
					nul += pos
				} else {
					nul = len(c.data)
				}
				rows.limit(nul)
			}
			l := line{start: pos, no: rows.line}
			// A row that does not read is left out by its physical line, and what is
			// behind it read anew: an open quote may have swallowed good rows.
			switch end := lineEnd(c.data, pos); {
			case nul < end:
				l.damage = c.whyNot(c.data[pos:end], nil, nil)
			default:
				l.cells, l.end, l.damage = c.readLine(rows, pos, suspicious)
			}
			if l.damage != "" {
				l.end = lineEnd(c.data, pos)
				l.cells = rows.loose(pos, l.end)
			}
			if !yield(l) {
				return
			}
			pos = l.end
		}
	}
}

// readLine parses the row at pos, and says why it cannot be taken as one.
func (c *content) readLine(rows *rowReader, pos int, suspicious bool) (cells []string, end int, damage string) {
	end, plain := rows.plain(pos)
	cells, err := rows.cells, error(nil)
	if !plain {
		if n := countCells(c.data[pos:rows.end], byte(c.dialect.comma)); n > maxColumns {
			return nil, 0, fmt.Sprintf("%d cells: no more than %d are read", n, maxColumns)
		}
		cells, end, err = rows.read(pos)
	}
	row := c.data[pos:end]
	if err != nil || !c.fits(cells, row[len(row)-1] == '\n') || suspicious && foul(row) || !slack(cells) {
		damage = c.whyNot(c.data[pos:lineEnd(c.data, pos)], cells, err)
	}
	return cells, end, damage
}

// fits reports whether a row has the cells that the header asks for. Spreadsheets
// pad rows, or the header alone, with empty cells; a row that lacks its line end
// is torn rather than short.
func (c *content) fits(rec []string, ended bool) bool {
	if len(rec) < len(c.header) {
		return ended && len(rec) >= c.named
	}
	for _, extra := range rec[len(c.header):] {
		if extra != "" {
			return false
		}
	}
	return true
}

// even brings a row that fits to the length of the header.
func (c *content) even(rec []string) []string {
	for len(rec) < len(c.header) {
		rec = append(rec, "")
	}
	return rec[:len(c.header)]
}

// readHeader reads the names of the columns and tells where the rows begin.
func (c *content) readHeader() (body int, err error) {
	no := 1 + bytes.Count(c.data[:c.dialect.heading], []byte("\n"))
	refuse := func(format string, a ...any) (int, error) {
		return 0, &fileError{Problem: Problem{File: c.name, Line: no, What: fmt.Sprintf(format, a...), LeftOut: true}}
	}
	cutOff := func() (int, error) {
		what := "the header row is cut off, and nothing follows"
		return 0, &fileError{Problem: Problem{File: c.name, Line: no, What: what, LeftOut: true, Torn: true}, headerCut: true}
	}
	start := c.dialect.heading
	if n := countCells(c.data[start:], byte(c.dialect.comma)); n > maxColumns {
		return refuse("the header row has %d columns: no more than %d are read", n, maxColumns)
	}
	r := csv.NewReader(bytes.NewReader(c.data[start:]))
	r.Comma = c.dialect.comma
	header, err := r.Read()
	end := start + int(r.InputOffset())
	cut := end == len(c.data) && (end == start || c.data[end-1] != '\n')
	if err != nil && !cut {
		return refuse("the header row cannot be read: want %s and the other columns", strings.Join(c.schema.required(), ", "))
	}
	for i, name := range header {
		name = strings.TrimSpace(name)
		if _, twice := c.at[name]; twice && cut {
			return cutOff()
		} else if twice && name != "" {
			return refuse("column %q is there twice: rename one", clip(name))
		}
		if name != "" {
			c.at[name], c.named = i, i+1
		}
		header[i] = name
	}
	c.header = header
	for _, col := range c.schema.columns {
		if _, ok := c.at[col.name]; ok {
			continue
		}
		if cut {
			return cutOff()
		}
		c.absent = append(c.absent, col.name)
	}
	for _, col := range c.schema.columns {
		if i, there := c.at[col.name]; there && col.time {
			c.timeColumns = append(c.timeColumns, timeColumn{col.name, i})
		}
	}
	place := func(name string) int {
		if i, there := c.at[name]; there {
			return i
		}
		return -1
	}
	c.entry = entryAt{c.at["id"], c.at["rev"], c.at["status"], place("recorded_at")}
	lacks := slices.DeleteFunc(c.schema.required(), func(name string) bool { _, ok := c.at[name]; return ok })
	if len(lacks) > 0 {
		what := fmt.Sprintf("column %q is missing", lacks[0])
		return end, &fileError{Problem: Problem{File: c.name, Line: no, What: what, LeftOut: true}, lacks: lacks}
	}
	return end, nil
}

func (c *content) add(l line, pick *pick, pickAt int) {
	rec := c.even(l.cells)
	id, revText := rec[c.entry.id], strings.TrimSpace(rec[c.entry.rev])
	rev, err := strconv.Atoi(revText)
	c.whole = l.end
	what := ""
	switch {
	case id == "" && strings.Join(rec, "") == "":
		if c.blank++; c.blank == 1 {
			c.blankAt = l.no
		}
		return
	case id == "":
		what = "the row has no id: want the id of its entry, and rev 1"
	case strings.ContainsAny(id, "\r\n"):
		what = "the id has a line break in it: want the id of its entry alone"
	}
	if what != "" {
		c.problems = append(c.problems, Problem{File: c.name, Line: l.no, What: what, LeftOut: true})
		return
	}
	if err != nil || rev < 1 {
		c.hurt = append(c.hurt, damage{id: id, line: l.no, problem: len(c.problems)})
		e := &CellError{c.name, l.no, "rev", revText, "a whole number from 1 on"}
		c.problems = append(c.problems, e.problem(id))
		return
	}
	r := rowRef{id: id, rev: rev, start: l.start, end: l.end, line: l.no, at: unstamped}
	r.picked, r.void = pickAt < 0 || rec[pickAt] == pick.text, Status(rec[c.entry.status]) == Void
	if c.entry.recorded >= 0 {
		r.at = stampOf(rec[c.entry.recorded])
	}
	if pick != nil && pick.look != nil {
		pick.look(c, len(c.rows), rec)
	}
	c.rows = append(c.rows, r)
}
