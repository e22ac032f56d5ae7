package logbook

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"
)

// sector is what a disk writes whole or not at all.
const sector = 512

// memory is a file system that knows what has been synced and what has not, and
// can tell what a power cut would leave. after, when set, runs after every call
// that changes something.
type memory struct {
	mu      sync.Mutex
	names   map[string]*inode
	durable map[string]*inode // the names as last synced
	pending []naming
	after   func()
}

// naming gives a file a name, or takes one away, or both.
type naming struct {
	gone, name string
	n          *inode
}

func (c naming) apply(names map[string]*inode) {
	delete(names, c.gone)
	if c.n != nil {
		names[c.name] = c.n
	}
}

// inode is a file: as it reads now, as it was last synced, and what was done since.
type inode struct {
	data, durable []byte
	pending       []edit
}

// edit writes data at an offset, or cuts the file there when data is nil.
type edit struct {
	at   int64
	data []byte
}

func newMemory() *memory {
	return &memory{names: map[string]*inode{}, durable: map[string]*inode{}}
}

func (m *memory) changed() {
	if m.after != nil {
		m.after()
	}
}

func (m *memory) move(c naming) {
	c.apply(m.names)
	m.pending = append(m.pending, c)
	m.changed()
}

func (m *memory) Open(name string, flag int) (file, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	n, there := m.names[name]
	switch {
	case !there && flag&os.O_CREATE == 0:
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	case !there:
		n = &inode{}
		m.move(naming{name: name, n: n})
	case flag&os.O_TRUNC != 0:
		n.edit(edit{at: 0})
		m.changed()
	}
	return &memoryFile{m: m, n: n, name: name}, nil
}

func (m *memory) CreateTemp(beside string) (file, string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.%d%s", beside, n, besideSuffix)
		if _, there := m.names[name]; !there {
			f, err := m.Open(name, os.O_CREATE)
			return f, name, err
		}
	}
}

func (m *memory) Names(dir string) (names []string, err error) {
	for path := range m.names {
		if filepath.Dir(path) == dir {
			names = append(names, filepath.Base(path))
		}
	}
	slices.Sort(names)
	return names, nil
}

func (m *memory) Rename(from, to string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.names[from] == nil {
		return fs.ErrNotExist
	}
	m.move(naming{from, to, m.names[from]})
	return nil
}

func (m *memory) Remove(name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.names[name] == nil {
		return fs.ErrNotExist
	}
	m.move(naming{gone: name})
	return nil
}

func (m *memory) SyncDir(string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.durable, m.pending = maps.Clone(m.names), nil
	m.changed()
	return nil
}

func (n *inode) edit(e edit) {
	n.data = e.apply(n.data)
	n.pending = append(n.pending, e)
}

func (e edit) apply(data []byte) []byte {
	end := e.at + int64(len(e.data))
	data = slices.Clone(data)
	if e.data == nil {
		if int64(len(data)) > e.at {
			return data[:e.at]
		}
		return data
	}
	for int64(len(data)) < end {
		data = append(data, 0)
	}
	copy(data[e.at:], e.data)
	return data
}

// sectors parts a write as a disk does.
func (e edit) sectors() []edit {
	if e.data == nil {
		return []edit{e}
	}
	var parts []edit
	for at, data := e.at, e.data; len(data) > 0; {
		n := min(int64(len(data)), sector-at%sector)
		parts = append(parts, edit{at, data[:n]})
		at, data = at+n, data[n:]
	}
	return parts
}

// copy is the file system as it stands, to be cut off later.
func (m *memory) copy() *memory {
	inodes := map[*inode]*inode{nil: nil}
	of := func(n *inode) *inode {
		if _, seen := inodes[n]; !seen {
			inodes[n] = &inode{n.data, n.durable, slices.Clone(n.pending)}
		}
		return inodes[n]
	}
	c := newMemory()
	for name, n := range m.names {
		c.names[name] = of(n)
	}
	for name, n := range m.durable {
		c.durable[name] = of(n)
	}
	for _, p := range m.pending {
		c.pending = append(c.pending, naming{p.gone, p.name, of(p.n)})
	}
	return c
}

