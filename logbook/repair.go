package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math/bits"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"slipcase/weather/units"
)

// Mend is one thing that Repair does to a file.
type Mend struct {
	File string `json:"file"`
	Do   string `json:"do"`            // one of those below
	Line string `json:"row,omitempty"` // what is appended, the names of the columns, or the id and revision
}

// The things that Repair does.
const (
	DoAppend   = "append"
	DoSetAside = "set aside"
	DoMake     = "make anew"
	DoRemake   = "keep aside and make anew"
	DoWiden    = "add columns"
	DoDrop     = "leave out" // a line whose cells are the recorded ones in other columns
	DoJournal  = "journal"
	DoConvert  = "convert" // to UTF-8 with line ends
	DoRemove   = "remove"  // a file that a killed command was writing
)

// Repair appends what the journal has and the files have lost, sets torn ends
// aside, makes missing files anew, and adds columns that were cut out, when it keeps
// the file as it was beside the new one. What only the files have goes into the
// journal. It deletes nothing, and leaves alone what
// only the racer can settle; a file that cannot be repaired is an error once the
// others are. show is given all that will be done before anything
// is; an error of its calls it off.
func (lb *Logbook) Repair(show func([]Mend) error) error {
	return lb.locked(func() error {
		x, err := lb.examine()
		if err != nil {
			return err
		}
		mends, err := x.mends()
		if err != nil {
			return err
		}
		if len(mends) > 0 {
			if err := show(mends); err != nil {
				return err
			}
			if err := lb.mend(x); err != nil {
				return err
			}
		}
		return errors.Join(slices.Collect(maps.Values(x.stuck))...)
	})
}

func (x *examination) mends() ([]Mend, error) {
	var all []Mend
	for _, t := range tables {
		c := x.files[t.file]
		if c == nil || x.stuck[t.file] != nil {
			continue
		}
		if x.remake[t.file] != "" {
			all = append(all, Mend{t.file, x.remake[t.file], ""})
		} else {
			was := x.read[t.file]
			for _, start := range slices.Sorted(maps.Keys(x.dropped[t.file])) {
				line := was.data[start:lineEnd(was.data, start)]
				all = append(all, Mend{t.file, DoDrop, strings.TrimSpace(string(line[:min(len(line), maxText)]))})
			}
		}
		if c.foreign {
			all = append(all, Mend{t.file, DoConvert, ""})
		}
		if names := x.wider[t.file]; len(names) > 0 {
			all = append(all, Mend{t.file, DoWiden, strings.Join(names, ", ")})
		}
		if c.torn() {
			all = append(all, Mend{t.file, DoSetAside, ""})
		}
		for _, row := range x.lost[t.file] {
			line, _, err := change{t: t, c: c, rows: []texts{row}, journaled: true}.render()
			if err != nil {
				return nil, err
			}
			all = append(all, Mend{t.file, DoAppend, strings.TrimSpace(string(line))})
		}
		for _, r := range x.unkept[t.file].rows {
			all = append(all, Mend{t.file, DoJournal, fmt.Sprintf("%s revision %d", r.id, r.rev)})
		}
	}
	if slices.ContainsFunc(x.findings, func(f Finding) bool { return f.File == journalFile && f.Kind == Torn }) {
		all = append(all, Mend{journalFile, DoSetAside, ""})
	}
	for _, name := range x.leftovers {
		all = append(all, Mend{name, DoRemove, ""})
	}
	return all, nil
}

// empty is the table's file without rows, with the columns that the rows to come have.
func (t table) empty(rows []texts) *content {
	c, err := scan(t.file, t.schema, t.header(rows...), nil)
	if err != nil {
		panic("our own header cannot be read: " + err.Error())
	}
	return c
}

