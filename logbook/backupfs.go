package logbook

import (
	"bytes"
	"io/fs"
	"maps"
	"slices"
	"time"
)

// packed is a backup as a file system that is only read.
type packed map[string][]byte

func (p packed) Open(name string, _ int) (file, error) {
	data, there := p[name]
	if !there {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &packedFile{bytes.NewReader(data), name}, nil
}

func (packed) CreateTemp(beside string) (file, string, error) { return nil, "", readOnly(beside) }

func (p packed) Names(string) ([]string, error) { return slices.Sorted(maps.Keys(p)), nil }

func (packed) Rename(_, to string) error { return readOnly(to) }
func (packed) Remove(name string) error  { return readOnly(name) }
func (packed) SyncDir(dir string) error  { return readOnly(dir) }

func readOnly(name string) error {
	return &fs.PathError{Op: "change", Path: name, Err: fs.ErrPermission}
}

type packedFile struct {
	*bytes.Reader
	name string
}

func (f *packedFile) Write([]byte) (int, error)  { return 0, readOnly(f.name) }
func (f *packedFile) Truncate(int64) error       { return readOnly(f.name) }
func (f *packedFile) Sync() error                { return readOnly(f.name) }
func (f *packedFile) Close() error               { return nil }
func (f *packedFile) Stat() (fs.FileInfo, error) { return packedInfo{f.name, f.Size()}, nil }

// packedInfo tells of a file in a backup.
type packedInfo struct {
	name string
	size int64
}

func (i packedInfo) Name() string     { return i.name }
func (i packedInfo) Size() int64      { return i.size }
func (packedInfo) Mode() fs.FileMode  { return 0o400 }
func (packedInfo) ModTime() time.Time { return time.Time{} }
func (packedInfo) IsDir() bool        { return false }
func (packedInfo) Sys() any           { return nil }
