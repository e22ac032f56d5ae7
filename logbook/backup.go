package logbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
)

const manifestFile = "manifest.json"

// Manifest says what a backup holds.
type Manifest struct {
	Schema int          `json:"schema"`
	Made   Time         `json:"made"`
	Files  []BackedFile `json:"files"`
}

// BackedFile is a file of a backup with the SHA-256 of its bytes.
type BackedFile struct {
	Name   string `json:"name"`
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"`
}

// belongs reports whether a file of the folder is part of the logbook: the racer's
// tables, ours, and what has been set aside of them.
func belongs(name string) bool {
	for _, aside := range []string{".torn-", ".before-"} {
		if of, _, ok := strings.Cut(name, aside); ok {
			name = of
		}
	}
	return name == metaFile || name == journalFile || filepath.Ext(name) == ".csv" && name[0] != '.'
}

// Backup writes the whole logbook to one zip file, reads that back and compares,
// before it gets its name. A file that is there already is replaced only when
// over is set.
func (lb *Logbook) Backup(path string, over bool) (Manifest, error) {
	if lb.uses(path) {
		return Manifest{}, fmt.Errorf("%s: %w", path, ErrOwnFile)
	}
	if _, err := os.Lstat(path); err == nil && !over {
		return Manifest{}, fmt.Errorf("%s is %w", path, ErrBackupThere)
	}
	var m Manifest
	var packed []byte
	pack := func() (err error) {
		m, packed, err = lb.pack()
		return err
	}
	// The lock makes all files those of one moment. A folder that nobody can write
	// to, as on a card set to read only, needs none.
	err := lb.locked(pack)
	if errors.Is(err, os.ErrPermission) || errors.Is(err, syscall.EROFS) {
		err = pack()
	}
	if err != nil {
		return m, fmt.Errorf("reading the logbook for a backup: %w", err)
	}
	verify := func(back []byte) error {
		got, _, err := unpack(back)
		if err == nil && !slices.Equal(got.Files, m.Files) {
			err = errors.New("other files than were written")
		}
		return err
	}
	err = lb.uninterrupted(func() error { return writeChecked(lb.fs, path, packed, verify) })
	if err != nil {
		return m, fmt.Errorf("no backup was made: %w", err)
	}
	return m, nil
}

// uses reports whether a path is that of a file of the logbook, or of one it may make.
func (lb *Logbook) uses(path string) bool {
	here, err := os.Stat(lb.dir)
	there, err2 := os.Stat(filepath.Dir(path))
	if err != nil || err2 != nil || !os.SameFile(here, there) {
		return false
	}
	// Some file systems take upper and lower case for the same.
	name := strings.ToLower(filepath.Base(path))
	return belongs(name) || halfWritten(name) || name == lockFile || beside(name)
}

// What is kept in the folder of the logbook and is no part of it: a slip that is being
// typed, and what holds for a day alone.
const (
	DraftFile = "slip-draft.json"
	DayFile   = "day.json"
)

// beside reports whether a name is that of a file beside the logbook.
func beside(name string) bool { return name == DraftFile || name == DayFile }

// ErrOwnFile is wrapped when a backup would be written over the logbook.
var ErrOwnFile = errors.New("the logbook itself uses that name")

// ErrBackupThere is wrapped when a backup would replace an older one.
var ErrBackupThere = errors.New("there already")

func (lb *Logbook) pack() (Manifest, []byte, error) {
	m := Manifest{Schema: Schema, Made: Time{lb.now()}}
	names, err := os.ReadDir(lb.dir)
	if err != nil {
		return m, nil, err
	}
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	put := func(name string, data []byte) error {
		method := zip.Deflate
		if packsTooWell(data) {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: m.Made.Time})
		if err != nil {
			return err
		}
		_, err = w.Write(data)
		return err
	}
	for _, n := range names {
		if !belongs(n.Name()) || n.IsDir() {
			continue
		}
		data, _, err := readOrAbsent(lb.fs, lb.path(n.Name()))
		if err != nil {
			return m, nil, err
		}
		m.Files = append(m.Files, BackedFile{n.Name(), int64(len(data)), sumOf(data)})
		if err := put(n.Name(), data); err != nil {
			return m, nil, err
		}
	}
	manifest, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return m, nil, err
	}
	err = errors.Join(put(manifestFile, manifest), z.Close())
	return m, packed.Bytes(), err
}

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// packsTooWell reports whether a file would grow so much when it is unpacked that it
// would be taken for a trap: thousands of blank rows do.
func packsTooWell(data []byte) bool {
	if len(data) <= freeGrowth {
		return false
	}
	var n counted
	w, err := flate.NewWriter(&n, flate.DefaultCompression)
	if err != nil {
		return true
	}
	_, err = w.Write(data)
	return errors.Join(err, w.Close()) != nil || int64(len(data)) > maxGrowth*int64(n)
}

// counted counts what is written to it.
type counted int64

func (n *counted) Write(b []byte) (int, error) {
	*n += counted(len(b))
	return len(b), nil
}
