package logbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// table ties a record type to its file.
type table struct {
	file   string
	what   string // one entry, in words
	letter byte   // begins its ids; 0 where the racer names entries himself
	schema schema
}

var (
	vehicles = table{"vehicles.csv", "vehicle", 0, schemaOf[Vehicle]()}
	tracks   = table{"tracks.csv", "track", 0, schemaOf[Track]()}
	setups   = table{"setups.csv", "setup", 'u', schemaOf[Setup]()}
	readings = table{"air.csv", "reading", 'a', schemaOf[Reading]()}
	slips    = table{"slips.csv", "slip", 's', schemaOf[Slip]()}
	tables   = []table{vehicles, tracks, setups, readings, slips, sheets, parts}
)

func (s schema) names() []string {
	names := make([]string, len(s.columns))
	for i, c := range s.columns {
		names[i] = c.name
	}
	return names
}

// read finds the rows of a table's file, without a lock.
func (lb *Logbook) read(t table, p *pick) (*content, error) {
	const looks = 3
	for look := 1; ; look++ {
		data, absent, err := readFile(lb.fs, lb.path(t.file))
		if absent {
			return nil, fmt.Errorf("%s is missing: slipcase check --repair makes it anew from the journal", lb.path(t.file))
		}
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", t.file, err)
		}
		c, err := scan(t.file, t.schema, data, p)
		if err != nil {
			return nil, err
		}
		if c.noEnd {
			if err := lb.judgeLast(c); err != nil {
				return nil, err
			}
		}
		// What looks torn may be another window's write on its way: look again.
		if c.torn() && look < looks {
			time.Sleep(20 * time.Millisecond)
			continue
		}
		return c, nil
	}
}

// judgeLast decides on a last row without its line end: some editors leave it
// out, and so does a crash within the last cell.
func (lb *Logbook) judgeLast(c *content) error {
	if len(c.rows) == 0 {
		return nil
	}
	last := c.rows[len(c.rows)-1]
	torn, err := lb.contradicts(c, last)
	if err != nil || !torn {
		return err
	}
	c.rows = c.rows[:len(c.rows)-1]
	c.whole, c.noEnd = last.start, false
	c.problems = append(c.problems, Problem{File: c.name, Line: last.line, ID: last.id, What: "the last row is torn", LeftOut: true, Torn: true})
	return nil
}

func (c *content) torn() bool {
	return slices.ContainsFunc(c.problems, func(p Problem) bool { return p.Torn })
}

// facts reads the newest state of the entries that stand, void ones left out.
func facts[T any](lb *Logbook, t table, p *pick) ([]T, error) {
	c, err := lb.read(t, p)
	if err != nil {
		return nil, err
	}
	var rows []rowRef
	for _, r := range c.newest() {
		if r.picked && !r.void {
			rows = append(rows, r)
		}
	}
	records, problems := decode[T](c, rows)
	lb.report(costly(c.problems))
	lb.report(problems)
	return records, nil
}

// costly keeps the problems that cost an entry.
func costly(ps []Problem) []Problem {
	return slices.DeleteFunc(slices.Clone(ps), func(p Problem) bool { return !p.LeftOut })
}

// one reads the newest state of one entry, void or not.
func one[T any](lb *Logbook, t table, id string) (T, error) {
	c, err := lb.read(t, nil)
	if err != nil {
		var none T
		return none, err
	}
	rec, _, err := oneOf[T](c, t, id)
	return rec, err
}

func oneOf[T any](c *content, t table, id string) (T, rowRef, error) {
	var none T
	for _, r := range c.newest() {
		if r.id == id {
			records, problems := decode[T](c, []rowRef{r})
			if len(problems) > 0 {
				return none, r, problems[0].err()
			}
			return records[0], r, nil
		}
	}
	if c.damaged[id] {
		for _, p := range c.problems {
			if p.ID == id {
				return none, rowRef{}, p.err()
			}
		}
	}
	return none, rowRef{}, fmt.Errorf("%s %q is %w", t.what, clip(id), ErrUnknown)
}

// err is the problem as the error of a command that needs the entry.
func (p Problem) err() error {
	if p.Cell != nil {
		return p.Cell
	}
	return fmt.Errorf("%s", p)
}

// history reads every revision of one entry, oldest first.
func history[T any](lb *Logbook, t table, id string) ([]T, error) {
	c, err := lb.read(t, nil)
	if err != nil {
		return nil, err
	}
	rows := slices.DeleteFunc(slices.Clone(c.rows), func(r rowRef) bool { return r.id != id })
	slices.SortStableFunc(rows, func(a, b rowRef) int { return a.rev - b.rev })
	records, problems := decode[T](c, rows)
	lb.report(problems)
	return records, nil
}

// resolve finds the id that a racer meant: the id itself, any unique beginning
// of three characters or more, "last", or "last-2" for the second before it.
func (lb *Logbook) resolve(t table, ref string) (string, error) {
	c, err := lb.read(t, nil)
	if err != nil {
		return "", err
	}
	var order []rowRef // by when first recorded, as it is now
	place := map[string]int{}
	for _, r := range c.rows {
		if _, seen := place[r.id]; !seen {
			place[r.id] = len(place)
		}
	}
	order = c.newest()
	slices.SortFunc(order, func(a, b rowRef) int { return place[a.id] - place[b.id] })
	if back, ok := lastRef(ref); ok {
		order = slices.DeleteFunc(order, func(r rowRef) bool { return r.void })
		if back >= len(order) {
			return "", fmt.Errorf("%s %q: there are only %d: %w", t.what, ref, len(order), ErrUnknown)
		}
		return order[len(order)-1-back].id, nil
	}
	if c.damaged[ref] {
		return ref, nil
	}
	var found []string
	for _, r := range order {
		if r.id == ref {
			return ref, nil
		}
		if len(ref) >= 3 && strings.HasPrefix(r.id, ref) {
			found = append(found, r.id)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return "", fmt.Errorf("%s %q could be %s: type more of it", t.what, ref, strings.Join(found[:min(3, len(found))], ", "))
	case len(ref) < 3:
		return "", fmt.Errorf("%s %q: type three characters of its id or more, last, or last-2: %w", t.what, clip(ref), ErrUnknown)
	}
	return "", fmt.Errorf("%s %q is %w", t.what, clip(ref), ErrUnknown)
}

func lastRef(ref string) (back int, ok bool) {
	if ref == "last" {
		return 0, true
	}
	digits, ok := strings.CutPrefix(ref, "last-")
	back, err := strconv.Atoi(digits)
	return back, ok && err == nil && back >= 0
}