func (lb *Logbook) mend(x *examination) error {
	var changes []change
	for _, t := range tables {
		c := x.files[t.file]
		if c != nil && x.stuck[t.file] == nil && (c.made || c.torn() || len(x.lost[t.file]) > 0) {
			changes = append(changes, change{t: t, c: c, rows: x.lost[t.file], journaled: true})
		}
	}
	lines, journal, err := render(changes)
	if err != nil {
		return err
	}
	for _, t := range tables {
		if x.stuck[t.file] != nil {
			continue
		}
		unkept := x.unkept[t.file]
		for _, r := range unkept.rows {
			line, err := newJournalLine(t.file, unkept.c.texts(r))
			if err != nil {
				return err
			}
			journal = append(journal, line...)
		}
	}
	return lb.uninterrupted(func() error {
		for _, name := range x.leftovers {
			if err := lb.fs.Remove(lb.path(name)); err != nil {
				return fmt.Errorf("removing %s: %w", name, err)
			}
		}
		return lb.write(changes, lines, journal)
	})
}

// remake puts a file in the place of the one that was read, was, which is kept aside.
func (lb *Logbook) remake(name string, was, data []byte) error {
	there, _, err := readOrAbsent(lb.fs, lb.path(name))
	if err != nil {
		return err
	}
	if !bytes.Equal(there, was) {
		return changedMeanwhile(name)
	}
	if len(was) > 0 {
		if _, err := lb.keepAside(name, "before", was); err != nil {
			return err
		}
	}
	return lb.writeNew(name, data)
}

// RepairVersion makes logbook.json anew in a folder where it is gone, cut off or says
// another version than the files are of; a damaged one is kept aside.
func RepairVersion(dir string, o Options) error {
	return newLogbook(dir, o).repairVersion()
}

func (lb *Logbook) repairVersion() error {
	return lb.locked(func() error {
		was, _, err := readOrAbsent(lb.fs, lb.path(metaFile))
		if err != nil {
			return err
		}
		m, ok := parseMeta(was)
		if m.Units != "" || bytes.Contains(was, []byte(units.Metric.String())) {
			lb.units, m.Units = units.Metric, units.Metric.String() // no other is ever written
		}
		fresh := lb.version()
		switch {
		case ok:
			if m.Schema == Schema {
				return nil
			}
			if !lb.provesVersion(m.Schema) {
				return fmt.Errorf("%s says schema %d, %w", metaFile, m.Schema, ErrVersion)
			}
			m.Schema = Schema
			fresh = m.json()
		case m.Schema == Schema && m.ID != "":
			fresh = m.json() // all but its units was read
		}
		for _, t := range tables {
			_, err := lb.read(t, nil)
			var unread *fileError
			if err != nil && !errors.Is(err, ErrMissing) && !(errors.As(err, &unread) && unread.headerCut) {
				return fmt.Errorf("%s cannot be made anew: %w", metaFile, err)
			}
		}
		return lb.remake(metaFile, was, fresh)
	})
}

// provesVersion reports whether the files are of this program's version, though
// logbook.json says another: that is one flipped bit away, and each file reads to its
// last cell, lacks no column, and says what the journal does.
func (lb *Logbook) provesVersion(said int) bool {
	if a, b := strconv.Itoa(said), strconv.Itoa(Schema); len(a) != len(b) || bits.OnesCount8(a[0]^b[0]) != 1 ||
		a[1:] != b[1:] {
		return false
	}
	x, err := lb.examineFiles()
	if err != nil || len(x.journal) == 0 || len(x.remake)+len(x.stuck) > 0 {
		return false
	}
	return !slices.ContainsFunc(x.findings, func(f Finding) bool {
		return f.Grave || f.Kind == Unreadable || f.Kind == NoColumn || f.Kind == Unkept
	})
}

// Abandoned reports whether a folder holds a journal with something in it, and so
// was a logbook, whatever has become of the rest.
func Abandoned(dir string) bool {
	info, err := os.Lstat(filepath.Join(dir, journalFile))
	return err == nil && info.Mode().IsRegular() && info.Size() > 0
}
