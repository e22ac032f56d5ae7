package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"slipcase/weather"
)

// Kind is the sort of a Finding.
type Kind string

// The kinds of findings.
const (
	Torn       Kind = "torn"       // an unfinished end of a file
	Unreadable Kind = "unreadable" // a line or a file that cannot be read
	NoColumn   Kind = "no column"  // a column of ours that the file lacks
	Lost       Kind = "lost"       // a row or a value in the journal, not in its file
	Unkept     Kind = "unkept"     // rows that the journal has not: nothing could bring them back
	Changed    Kind = "changed"    // otherwise than recorded: a hand edit
	Shifted    Kind = "shifted"    // what was recorded, in other columns, or most of a file otherwise
	Garbled    Kind = "garbled"    // otherwise than recorded in several cells: the racer's to settle
	Future     Kind = "future"     // recorded by a clock that was ahead
	Blank      Kind = "blank"      // rows without a word
	Foreign    Kind = "foreign"    // a file in another alphabet or with other line ends
	BadName    Kind = "name"       // a name that another program or another entry makes trouble for
	Leftover   Kind = "leftover"   // a file that a command which was killed was writing
	Conflict   Kind = "conflict"   // one revision of an entry with two contents
	Unknown    Kind = "unknown"    // names what is not in the logbook
	NoSetup    Kind = "no setup"   // a slip before its vehicle's first setup
	NoAir      Kind = "no air"     // a slip whose air cannot be told
	Impossible Kind = "impossible" // a slip that no run has
	Twice      Kind = "twice"      // two slips of one vehicle at one time
)

// Finding is what Check has to say of a line.
type Finding struct {
	Kind  Kind   `json:"kind"`
	Grave bool   `json:"grave"` // something is lost, or can be read in two ways
	File  string `json:"file"`
	Line  int    `json:"line,omitzero"`
	ID    string `json:"id,omitzero"`
	What  string `json:"what"`

	Air weather.How `json:"-"` // NoAir: why it is not known
}

func (f Finding) String() string {
	return string(f.Kind) + ": " + Problem{File: f.File, Line: f.Line, ID: f.ID, What: f.What}.String()
}

// Check reads everything and tells what is wrong, file by file and line by line.
// It changes nothing and takes no lock.
func (lb *Logbook) Check() ([]Finding, error) {
	const looks = 3
	for look := 1; ; look++ {
		x, err := lb.examine()
		if err != nil {
			return nil, err
		}
		// A row that only the journal has may be on its way, and one that only its file has
		// may have come since the journal was read: look again.
		if look == looks || len(x.lost) == 0 && (len(x.unkept) == 0 || look > 1) {
			return x.findings, nil
		}
		time.Sleep(2 * lb.pause)
	}
}

// examination is a logbook read whole and held against its journal. Its maps are by file.
type examination struct {
	findings []Finding
	journal  map[string][]journalEntry
	read     map[string]*content // as they are, those that can be read
	disk     map[string][]byte   // as they are, those that cannot
	files    map[string]*content // as a repair has them before it appends
	ids      map[string]map[string]bool
	bad      map[string]map[int]bool // rows with a cell that does not read, by their start
	lost     map[string][]texts      // what only the journal has
	passed   map[string]map[int]bool // rows that one of those takes the place of, by their start
	dropped  map[string]map[int]bool // lines that a repair leaves out, by their start
	unkept   map[string]rowsOf       // what the journal has not
	remake   map[string]string       // what a repair does to files that it makes anew
	wider    map[string][]string     // columns that they lack for what they have lost
	stuck    map[string]error        // why they cannot be repaired

	leftovers []string // files that were being written

	vehicles []lined[Vehicle] // what stands
	tracks   []lined[Track]
	setups   []lined[Setup]
	readings []lined[Reading]
	sheets   []lined[Sheet]
	plan     []lined[Planned]
	wears    []lined[Wear]
	columns  []lined[OwnColumn]
	slips    []lined[Slip]
}

func newExamination() *examination {
	return &examination{
		findings: []Finding{}, journal: map[string][]journalEntry{}, read: map[string]*content{},
		files: map[string]*content{},
		disk:  map[string][]byte{}, ids: map[string]map[string]bool{}, bad: map[string]map[int]bool{},
		lost: map[string][]texts{}, passed: map[string]map[int]bool{},
		dropped: map[string]map[int]bool{}, unkept: map[string]rowsOf{}, remake: map[string]string{},
		wider: map[string][]string{},
		stuck: map[string]error{},
	}
}