// powerCut gives what is on the disk after the power went: names and sectors not
// yet synced are there or not as chance will have it, in any order.
func (m *memory) powerCut(r *rand.Rand) *memory {
	names := maps.Clone(m.durable)
	for _, change := range m.pending {
		if r.IntN(2) == 0 {
			change.apply(names)
		}
	}
	left := newMemory()
	for _, name := range slices.Sorted(maps.Keys(names)) {
		n := names[name]
		data := n.durable
		var parts []edit
		for _, e := range n.pending {
			parts = append(parts, e.sectors()...)
		}
		if r.IntN(4) != 0 { // a disk mostly keeps the order
			r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		}
		keep := r.IntN(3) // none, some, or nearly all
		for _, p := range parts {
			if keep == 2 && r.IntN(8) != 0 || keep == 1 && r.IntN(2) == 0 {
				data = p.apply(data)
			}
		}
		left.names[name] = &inode{data: data, durable: data}
	}
	left.durable = maps.Clone(left.names)
	return left
}

type memoryFile struct {
	m    *memory
	n    *inode
	name string
	at   int64
}

func (f *memoryFile) Read(b []byte) (int, error) {
	f.m.mu.Lock()
	defer f.m.mu.Unlock()
	if f.at >= int64(len(f.n.data)) {
		return 0, io.EOF
	}
	n := copy(b, f.n.data[f.at:])
	f.at += int64(n)
	return n, nil
}

func (f *memoryFile) Write(b []byte) (int, error) {
	f.m.mu.Lock()
	defer f.m.mu.Unlock()
	f.n.edit(edit{f.at, append([]byte{}, b...)})
	f.at += int64(len(b))
	f.m.changed()
	return len(b), nil
}

func (f *memoryFile) Seek(offset int64, whence int) (int64, error) {
	if whence != io.SeekStart {
		return 0, errors.New("only from the start")
	}
	f.at = offset
	return offset, nil
}

func (f *memoryFile) Truncate(size int64) error {
	f.m.mu.Lock()
	defer f.m.mu.Unlock()
	f.n.edit(edit{at: size})
	f.m.changed()
	return nil
}

func (f *memoryFile) Sync() error {
	f.m.mu.Lock()
	defer f.m.mu.Unlock()
	f.n.durable, f.n.pending = f.n.data, nil
	f.m.changed()
	return nil
}

func (f *memoryFile) Close() error               { return nil }
func (f *memoryFile) Stat() (fs.FileInfo, error) { return memoryInfo{f}, nil }

type memoryInfo struct{ f *memoryFile }

func (i memoryInfo) Name() string       { return filepath.Base(i.f.name) }
func (i memoryInfo) Size() int64        { return int64(len(i.f.n.data)) }
func (i memoryInfo) Mode() fs.FileMode  { return 0o600 }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return false }
func (i memoryInfo) Sys() any           { return nil }

// files are the contents by base name, to be compared and damaged.
func (m *memory) files() map[string][]byte {
	all := map[string][]byte{}
	for path, n := range m.names {
		all[filepath.Base(path)] = n.data
	}
	return all
}

func (m *memory) put(path string, data []byte) {
	m.names[path] = &inode{data: data, durable: data}
	m.durable[path] = m.names[path]
}

// startInMemory makes a logbook as start does, on files in memory; the lock alone
// is a real file.
func startInMemory(t testing.TB) (*Logbook, *memory) {
	t.Helper()
	m := newMemory()
	lb := onMemory(t, m, t.TempDir())
	must(t, lb.create())
	must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: "heron"}, Kind: "car", Aspiration: "natural"}))
	must(t, lb.AddTrack(&Track{Entry: Entry{ID: "saltgrass"}}))
	return lb, m
}

func onMemory(t testing.TB, m *memory, dir string) *Logbook {
	t.Helper()
	n := 0
	lb := newLogbook(dir, Options{
		Now:   func() time.Time { return time.Date(2026, 5, 2, 15, 0, 0, 0, time.UTC) },
		NewID: func(kind byte) string { n++; return fmt.Sprintf("%c%09d", kind, n) },
	})
	lb.fs, lb.pause = m, 0
	return lb
}
