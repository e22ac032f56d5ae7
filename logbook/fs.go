package logbook

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// fileSystem is the little of a file system that the logbook needs; a test
// puts a faulty one in its place.
type fileSystem interface {
	// Open opens a regular file, never through a symbolic link.
	Open(name string, flag int) (file, error)
	// CreateTemp makes a file beside another, under a name that nobody can have guessed.
	CreateTemp(beside string) (f file, name string, err error)
	// Names lists a folder.
	Names(dir string) ([]string, error)
	Rename(from, to string) error
	Remove(name string) error
	// SyncDir makes the names in a folder last through a power cut.
	SyncDir(dir string) error
}

type file interface {
	io.ReadWriteCloser
	Seek(offset int64, whence int) (int64, error)
	Truncate(size int64) error
	Sync() error
	Stat() (fs.FileInfo, error)
}

// disk is the real file system.
type disk struct{}

func (disk) Open(name string, flag int) (file, error) {
	before, err := os.Lstat(name)
	switch {
	case err != nil && !(os.IsNotExist(err) && flag&os.O_CREATE != 0):
		return nil, err
	case err == nil && !before.Mode().IsRegular():
		return nil, fmt.Errorf("%s is not a regular file: a link or device is never written to or read as a logbook", name)
	}
	f, err := os.OpenFile(name, flag|openSafely, 0o600)
	if err != nil {
		return nil, err
	}
	// Between the look and the opening somebody may have put a link there.
	if after, err := f.Stat(); before != nil && (err != nil || !os.SameFile(before, after)) {
		f.Close()
		return nil, fmt.Errorf("%s was exchanged while it was opened", name)
	}
	return f, nil
}

func (disk) CreateTemp(beside string) (file, string, error) {
	f, err := os.CreateTemp(filepath.Dir(beside), filepath.Base(beside)+".*"+besideSuffix) // mode 0600
	if err != nil {
		return nil, "", err
	}
	return f, f.Name(), nil
}

func (disk) Names(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return names, err
}

func (disk) Rename(from, to string) error { return os.Rename(from, to) }
func (disk) Remove(name string) error     { return os.Remove(name) }

func (disk) SyncDir(dir string) error { return syncDir(dir) }

// readOrAbsent reads a whole file; absent says so without an error.
func readOrAbsent(fsys fileSystem, name string) (data []byte, absent bool, err error) {
	f, err := fsys.Open(name, os.O_RDONLY)
	if os.IsNotExist(err) {
		return nil, true, nil
	}
	if err != nil {
		return nil, false, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, false, err
	}
	// One spare byte lets the read that finds the end fit without growing.
	data = make([]byte, 0, info.Size()+1)
	for {
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
		n, err := f.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if err == io.EOF {
			return data, false, nil
		}
		if err != nil {
			return nil, false, fmt.Errorf("reading %s: %w", filepath.Base(name), err)
		}
	}
}

// besideSuffix ends the name of a file that is being written.
const besideSuffix = ".new"

// halfWritten reports whether a name is that of a file which was being written beside one
// of the logbook.
func halfWritten(name string) bool {
	stem, written := strings.CutSuffix(name, besideSuffix)
	if !written {
		return false
	}
	if i := strings.LastIndexByte(stem, '.'); i > 0 && strings.Trim(stem[i+1:], "0123456789") == "" {
		stem = stem[:i]
	}
	return belongs(stem) || beside(stem)
}

// ReadFile reads a file as those of the logbook are read: never through a link, and
// never waiting for what is no file.
func ReadFile(path string) ([]byte, error) {
	data, absent, err := readOrAbsent(disk{}, path)
	if absent {
		err = fmt.Errorf("%s: %w", path, os.ErrNotExist)
	}
	return data, err
}

// WriteFile writes a file as those of the logbook are written: whole or not at all.
func WriteFile(path string, data []byte) error { return writeNew(disk{}, path, data) }
