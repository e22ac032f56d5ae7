package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"maps"
	"os"
	"slices"
	"strconv"
)

// Merged is what a merge did to one file, or would do.
type Merged struct {
	File      string            `json:"file"`
	Added     int               `json:"added"`     // rows that only the other copy had
	Conflicts []MergeConflict   `json:"conflicts"` // revisions that the copies disagree on
	LeftOut   map[string]string `json:"left_out"`  // entries that cannot be read in one copy, and why
}

// MergeConflict is a revision with other contents in the two copies; both are
// kept. Stands says which copy's counts, as long as no later revision does.
type MergeConflict struct {
	ID      string   `json:"id"`
	Rev     int      `json:"rev"`
	Columns []string `json:"columns"`
	Stands  string   `json:"stands"` // here or other
}

// ErrSameFolder is returned when a logbook is to be merged with itself.
var ErrSameFolder = errors.New("a logbook cannot be merged with itself")

// Merge appends what another copy of this logbook has and this one has not: rows
// are the same when their id, rev and contents are. progress, when given, is told
// how many rows of how many have been looked at; its error ends the merge before
// anything is recorded.
func (lb *Logbook) Merge(other *Logbook, progress func(done, of int) error) ([]Merged, error) {
	here, err := os.Stat(lb.dir)
	if err != nil {
		return nil, err
	}
	if there, err := os.Stat(other.dir); err != nil || os.SameFile(here, there) {
		return nil, cmp.Or(err, ErrSameFolder)
	}
	theirs, err := other.copied()
	if err != nil {
		return nil, fmt.Errorf("the other copy, %s: %w", other.dir, err)
	}
	return lb.mergeFiles(theirs, progress)
}

// copied is a copy of a logbook as a merge takes it: of each file, in the order of the
// tables, what a repair would make of it.
func (lb *Logbook) copied() ([]mergeable, error) {
	x, err := lb.examineFiles()
	if err != nil {
		return nil, err
	}
	all := make([]mergeable, len(tables))
	for i, t := range tables {
		all[i] = x.mergeable(t)
	}
	return all, nil
}

// mergeable is one file of a copy.
type mergeable struct {
	c       *content          // nil when the file cannot be read
	bad     map[int]bool      // rows with a cell that does not read, by their start
	passed  map[int]bool      // rows that one of lost takes the place of
	lost    []texts           // what only the journal has
	damaged map[string]bool   // entries that cannot be told as they are now
	leftOut map[string]string // what cannot be read, and why
}

// mergeable takes a file with what its journal has besides.
func (x *examination) mergeable(t table) mergeable {
	m := mergeable{
		c: x.read[t.file], bad: x.bad[t.file], passed: x.passed[t.file], lost: x.lost[t.file],
		damaged: map[string]bool{}, leftOut: map[string]string{},
	}
	back := map[string]int{} // the highest revision that the journal brings of each entry
	for _, row := range m.lost {
		rev, _ := strconv.Atoi(row["rev"])
		back[row["id"]] = max(back[row["id"]], rev)
	}
	for _, f := range x.findings {
		if f.File != t.file || f.Kind != Unreadable || !f.Grave || x.remake[t.file] != "" {
			continue // a file that is made anew says no more than the journal
		}
		if rev, there := back[f.ID]; !there || m.c != nil && rev < m.c.hurtRev(f.ID) {
			m.damaged[f.ID] = f.ID != ""
			m.leftOut[cmp.Or(f.ID, fmt.Sprintf("line %d", f.Line))] = Problem{
				File: f.File,
				Line: f.Line,
				ID:   f.ID,
				What: f.What,
			}.String()
		}
	}
	return m
}

// hurtRev is the highest revision that a damaged line of an entry tells.
func (c *content) hurtRev(id string) (rev int) {
	for _, d := range c.hurt {
		if d.id == id {
			rev = max(rev, d.rev)
		}
	}
	return rev
}

// rows are what the copy has to say, in its order.
func (m mergeable) rows() iter.Seq[texts] {
	return func(yield func(texts) bool) {
		if m.c != nil {
			for i, cells := range m.c.each(m.c.rows) {
				if at := m.c.rows[i].start; !m.bad[at] && !m.passed[at] && !yield(m.c.textsOf(cells)) {
					return
				}
			}
		}
		for _, row := range m.lost {
			if !yield(row) {
				return
			}
		}
	}
}

func (m mergeable) count() int {
	if m.c == nil {
		return len(m.lost)
	}
	return len(m.c.rows) + len(m.lost)
}

