package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
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
	schema columnSet
	// optional says that logbooks begun before there was the table lack its file.
	optional bool
}

var (
	vehicles    = table{"vehicles.csv", "vehicle", 0, schemaOf[Vehicle](), false}
	tracks      = table{"tracks.csv", "track", 0, schemaOf[Track](), false}
	setups      = table{"setups.csv", "setup", 'u', schemaOf[Setup](), false}
	readings    = table{"air.csv", "reading", 'a', schemaOf[Reading](), false}
	sheets      = table{"power.csv", "dyno sheet", 'p', schemaOf[Sheet](), true}
	planRows    = table{"plan.csv", "change", 'n', schemaOf[Planned](), true}
	wears       = table{"parts.csv", "entry on parts", 'w', schemaOf[Wear](), true}
	columnTable = table{"columns.csv", "column", 0, schemaOf[OwnColumn](), true}
	slips       = table{"slips.csv", "slip", 's', schemaOf[Slip](), false}
	tables      = []table{vehicles, tracks, setups, readings, sheets, planRows, wears, columnTable, slips}
)

// heading names the columns of a new file, and behind them those that its rows have besides.
func (s columnSet) heading(rows []texts) (names []string) {
	for _, c := range s.columns {
		if !c.later {
			names = append(names, c.name)
		}
	}
	more := map[string]bool{}
	for _, row := range rows {
		for name := range row {
			if i, ours := s.byName[name]; !ours || s.columns[i].later {
				more[name] = true
			}
		}
	}
	return append(names, slices.Sorted(maps.Keys(more))...)
}

// header is the first line of the table's file as we make it.
func (t table) header(rows ...texts) []byte {
	line, err := dialect{comma: ','}.line(t.schema.heading(rows))
	if err != nil {
		panic("a header that cannot be written as CSV: " + err.Error())
	}
	return line
}

// ErrMissing is wrapped when a table's file is not there.
var ErrMissing = errors.New("the file is missing")

// read finds the rows of a table's file, without a lock.
func (lb *Logbook) read(t table, p *pick) (*content, error) {
	const looks = 3
	for look := 1; ; look++ {
		disk, absent, err := readOrAbsent(lb.fs, lb.path(t.file))
		if absent && t.optional {
			return lb.notBegun(t)
		}
		if absent {
			return nil, fmt.Errorf("%s: %w", lb.path(t.file), ErrMissing)
		}
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", t.file, err)
		}
		data, foreign := translated(disk)
		c, err := scan(t.file, t.schema, data, p)
		if err != nil {
			return nil, err
		}
		c.now, c.times = lb.now(), &times{lb: lb}
		c.restamp()
		if c.foreign = foreign; foreign {
			c.instead(disk)
		}
		if last, ok := c.openLast(); ok {
			journal, _, err := lb.readJournal()
			if err != nil {
				return nil, err
			}
			c.judge(last, journal)
		}
		lb.absent[t.file] = slices.DeleteFunc(slices.Clone(c.absent), t.schema.later)
		// What looks torn may be another window's write on its way: look again.
		if c.torn() && look < looks {
			time.Sleep(lb.pause)
			continue
		}
		return c, nil
	}
}

// openLast is the last row where it lacks its line end: some editors leave that
// out, and so does a crash within the last cell.
func (c *content) openLast() (last rowRef, ok bool) {
	if !c.noEnd || len(c.rows) == 0 || c.rows[len(c.rows)-1].end != len(c.data) {
		return last, false
	}
	return c.rows[len(c.rows)-1], true
}

// judge leaves the open last row out if the journal shows that it is torn.
func (c *content) judge(last rowRef, journal []journalEntry) {
	if !cutShort(c, last, journal) {
		return
	}
	c.rows = c.rows[:len(c.rows)-1]
	c.whole, c.noEnd = last.start, c.data[last.start-1] != '\n'
	c.problems = append(
		c.problems,
		Problem{File: c.name, Line: last.line, ID: last.id, What: "the last row is torn", LeftOut: true, Torn: true},
	)
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
	return factsOf[T](lb, c, slices.DeleteFunc(c.newest(), func(r rowRef) bool { return !r.picked || r.void }))
}

// factsOf makes records of the rows that were asked for.
func factsOf[T any](lb *Logbook, c *content, rows []rowRef) ([]T, error) {
	records, kept, problems := present[T](c, rows)
	records, impossible := sift(c, records, kept)
	return records, lb.report(slices.Concat(costly(c.problems), costly(problems), impossible))
}

