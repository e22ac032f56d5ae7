package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// faulty is a file system on which chosen calls fail.
type faulty struct {
	fileSystem
	calls  int
	from   int // the first call that fails, counted from 0
	until  int // the first that does not fail any more
	how    string
	failed string // the call that failed first
}

// fails counts a call and tells whether it is to fail.
func (f *faulty) fails(what string) error {
	n := f.calls
	f.calls++
	if n < f.from || n >= f.until {
		return nil
	}
	if f.failed == "" {
		f.failed = what
	}
	if f.how == "full" {
		return syscall.ENOSPC
	}
	return syscall.EIO
}

func (f *faulty) Open(name string, flag int) (file, error) {
	if err := f.fails("open"); err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	inner, err := f.fileSystem.Open(name, flag)
	if err != nil {
		return nil, err
	}
	return &faultyFile{inner, f}, nil
}

func (f *faulty) CreateTemp(beside string) (file, string, error) {
	if err := f.fails("create"); err != nil {
		return nil, "", &fs.PathError{Op: "open", Path: beside, Err: err}
	}
	inner, name, err := f.fileSystem.CreateTemp(beside)
	if err != nil {
		return nil, "", err
	}
	return &faultyFile{inner, f}, name, nil
}

func (f *faulty) Rename(from, to string) error {
	return firstError(f.fails("rename"), func() error { return f.fileSystem.Rename(from, to) })
}

func (f *faulty) Remove(name string) error {
	return firstError(f.fails("remove"), func() error { return f.fileSystem.Remove(name) })
}

func (f *faulty) SyncDir(dir string) error {
	return firstError(f.fails("sync of the folder"), func() error { return f.fileSystem.SyncDir(dir) })
}

func firstError(err error, call func() error) error {
	if err != nil {
		return err
	}
	return call()
}

type faultyFile struct {
	file
	f *faulty
}

func (f *faultyFile) Read(b []byte) (int, error) {
	if err := f.f.fails("read"); err != nil {
		return 0, err
	}
	return f.file.Read(b)
}

// Write fails before, in the middle of or after its bytes.
func (f *faultyFile) Write(b []byte) (int, error) {
	err := f.f.fails("write")
	if err == nil {
		return f.file.Write(b)
	}
	part := map[string]int{"none": 0, "short": len(b) / 2, "full": len(b) / 3, "all": len(b)}[f.f.how]
	n, werr := f.file.Write(b[:part])
	if f.f.how == "short" {
		err = nil // a short write without an error
	}
	return n, errors.Join(err, werr)
}

func (f *faultyFile) Sync() error {
	return firstError(f.f.fails("sync"), f.file.Sync)
}

func (f *faultyFile) Truncate(size int64) error {
	return firstError(f.f.fails("truncate"), func() error { return f.file.Truncate(size) })
}

// Close fails as a network file system's does: the file is closed all the same.
func (f *faultyFile) Close() error {
	return errors.Join(f.f.fails("close"), f.file.Close())
}

func (f *faultyFile) Stat() (fs.FileInfo, error) {
	if err := f.f.fails("stat"); err != nil {
		return nil, err
	}
	return f.file.Stat()
}

// Every call of every operation fails in turn: the error is said, the log is as
// before or has the whole of what was recorded, and the next append works.
func TestEachCallFails(t *testing.T) {
	operations := []struct {
		name  string
		marks []string // what it records
		run   func(t *testing.T, lb *Logbook) error
	}{
		{"a slip", []string{"new"}, func(_ *testing.T, lb *Logbook) error { return lb.AddSlips(marked("new", 100)) }},
		{"a batch", []string{"new", "new2"}, func(_ *testing.T, lb *Logbook) error {
			return lb.AddSlips(marked("new", 100), marked("new2", 101))
		}},
		{"an amendment", []string{"new"}, func(_ *testing.T, lb *Logbook) error {
			_, err := lb.AmendSlip("s000000004", func(s *Slip) error { s.Notes = "new"; return nil })
			return err
		}},
		{"a slip behind a torn one", []string{"new"}, func(t *testing.T, lb *Logbook) error {
			tear(t, lb)
			return lb.AddSlips(marked("new", 100))
		}},
		{"a repair", []string{"2 two\nlines"}, func(t *testing.T, lb *Logbook) error {
			tear(t, lb)
			return lb.Repair(func([]Mend) error { return nil })
		}},
		{"a merge", []string{"new", "new2"}, func(t *testing.T, lb *Logbook) error {
			other, m := logOf(t, 3)
			other.newID = NewID
			must(t, other.AddVehicle(&Vehicle{Entry: Entry{ID: "kestrel"}, Kind: "car", Aspiration: "natural"}))
			must(t, other.AddSlips(marked("new", 100), marked("new2", 101)))
			_ = m
			_, err := lb.Merge(other, nil)
			return err
		}},
	}
	runs, stride := 0, campaign(3, 1)
	for _, op := range operations {
		for _, how := range []string{"short", "all", "none", "full"}[:campaign(2, 4)] {
			// One call fails, or all from one on, as on a disk that has gone.
			for _, lasting := range []bool{false, true} {
				first := runs % stride // so that the short form meets them all in some run
				for call := first; ; call += stride {
					lb, m := logOf(t, 3)
					f := &faulty{fileSystem: m, from: call, until: call + 1, how: how}
					if lasting {
						f.until = 1 << 30
					}
					before, bytesBefore := marks(t, lb), m.files()
					lb.fs = f
					err := op.run(t, lb)
					lb.fs = m
					if f.failed == "" {
						break
					}
					runs++
					name := fmt.Sprintf("%s, call %d (%s) fails (%s, lasting %v)", op.name, call, f.failed, how, lasting)
					if tears := strings.Contains(op.name, "torn") || op.name == "a repair"; err != nil && !lasting && !tears {
						takenBack(t, name, lb, m, bytesBefore)
					}
					afterFault(t, name, lb, m, before, op.marks, err)
					if t.Failed() {
						return
					}
				}
			}
		}
	}
	t.Logf("%d faults", runs)
}