func (x *examination) find(kind Kind, grave bool, file string, line int, id, format string, a ...any) {
	x.findings = append(
		x.findings,
		Finding{Kind: kind, Grave: grave, File: file, Line: line, ID: id, What: fmt.Sprintf(format, a...)},
	)
}

// examine reads all files against the journal, and the entries against each other.
func (lb *Logbook) examine() (*examination, error) {
	x, err := lb.examineFiles()
	if err != nil {
		return nil, err
	}
	x.crossCheck(lb.now().Location())
	slices.SortStableFunc(x.findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(placeOf(a.File), placeOf(b.File)), cmp.Compare(a.Line, b.Line))
	})
	return x, nil
}

// examineFiles reads all files against the journal.
func (lb *Logbook) examineFiles() (*examination, error) {
	entries, problems, err := lb.readJournal()
	if err != nil {
		return nil, err
	}
	x := newExamination()
	for _, e := range entries {
		x.journal[e.file] = append(x.journal[e.file], e)
		if placeOf(e.file) == len(tables) {
			problems = append(
				problems,
				Problem{
					File: journalFile,
					Line: e.line,
					ID:   e.id,
					What: fmt.Sprintf("the line names the file %q, which is none of the logbook", clip(e.file)),
				},
			)
		}
	}
	for _, err := range []error{
		examineTable(lb, x, vehicles, &x.vehicles), examineTable(lb, x, tracks, &x.tracks),
		examineTable(lb, x, setups, &x.setups), examineTable(lb, x, readings, &x.readings),
		examineTable(lb, x, sheets, &x.sheets), examineTable(lb, x, planRows, &x.plan),
		examineTable(lb, x, wears, &x.wears),
		examineTable(lb, x, columnTable, &x.columns), examineTable(lb, x, slips, &x.slips),
	} {
		if err != nil {
			return nil, err
		}
	}
	names, err := lb.fs.Names(lb.dir)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		if halfWritten(name) {
			x.leftovers = append(x.leftovers, name)
			x.find(
				Leftover,
				false,
				name,
				0,
				"",
				"left by a command that was killed while it wrote: nothing that was recorded is in it alone",
			)
		}
	}
	for _, name := range lb.halfRestored() {
		x.find(Leftover, false, name, 0, "",
			"a folder beside the logbook, left by a restore that was killed: all in it is in the backup")
	}
	if len(entries)+len(problems) == 0 && len(x.unkept) > 0 {
		x.find(Lost, true, journalFile, 0, "", "the journal is gone: nothing could bring back what the files lose")
	}
	// A damaged line of the journal costs no row as long as the files have theirs.
	for _, p := range problems {
		kind := Unreadable
		if p.Torn {
			kind = Torn
		}
		x.find(kind, false, p.File, p.Line, p.ID, "%s", p.What)
	}
	return x, nil
}

// placeOf orders files as they are read, the journal last.
func placeOf(file string) int {
	if i := slices.IndexFunc(tables, func(t table) bool { return t.file == file }); i >= 0 {
		return i
	}
	return len(tables)
}

// lined is a standing record and where it is written.
type lined[T any] struct {
	rec  T
	line int
}

// examineTable checks one file by itself and against the journal, and notes the
// entries that stand.
func examineTable[T any](lb *Logbook, x *examination, t table, stand *[]lined[T]) error {
	c, err := x.alone(lb, t)
	if c == nil || err != nil {
		return err
	}
	records, kept, bad := decode[T](c, c.rows)
	*stand = standing(c, records, kept, x.withJournal(t, c, bad))
	return nil
}

