package logbook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"slipcase/weather/units"
)

// Schema is the version of the files that this program reads and writes.
const Schema = 1

const metaFile = "logbook.json"

// meta is logbook.json.
type meta struct {
	Schema  int    `json:"schema"`
	Created Time   `json:"created"`
	ID      string `json:"id,omitzero"`    // names this logbook, and all its copies, among others
	Units   string `json:"units,omitzero"` // what bare numbers mean to its racer; us when it does not say
}

// ErrNoLogbook is wrapped by Open when the folder holds none.
var ErrNoLogbook = errors.New("no logbook there")

// ErrNoVersion is wrapped by Open when logbook.json is gone or cannot be read.
var ErrNoVersion = errors.New("the version of the logbook is not known")

// ErrDamagedVersion is wrapped by Open when logbook.json tells a version that the files
// next to it are not of.
var ErrDamagedVersion = errors.New("the files beside it are of this program's version")

// ErrVersion is wrapped when the files are of another version than this program's.
var ErrVersion = fmt.Errorf("this program knows %d: use the one that wrote it, or a newer one", Schema)

// ErrUnknown is wrapped when a name or id is not in the logbook.
var ErrUnknown = errors.New("not in the logbook")

// ErrExists is wrapped when a new name is taken.
var ErrExists = errors.New("already in the logbook")

// ErrJournaled is wrapped when an entry cannot be read that a repair brings back.
var ErrJournaled = errors.New("the journal has it")

// Logbook is an open folder of records.
type Logbook struct {
	dir      string
	id       string
	fs       fileSystem
	now      func() time.Time
	newID    func(kind byte) string
	units    units.System
	busy     sync.Locker
	wrote    func(what string, ids []string)
	strict   bool
	patience time.Duration // how long a writer waits for the lock
	pause    time.Duration // how long a reader waits before it looks again at what another may be writing
	problems []Problem
	reported map[string]bool // problems by what they say
	absent   map[string][]string

	before, after Stamp // of the last time the lock was held
}

// Options are what a logbook takes from outside, so that a test can hold them.
type Options struct {
	Now   func() time.Time       // the clock; time.Now when nil
	NewID func(kind byte) string // the source of ids; NewID when nil
	// Busy is held while files are changed: an interrupt takes it before the
	// program ends. None when nil.
	Busy sync.Locker
	// Recorded is told what has been recorded, while Busy is still held: entries of a
	// kind by their ids. None when nil.
	Recorded func(what string, ids []string)
	// Strict makes the first problem an error, where others are read past.
	Strict bool
	// Units is what bare numbers mean in a logbook that is made.
	Units units.System
}

func newLogbook(dir string, o Options) *Logbook {
	lb := &Logbook{
		dir: dir, fs: disk{}, now: o.Now, newID: o.NewID, units: o.Units, busy: o.Busy, wrote: o.Recorded, strict: o.Strict,
		patience: 5 * time.Second, pause: 25 * time.Millisecond, reported: map[string]bool{}, absent: map[string][]string{},
	}
	if lb.busy == nil {
		lb.busy = new(sync.Mutex)
	}
	if lb.wrote == nil {
		lb.wrote = func(string, []string) {}
	}
	if lb.now == nil {
		lb.now = time.Now
	}
	if lb.newID == nil {
		lb.newID = NewID
	}
	return lb
}

// Open opens the logbook in a folder; it takes no lock and changes nothing.
func Open(dir string, o Options) (*Logbook, error) {
	info, err := os.Stat(dir)
	switch {
	case os.IsNotExist(err):
		return nil, fmt.Errorf("%s: the folder is missing: %w", dir, ErrNoLogbook)
	case err != nil:
		return nil, fmt.Errorf("opening the logbook: %w", err)
	case !info.IsDir():
		return nil, fmt.Errorf("%s is a file, not a folder: %w", dir, ErrNoLogbook)
	}
	lb := newLogbook(dir, o)
	if err := lb.readVersion(); err != nil {
		return nil, err
	}
	return lb, nil
}

// readVersion refuses a logbook that this program cannot read.
func (lb *Logbook) readVersion() error {
	data, absent, err := readOrAbsent(lb.fs, lb.path(metaFile))
	switch {
	case err != nil:
		return fmt.Errorf("opening the logbook: %w", err)
	case absent && Abandoned(lb.dir):
		return fmt.Errorf("%s is missing: %w", lb.path(metaFile), ErrNoVersion)
	case absent:
		return fmt.Errorf("%s holds no %s: %w", lb.dir, metaFile, ErrNoLogbook)
	}
	m, ok := parseMeta(data)
	if !ok {
		return fmt.Errorf(
			"%s cannot be read as JSON with a schema number and known units: %w",
			lb.path(metaFile),
			ErrNoVersion,
		)
	}
	lb.id = m.ID
	if m.Schema != Schema {
		err := fmt.Errorf("%s says schema %d, %w", lb.path(metaFile), m.Schema, ErrVersion)
		if lb.provesVersion(m.Schema) {
			err = fmt.Errorf("%s says schema %d: %w", lb.path(metaFile), m.Schema, ErrDamagedVersion)
		}
		return err
	}
	return nil
}

// parseMeta reads logbook.json. One that says metric, but not of its units, is damaged:
// read as the usual, 31 would become 31 F.
func parseMeta(data []byte) (m meta, ok bool) {
	err := json.Unmarshal(data, &m)
	system, unknown := m.system()
	lost := system == units.US && bytes.Contains(data, []byte(units.Metric.String()))
	return m, err == nil && m.Schema != 0 && unknown == nil && !lost
}