// mergeFiles takes the files of the other copy in the order of the tables.
func (lb *Logbook) mergeFiles(theirs []mergeable, progress func(done, of int) error) ([]Merged, error) {
	done, of := 0, 0
	for _, m := range theirs {
		of += m.count()
	}
	var stop error
	step := func() {
		if done++; progress != nil && stop == nil {
			stop = progress(done, of)
		}
	}
	var result []Merged
	err := lb.locked(func() error {
		ours, err := lb.copied()
		if err != nil {
			return err
		}
		var changes []change
		for i, t := range tables {
			if ours[i].c == nil {
				// The reason, in the words of reading.
				if _, err := lb.read(t, nil); err != nil {
					return err
				}
			}
			m, rows := lb.mergeTable(t, ours[i], theirs[i], step)
			if stop != nil {
				return stop
			}
			result = append(result, m)
			if len(rows) > 0 {
				changes = append(changes, change{t: t, c: ours[i].c, rows: rows})
			}
		}
		if len(changes) == 0 {
			return nil
		}
		return lb.append(changes...)
	})
	return result, err
}

// mergeTable finds the rows of theirs that ours lacks. An entry with a line that cannot
// be read stays as it is: what is older must not pass for what is newest.
func (lb *Logbook) mergeTable(t table, ours, theirs mergeable, step func()) (Merged, []texts) {
	m := Merged{File: t.file, Conflicts: []MergeConflict{}, LeftOut: map[string]string{}}
	for id, why := range theirs.leftOut {
		m.LeftOut[id] = "in the other copy, " + why
	}
	for _, p := range ours.c.problems {
		if ours.c.damaged[p.ID] {
			m.LeftOut[p.ID] = "in this copy, " + p.String()
		}
	}
	have := map[key]*contents{}
	for row := range theirs.rows() {
		have[row.key()] = &contents{}
	}
	for i, cells := range ours.c.each(ours.c.rows) {
		r := ours.c.rows[i]
		if of := have[r.key()]; of != nil && !ours.bad[r.start] {
			of.add(t.schema, ours.c.textsOf(cells))
		}
	}
	apart := map[key]map[string]bool{} // the columns in which the copies differ
	var added []texts
	for row := range theirs.rows() {
		step()
		k := row.key()
		if theirs.damaged[k.id] || ours.c.damaged[k.id] || have[k].say(t.schema, row) {
			continue
		}
		for _, other := range have[k].first() {
			if names := t.schema.diff(other, row); !lacksAll(other, names) {
				apart[k] = union(apart[k], names)
			}
		}
		have[k].add(t.schema, row)
		added = append(added, row)
	}
	m.Added = len(added)
	m.Conflicts = append(m.Conflicts, lb.conflicts(t, ours, added, apart)...)
	return m, added
}

func union(set map[string]bool, names []string) map[string]bool {
	if set == nil {
		set = map[string]bool{}
	}
	for _, name := range names {
		set[name] = true
	}
	return set
}

// conflicts tells of the revisions that the copies disagree on which copy's stands, as
// reading will have it with all their rows together.
func (lb *Logbook) conflicts(
	t table,
	ours mergeable,
	added []texts,
	apart map[key]map[string]bool,
) (told []MergeConflict) {
	if len(apart) == 0 {
		return nil
	}
	of := map[string][]version{}
	for k := range apart {
		of[k.id] = []version{}
	}
	for _, r := range ours.c.rows {
		if vs, asked := of[r.id]; asked && !ours.bad[r.start] {
			of[r.id] = append(vs, version{r.rev, r.at, func() texts { return ours.c.texts(r) }})
		}
	}
	here := map[string]int{} // how many of them are ours
	for id, vs := range of {
		here[id] = len(vs)
	}
	for _, row := range added {
		if k := row.key(); of[k.id] != nil {
			of[k.id] = append(of[k.id], version{k.rev, stampOf(row["recorded_at"]), func() texts { return row }})
		}
	}
	for k, names := range apart {
		c := MergeConflict{ID: k.id, Rev: k.rev, Columns: slices.Sorted(maps.Keys(names)), Stands: "other"}
		if t.schema.stands(of[k.id], ours.c.now) < here[k.id] {
			c.Stands = "here"
		}
		told = append(told, c)
	}
	slices.SortStableFunc(told, func(a, b MergeConflict) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(a.Rev, b.Rev))
	})
	return told
}

func (t texts) key() key {
	rev, _ := strconv.Atoi(t["rev"])
	return key{t["id"], rev}
}

// contents are what is said of one revision.
type contents struct {
	rows      []texts
	canonical map[string]bool
}

func (c *contents) add(s columnSet, row texts) {
	c.rows = append(c.rows, row)
	if c.canonical == nil {
		c.canonical = make(map[string]bool, 1)
	}
	c.canonical[s.canonical(row)] = true
}

// first are as many as are looked at one by one: two copies hold two or three.
func (c *contents) first() []texts { return c.rows[:min(16, len(c.rows))] }

// say reports whether all that a row says is said already.
func (c *contents) say(s columnSet, row texts) bool {
	return c.canonical[s.canonical(row)] ||
		slices.ContainsFunc(c.first(), func(o texts) bool { return lacksAll(row, s.diff(o, row)) })
}