// takenBack holds the files against what they were: a writer that failed on a disk
// that goes on working leaves no trace.
func takenBack(t *testing.T, name string, lb *Logbook, m *memory, before map[string][]byte) {
	t.Helper()
	after := m.files()
	for _, path := range dataFiles(m, lb) {
		if file := filepath.Base(path); !bytes.Equal(before[file], after[file]) {
			t.Errorf("%s: %s is not as it was", name, file)
		}
	}
}

// tear cuts the last row of slips.csv, as a crash does.
func tear(t *testing.T, lb *Logbook) {
	t.Helper()
	m, ok := lb.fs.(*memory)
	if f, faulted := lb.fs.(*faulty); faulted {
		m, ok = f.fileSystem.(*memory), true
	}
	if !ok {
		t.Fatal("no files in memory")
	}
	path := lb.path(slips.file)
	data := m.names[path].data
	m.put(path, data[:len(data)-15])
}

func afterFault(
	t *testing.T,
	name string,
	lb *Logbook,
	m *memory,
	before map[string]int,
	recorded []string,
	err error,
) {
	t.Helper()
	fresh := onMemory(t, m, lb.dir)
	fresh.newID = NewID
	after := marks(t, fresh)
	there := 0
	for _, mark := range recorded {
		there += after[mark]
	}
	if err == nil && there != len(recorded) {
		t.Errorf("%s: no error, and %d of %d rows are there", name, there, len(recorded))
	}
	if there != 0 && there != len(recorded) && !fresh.cut() {
		t.Errorf("%s: %d of %d rows are there: %v", name, there, len(recorded), err)
	}
	if err != nil && strings.TrimSpace(err.Error()) == "" {
		t.Errorf("%s: the error says nothing", name)
	}
	must(t, fresh.AddSlips(marked("next", 200)))
	repair(t, fresh)
	final := marks(t, fresh)
	if final["next"] != 1 {
		t.Errorf("%s: the next append is not there", name)
	}
	for mark := range before {
		if final[mark] == 0 && !(strings.HasPrefix(name, "an amendment") && mark == "2 two\nlines") {
			t.Errorf("%s: slip %q was lost", name, mark)
		}
	}
	noneGrave(t, fresh)
}

// cut reports whether a file has a torn end, which is left when its writer could
// not take it back: then the next writer or a repair completes the batch.
func (lb *Logbook) cut() bool {
	c, err := lb.read(slips, nil)
	return err == nil && c.torn()
}

// What the disk cannot take back the error says.
func TestTheErrorSaysWhatIsLeft(t *testing.T) {
	lb, m := logOf(t, 3)
	for call := range 100 {
		f := &faulty{fileSystem: m, from: call, until: 1 << 30, how: "full"}
		lb.fs = f
		err := lb.AddSlips(marked("new", 100))
		// The note of who holds the lock is no loss; the journal's line is.
		if err == nil || f.failed != "write" || !strings.Contains(err.Error(), "writing journal.jsonl") {
			continue
		}
		for _, want := range []string{"not recorded", "no space left", "taking the unfinished row back"} {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%q does not say %q", err, want)
			}
		}
		return
	}
	t.Error("no write failed")
}