// system is what bare numbers mean.
func (m meta) system() (units.System, error) {
	if m.Units == "" {
		return units.US, nil
	}
	return units.ParseSystem(m.Units)
}

// UnitsOf tells what bare numbers mean to the racer of the logbook in a folder: feet and
// pounds where there is none to ask, or none that Open would open.
func UnitsOf(dir string) units.System {
	data, err := ReadFile(filepath.Join(dir, metaFile))
	if err != nil {
		return units.US
	}
	m, ok := parseMeta(data)
	if !ok {
		return units.US
	}
	system, _ := m.system()
	return system
}

// ID names this logbook, and all its copies, among others; "" for one made before
// logbooks had ids and not written to since.
func (lb *Logbook) ID() string { return lb.id }

// identify gives a logbook without an id one. It is called under the lock.
func (lb *Logbook) identify() error {
	data, absent, err := readOrAbsent(lb.fs, lb.path(metaFile))
	if err != nil || absent {
		return err // absent while it is being made
	}
	m, ok := parseMeta(data)
	if !ok || m.Schema != Schema {
		return nil // for a check to tell
	}
	if m.ID == "" {
		m.ID = NewID('l')
		if err := lb.writeNew(metaFile, m.json()); err != nil {
			return err
		}
	}
	lb.id = m.ID
	return nil
}

// Init makes a logbook in a folder, which it makes too when it is missing. One that is there and
// has no record yet takes the units of the options: nothing was typed in the old ones.
func Init(dir string, o Options) (*Logbook, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("making the logbook: %w", err)
	}
	lb := newLogbook(dir, o)
	if _, err := os.Lstat(lb.path(metaFile)); err == nil {
		return lb, lb.locked(func() error { return lb.uninterrupted(lb.reunit) })
	}
	return lb, lb.create()
}

// reunit gives a logbook without a record the units asked for.
func (lb *Logbook) reunit() error {
	data, _, err := readOrAbsent(lb.fs, lb.path(metaFile))
	if err != nil {
		return err
	}
	m, ok := parseMeta(data)
	if !ok || m.Schema != Schema {
		return fmt.Errorf("%s holds a logbook already, whose %s cannot be read", lb.dir, metaFile)
	}
	was, _ := m.system()
	journal, _, err := readOrAbsent(lb.fs, lb.path(journalFile))
	if err != nil {
		return err
	}
	if len(journal) > 0 || lb.units == was {
		return &ThereError{lb.dir, was, len(journal) > 0}
	}
	for _, t := range tables {
		if err := lb.initFile(t.file, t.header()); err != nil {
			return err
		}
	}
	lb.id, m.Units = m.ID, ""
	if lb.units != units.US {
		m.Units = lb.units.String()
	}
	return lb.writeNew(metaFile, m.json())
}

// ThereError is that a folder holds a logbook already.
type ThereError struct {
	Dir      string
	Units    units.System // what its bare numbers mean
	Recorded bool         // it has records
}

func (e *ThereError) Error() string {
	return fmt.Sprintf("%s holds a logbook already, in %s units", e.Dir, e.Units)
}

// create writes the files of an empty logbook.
func (lb *Logbook) create() error {
	return lb.locked(func() error { return lb.uninterrupted(lb.createFiles) })
}

func (lb *Logbook) createFiles() error {
	for _, t := range tables {
		if err := lb.initFile(t.file, t.header()); err != nil {
			return err
		}
	}
	if err := lb.initFile(journalFile, nil); err != nil {
		return err
	}
	// The version comes last: without it the folder is no logbook yet.
	return lb.writeNew(metaFile, lb.version())
}

// version is the contents of a new logbook.json.
func (lb *Logbook) version() []byte {
	lb.id = NewID('l')
	m := meta{Schema: Schema, Created: Time{lb.now()}, ID: lb.id}
	if lb.units != units.US {
		m.Units = lb.units.String()
	}
	return m.json()
}

func (m meta) json() []byte {
	data, err := json.Marshal(m)
	if err != nil {
		panic("the version cannot be written as JSON: " + err.Error())
	}
	return append(data, '\n')
}

// initFile writes a file without rows; one that an interrupted Init has left
// behind may be there already, any other is not ours to write over.
func (lb *Logbook) initFile(name string, data []byte) error {
	there, absent, err := readOrAbsent(lb.fs, lb.path(name))
	switch {
	case err != nil:
		return err
	case absent:
		return lb.writeNew(name, data)
	case !bytes.Equal(there, data):
		return fmt.Errorf("%s holds a %s but no %s: move it away, or put the old %s back", lb.dir, name, metaFile, metaFile)
	}
	return nil
}

// Dir is the folder of the logbook.
func (lb *Logbook) Dir() string { return lb.dir }

func (lb *Logbook) path(name string) string { return filepath.Join(lb.dir, name) }

// Problems are what reading has met so far, each once.
func (lb *Logbook) Problems() []Problem { return lb.problems }

// Absent says of each file read so far that lacks columns of the first files which
// ones; what is read of it has no such values.
func (lb *Logbook) Absent() []string {
	var said []string
	for _, t := range tables {
		switch names := lb.absent[t.file]; len(names) {
		case 0:
		case 1:
			said = append(said, fmt.Sprintf("%s has no column %s", t.file, names[0]))
		default:
			said = append(said, fmt.Sprintf("%s has no columns %s", t.file, strings.Join(names, ", ")))
		}
	}
	return said
}

// report notes what reading has met; the first of it is an error when strict.
func (lb *Logbook) report(ps []Problem) error {
	for _, p := range ps {
		if lb.strict {
			return p.err()
		}
		if says := p.String(); !lb.reported[says] {
			lb.reported[says] = true
			lb.problems = append(lb.problems, p)
		}
	}
	return nil
}
