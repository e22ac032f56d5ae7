package logbook

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// fileSystem is the little of a file system that the logbook needs; a test
// puts a faulty one in its place.
type fileSystem interface {
	// Open opens a regular file, never through a symbolic link.
	Open(name string, flag int) (file, error)
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
	f, err := os.OpenFile(name, flag, 0o600)
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

func (disk) Rename(from, to string) error { return os.Rename(from, to) }
func (disk) Remove(name string) error     { return os.Remove(name) }

func (disk) SyncDir(dir string) error { return syncDir(dir) }

// readFile reads a whole file; absent says so without an error.
func readFile(fsys fileSystem, name string) (data []byte, absent bool, err error) {
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
