package logbook

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// maxCell is the longest cell that is read; a longer one is damage, not a note.
const maxCell = 1 << 20

// damage is a line that cannot be read, of an entry that can still be told.
type damage struct {
	id      string
	rev     int // 0 when it cannot be told
	line    int
	problem int // its place among the problems
}

// unread is a line that is left out, and the problem that says why.
type unread struct{ start, end, problem int }

// unreadLines finds the lines that are left out, the torn end not among them.
func (c *content) unreadLines() (list []unread) {
	problems := map[int]int{} // by line
	for i, p := range c.problems {
		if !p.Torn {
			problems[p.Line] = i
		}
	}
	if len(problems) == 0 {
		return nil
	}
	for l := range c.lines(c.body) {
		if i, there := problems[l.no]; there {
			list = append(list, unread{l.start, l.end, i})
		}
	}
	return list
}

func slack(rec []string) bool {
	for _, cell := range rec {
		if len(cell) > maxCell {
			return false
		}
	}
	return true
}

func foul(row []byte) bool { return bytes.IndexByte(row, 0) >= 0 || !utf8.Valid(row) }

// whyNot says what keeps a row from being read.
func (c *content) whyNot(row []byte, rec []string, err error) string {
	switch {
	case bytes.IndexByte(row, 0) >= 0:
		return "NUL bytes in the row"
	case !utf8.Valid(row):
		return "the row is not valid UTF-8 text"
	case err != nil:
		return "a quote in the row is not closed, or stands bare"
	case !slack(rec):
		return fmt.Sprintf("a cell longer than %d bytes", maxCell)
	}
	return fmt.Sprintf("%d cells where the header has %d", len(rec), len(c.header))
}

// reject leaves out a damaged line and, where its id can still be told, the whole
// entry: its older state must not be shown as the present.
func (c *content) reject(l line) {
	row := c.data[l.start:l.end]
	p := Problem{File: c.name, Line: l.no, What: l.damage, LeftOut: true}
	rev := 0
	if at := c.at["id"]; at < len(l.cells) {
		start := l.cells[at][:min(len(l.cells[at]), maxText)]
		p.ID = clip(strings.ToValidUTF8(strings.ReplaceAll(start, "\x00", ""), ""))
	}
	if at := c.at["rev"]; at < len(l.cells) {
		rev, _ = strconv.Atoi(strings.TrimSpace(l.cells[at]))
	}
	// The end of the file is where a crash or a power cut tears.
	if l.end == len(c.data) &&
		(row[len(row)-1] != '\n' || bytes.IndexByte(row, 0) >= 0 || bytes.Count(row, []byte(`"`))%2 == 1) {
		p.Torn, p.What = true, "the last row is torn ("+p.What+")"
	} else {
		c.whole = l.end
		if p.ID != "" {
			c.hurt = append(c.hurt, damage{p.ID, rev, l.no, len(c.problems)})
		}
	}
	c.problems = append(c.problems, p)
}

// settle decides which damaged lines still count. A line is made good by a row
// of its entry that cannot be older than it: one of a later revision, or of the
// same and behind it, as check --repair appends it.
func (c *content) settle() {
	if len(c.hurt) == 0 {
		return
	}
	rows := map[string][]rowRef{}
	for _, d := range c.hurt {
		rows[d.id] = nil
	}
	for _, r := range c.rows {
		if _, hurt := rows[r.id]; hurt {
			rows[r.id] = append(rows[r.id], r)
		}
	}
	for _, d := range c.hurt {
		good, before := 0, 0
		for _, r := range rows[d.id] {
			switch {
			case d.rev > 0:
				if r.rev > d.rev || r.rev == d.rev && r.line > d.line {
					good = r.line
				}
			case r.line < d.line:
				before = max(before, r.rev)
			case r.rev > before:
				good = r.line
			}
		}
		if good == 0 {
			c.damaged[d.id] = true
			continue
		}
		p := &c.problems[d.problem]
		p.What += fmt.Sprintf("; line %d makes it good", good)
		p.LeftOut = false
	}
}
