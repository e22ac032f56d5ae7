package logbook

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// Schema is the version of the files that this program reads and writes.
const Schema = 1

const metaFile = "logbook.json"

// meta is logbook.json.
type meta struct {
	Schema  int  `json:"schema"`
	Created Time `json:"created"`
}

// ErrNoLogbook is wrapped by Open when the folder holds none.
var ErrNoLogbook = errors.New("no logbook there")

// ErrUnknown is wrapped when a name or id is not in the logbook.
var ErrUnknown = errors.New("not in the logbook")

// ErrExists is wrapped when a new name is taken.
var ErrExists = errors.New("already in the logbook")

// Logbook is an open folder of records.
type Logbook struct {
	dir      string
	fs       fileSystem
	now      func() time.Time
	newID    func(kind byte) string
	patience time.Duration // how long a writer waits for the lock
	problems []Problem
	reported map[Problem]bool
}

// Options are what a logbook takes from outside, so that a test can hold them.
type Options struct {
	Now   func() time.Time       // the clock; time.Now when nil
	NewID func(kind byte) string // the source of ids; NewID when nil
}

func newLogbook(dir string, o Options) *Logbook {
	lb := &Logbook{dir: dir, fs: disk{}, now: o.Now, newID: o.NewID, patience: 5 * time.Second, reported: map[Problem]bool{}}
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
	data, absent, err := readFile(lb.fs, lb.path(metaFile))
	if absent {
		return nil, fmt.Errorf("%s holds no %s: %w", dir, metaFile, ErrNoLogbook)
	}
	if err != nil {
		return nil, fmt.Errorf("opening the logbook: %w", err)
	}
	var m meta
	if err := json.Unmarshal(data, &m); err != nil {
		return nil, fmt.Errorf("%s cannot be read as JSON with a schema number: %w", lb.path(metaFile), err)
	}
	if m.Schema != Schema {
		return nil, fmt.Errorf("%s says schema %d, this slipcase knows %d: use the slipcase that wrote it, or a newer one",
			lb.path(metaFile), m.Schema, Schema)
	}
	return lb, nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (t *Time) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return err
	}
	return t.UnmarshalCSV(s)
}

// Init makes a logbook in a folder, which it makes too when it is missing.
func Init(dir string, o Options) (*Logbook, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("making the logbook: %w", err)
	}
	lb := newLogbook(dir, o)
	if _, err := os.Lstat(lb.path(metaFile)); err == nil {
		return nil, fmt.Errorf("%s holds a logbook already", dir)
	}
	for _, t := range tables {
		if _, err := os.Lstat(lb.path(t.file)); err == nil {
			return nil, fmt.Errorf("%s holds a %s but no %s: move it away, or put the old %s back", dir, t.file, metaFile, metaFile)
		}
	}
	return lb, lb.locked(func() error {
		for _, t := range tables {
			header, err := dialect{comma: ','}.line(t.schema.names())
			if err != nil {
				return err
			}
			if err := lb.writeNew(t.file, header); err != nil {
				return err
			}
		}
		m, err := json.Marshal(meta{Schema, Time{lb.now()}})
		if err != nil {
			return err
		}
		// The version comes last: without it the folder is no logbook yet.
		return lb.writeNew(metaFile, append(m, '\n'))
	})
}

// Dir is the folder of the logbook.
func (lb *Logbook) Dir() string { return lb.dir }

func (lb *Logbook) path(name string) string { return filepath.Join(lb.dir, name) }

// Problems are what reading has met so far, each once.
func (lb *Logbook) Problems() []Problem { return lb.problems }

func (lb *Logbook) report(ps []Problem) {
	for _, p := range ps {
		if !lb.reported[p] {
			lb.reported[p] = true
			lb.problems = append(lb.problems, p)
		}
	}
}