// alone checks a file by itself, its cells left out; nil where it cannot be read.
func (x *examination) alone(lb *Logbook, t table) (*content, error) {
	c, err := x.open(lb, t)
	if err != nil {
		return nil, err
	}
	if c == nil {
		if x.remake[t.file] != "" {
			x.compare(t, &content{schema: t.schema}, nil)
			made := t.empty(x.lost[t.file])
			made.instead(x.disk[t.file])
			x.files[t.file] = made
		}
		return nil, nil
	}
	x.ids[t.file] = maps.Clone(c.damaged)
	for _, r := range c.rows {
		x.ids[t.file][r.id] = true
	}
	for _, name := range c.absent {
		if !t.schema.later(name) {
			x.find(NoColumn, false, t.file, 1, "", "no column %q", name)
		}
	}
	if c.blank > 0 {
		x.find(
			Blank,
			false,
			t.file,
			c.blankAt,
			"",
			"%d %s nothing but separators, as a spreadsheet leaves them: they do no harm",
			c.blank,
			map[bool]string{true: "row has", false: "rows have"}[c.blank == 1],
		)
	}
	if c.foreign {
		x.find(
			Foreign,
			false,
			t.file,
			0,
			"",
			"the file is UTF-16 text, or has no line ends but CR: the next write makes it UTF-8 with line ends, and keeps it beside as it was",
		)
	}
	return c, nil
}

// withJournal checks a file against the journal; bad are its rows that cannot be read, for some of
// which that has a twin.
func (x *examination) withJournal(t table, c *content, bad []failed) (twins map[key]rowRef) {
	unreadable := map[int]bool{} // rows by their start
	for _, f := range bad {
		unreadable[f.row.start] = true
	}
	x.read[t.file], x.bad[t.file] = c, unreadable
	twins = x.compare(t, c, unreadable)
	x.files[t.file] = x.prepare(t, c)
	x.tellUnread(t, c)
	for _, f := range bad {
		if other, ok := twins[f.row.key()]; ok {
			x.find(Unreadable, false, t.file, f.row.line, f.row.id, "%s; line %d makes it good", f.problem.What, other.line)
		} else {
			x.find(Unreadable, true, t.file, f.row.line, f.row.id, "%s", f.problem.What)
		}
	}
	return twins
}

func (x *examination) tellUnread(t table, c *content) {
	says := map[int]bool{} // problems whose lines say nothing that the journal has not
	for _, u := range c.unreadLines() {
		says[u.problem] = x.dropped[t.file][u.start]
	}
	for i, p := range c.problems {
		switch {
		case p.Torn:
			x.find(Torn, true, p.File, p.Line, p.ID, "%s", p.What)
		case says[i]:
			x.find(Shifted, true, p.File, p.Line, p.ID, "%s: its cells are the recorded ones, and not in their columns", p.What)
		default:
			x.find(Unreadable, p.LeftOut, p.File, p.Line, p.ID, "%s", p.What)
		}
	}
}

// open reads a file as far as it can be read, nil where it cannot, and notes what a
// repair can do about that.
func (x *examination) open(lb *Logbook, t table) (*content, error) {
	c, err := lb.read(t, nil)
	var unread *fileError
	switch {
	case err == nil:
		return c, nil
	case errors.Is(err, ErrMissing):
		x.remake[t.file] = DoMake
		x.find(Lost, true, t.file, 0, "", "the file is missing")
		return nil, nil
	case !errors.As(err, &unread):
		return nil, err
	}
	kind := Unreadable
	if unread.mendable() {
		kind = NoColumn
		c, err = lb.readWider(t, unread.lacks)
		if err == nil {
			x.wider[t.file] = unread.lacks
			x.find(kind, true, t.file, unread.Line, "", "%s", unread.What)
			return c, nil
		}
	}
	disk, _, rerr := readOrAbsent(lb.fs, lb.path(t.file))
	if rerr != nil {
		return nil, rerr
	}
	data, _ := translated(disk)
	switch {
	case unread.headerCut:
		kind = Torn
		x.remake[t.file], x.disk[t.file] = DoRemake, disk
	case x.saysAll(t, data):
		x.remake[t.file], x.disk[t.file] = DoRemake, disk
	default:
		x.stuck[t.file] = err
	}
	x.find(kind, true, t.file, unread.Line, "", "%s", unread.What)
	return nil, nil
}

// standing are the records of the rows that stand; twins are the readable rows that
// stand in for others of their revision.
func standing[T any](c *content, records []T, kept []rowRef, twins map[key]rowRef) (list []lined[T]) {
	place := make(map[int]int, len(kept)) // of a row's start among the records
	for i, r := range kept {
		place[r.start] = i
	}
	for _, r := range c.newest() {
		i, ok := place[r.start]
		if twin, mended := twins[r.key()]; !ok && mended {
			i, ok = place[twin.start], true
		}
		if ok && !kept[i].void {
			list = append(list, lined[T]{records[i], kept[i].line})
		}
	}
	return list
}
