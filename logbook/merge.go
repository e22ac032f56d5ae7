package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"slices"
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
	theirs := make([]*content, len(tables))
	for i, t := range tables {
		c, err := other.read(t, nil)
		if err != nil {
			return nil, fmt.Errorf("the other copy, %s: %w", other.dir, err)
		}
		theirs[i] = c
	}
	return lb.merge(theirs, progress)
}

// merge takes the files of the other copy in the order of the tables.
func (lb *Logbook) merge(theirs []*content, progress func(done, of int) error) ([]Merged, error) {
	of := 0
	for _, c := range theirs {
		of += len(c.rows)
	}
	done := 0
	var stop error
	step := func() {
		if done++; progress != nil && stop == nil {
			stop = progress(done, of)
		}
	}
	var result []Merged
	err := lb.locked(func() error {
		var changes []change
		for i, t := range tables {
			ours, err := lb.read(t, nil)
			if err != nil {
				return err
			}
			m, rows := mergeTable(t, ours, theirs[i], step)
			if stop != nil {
				return stop
			}
			result = append(result, m)
			if len(rows) > 0 {
				changes = append(changes, change{t: t, c: ours, rows: rows})
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
func mergeTable(t table, ours, theirs *content, step func()) (Merged, []texts) {
	m := Merged{File: t.file, Conflicts: []MergeConflict{}, LeftOut: map[string]string{}}
	for _, p := range costly(theirs.problems) {
		m.LeftOut[cmp.Or(p.ID, fmt.Sprintf("line %d", p.Line))] = "in the other copy, " + p.String()
	}
	for _, p := range ours.problems {
		if ours.damaged[p.ID] {
			m.LeftOut[p.ID] = "in this copy, " + p.String()
		}
	}
	have := map[key][]texts{}
	wanted := map[key]bool{}
	for _, r := range theirs.rows {
		wanted[r.key()] = true
	}
	for i, cells := range ours.each(ours.rows) {
		if k := ours.rows[i].key(); wanted[k] {
			have[k] = append(have[k], ours.textsOf(cells))
		}
	}
	var rows []texts
	for i, cells := range theirs.each(theirs.rows) {
		step()
		r, row := theirs.rows[i], theirs.textsOf(cells)
		says := func(o texts) bool { return lacksAll(row, t.schema.diff(o, row)) } // all that row does
		if theirs.damaged[r.id] || ours.damaged[r.id] || slices.ContainsFunc(have[r.key()], says) {
			continue
		}
		if others := have[r.key()]; len(others) > 0 && !lacksAll(others[0], t.schema.diff(others[0], row)) {
			c := MergeConflict{ID: r.id, Rev: r.rev, Columns: t.schema.diff(others[0], row), Stands: "here"}
			if t.schema.stands(row, others[0]) {
				c.Stands = "other"
			}
			m.Conflicts = append(m.Conflicts, c)
		}
		have[r.key()] = append(have[r.key()], row)
		rows = append(rows, row)
	}
	m.Added = len(rows)
	return m, rows
}