// sift leaves out what no hand can have measured, however well the cells parse: a
// time below zero, a zone that does not exist.
func sift[T any](c *content, records []T, rows []rowRef) (sound []T, problems []Problem) {
	sound = records[:0]
	for i := range records {
		if r, ok := any(&records[i]).(interface{ possible() error }); ok {
			if err := r.possible(); err != nil {
				problems = append(
					problems,
					Problem{File: c.name, Line: rows[i].line, ID: rows[i].id, What: err.Error(), LeftOut: true},
				)
				continue
			}
		}
		sound = append(sound, records[i])
	}
	return sound, problems
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
	return oneIn[T](lb, c, t, id)
}

func oneIn[T any](lb *Logbook, c *content, t table, id string) (T, error) {
	rec, r, err := oneOf[T](c, t, id)
	if err != nil && !errors.Is(err, ErrUnknown) {
		err = lb.journaled(c, id, r.rev, err)
	}
	return rec, err
}

// journaled tells with the error of an entry that cannot be read whether the journal
// has the revision that is damaged; rev is 0 when that cannot be told.
func (lb *Logbook) journaled(c *content, id string, rev int, err error) error {
	journal, _, jerr := lb.readJournal()
	if jerr != nil {
		return err
	}
	readable := map[int]bool{}
	for _, r := range c.rows {
		readable[r.rev] = readable[r.rev] || r.id == id
	}
	for _, d := range c.hurt {
		if d.id == id {
			rev = max(rev, d.rev)
		}
	}
	for _, e := range journal {
		if e.file == c.name && e.id == id && (e.rev == rev || rev == 0 && !readable[e.rev]) {
			return fmt.Errorf("%w; %w", err, ErrJournaled)
		}
	}
	return err
}

func oneOf[T any](c *content, t table, id string) (T, rowRef, error) {
	var none T
	if rows := c.of(id); len(rows) > 0 && !c.damaged[id] {
		r := c.standing(rows)
		records, kept, problems := present[T](c, []rowRef{r})
		if len(records) == 0 {
			return none, r, problems[0].err()
		}
		return records[0], kept[0], nil
	}
	return none, rowRef{}, c.lacks(t, id)
}

// lacks is why an entry is not there.
func (c *content) lacks(t table, id string) error {
	if c.damaged[id] {
		for _, p := range c.problems {
			if p.ID == id {
				return p.err()
			}
		}
	}
	return fmt.Errorf("%s %q is %w", t.what, clip(id), ErrUnknown)
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
	slices.SortStableFunc(rows, func(a, b rowRef) int {
		return cmp.Or(cmp.Compare(a.rev, b.rev), cmp.Compare(a.at, b.at))
	})
	records, _, bad := decode[T](c, rows)
	problems := slices.DeleteFunc(costly(c.problems), func(p Problem) bool { return p.ID != id })
	for _, f := range bad {
		problems = append(problems, f.problem)
	}
	return records, lb.report(problems)
}

// resolve finds the id that a racer meant: the id itself, any unique beginning
// of three characters or more, in capitals or not, "last", or "last-2" for the second
// before it.
func (c *content) resolve(t table, ref string) (string, error) {
	order := c.newest()
	if back, ok := lastRef(ref); ok {
		order = slices.DeleteFunc(order, func(r rowRef) bool { return r.void })
		c.firstRecorded(order)
		return t.back(ref, back, order)
	}
	if c.damaged[ref] {
		return ref, nil
	}
	var found, folded []string
	for _, r := range order {
		switch {
		case r.id == ref:
			return ref, nil
		case strings.EqualFold(r.id, ref):
			folded = append(folded, r.id)
		case len(ref) >= 3 && len(r.id) >= len(ref) && strings.EqualFold(r.id[:len(ref)], ref):
			found = append(found, r.id)
		}
	}
	if len(folded) > 0 {
		found = folded
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return "", fmt.Errorf(
			"%s %q could be %s: type more of it",
			t.what,
			ref,
			strings.Join(found[:min(3, len(found))], ", "),
		)
	case len(ref) < 3:
		return "", fmt.Errorf(
			"%s %q is %w: type three characters of its id or more, last, or last-2",
			t.what,
			clip(ref),
			ErrUnknown,
		)
	}
	return "", fmt.Errorf("%s %q is %w", t.what, clip(ref), ErrUnknown)
}

// back picks an entry by its place from the end.
func (t table) back(ref string, back int, order []rowRef) (id string, err error) {
	switch n := len(order); {
	case n == 0:
		return "", fmt.Errorf("%s %q is %w: none is recorded yet", t.what, ref, ErrUnknown)
	case back >= n:
		return "", fmt.Errorf("%s %q is %w: no more than %d are recorded", t.what, ref, ErrUnknown, n)
	}
	return order[len(order)-1-back].id, nil
}

func lastRef(ref string) (back int, ok bool) {
	if ref == "last" {
		return 0, true
	}
	digits, ok := strings.CutPrefix(ref, "last-")
	back, err := strconv.Atoi(digits)
	return back, ok && err == nil && back >= 0
}
