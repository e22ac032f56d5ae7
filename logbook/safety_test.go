package logbook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/gofrs/flock"
)

// No file of the logbook is written or read through a link that somebody put there.
func TestLinksAreRefused(t *testing.T) {
	for _, name := range []string{slips.file, journalFile, lockFile, slips.file + ".torn", metaFile} {
		lb := start(t)
		elsewhere := filepath.Join(t.TempDir(), "elsewhere")
		must(t, os.WriteFile(elsewhere, []byte("not ours\n"), 0o600))
		os.Remove(lb.path(name))
		must(t, os.Symlink(elsewhere, lb.path(name)))
		_, openErr := Open(lb.Dir(), Options{})
		addErr := lb.AddSlips(slipAt(14, 0, 13.5))
		if name == slips.file+".torn" {
			must(t, addErr) // a name that we do not use
		} else if name == metaFile {
			if openErr == nil || !strings.Contains(openErr.Error(), "link") {
				t.Errorf("%s: opening: %v", name, openErr)
			}
		} else if addErr == nil || !strings.Contains(addErr.Error(), "link") {
			t.Errorf("%s: recording: %v", name, addErr)
		}
		if data, err := os.ReadFile(elsewhere); err != nil || string(data) != "not ours\n" {
			t.Errorf("%s: what it points to is now %q, %v", name, data, err)
		}
	}
}

// A writer that waits in vain says who holds the lock, and has changed nothing.
func TestLockHeldByAnother(t *testing.T) {
	lb := start(t)
	lock := flock.New(lb.path(lockFile))
	must(t, lock.Lock())
	defer lock.Close()
	lb.patience = 30 * time.Millisecond
	before, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	err = lb.AddSlips(slipAt(14, 0, 13.5))
	if err == nil || !strings.Contains(err.Error(), "another program (process ") ||
		!strings.Contains(err.Error(), "try again") {
		t.Errorf("the error is %v", err)
	}
	if after, err := os.ReadFile(lb.path(slips.file)); err != nil || string(after) != string(before) {
		t.Errorf("slips.csv was changed: %v", err)
	}
	if _, err := lb.Slips(""); err != nil {
		t.Errorf("a reader waits for the lock: %v", err)
	}
}

func TestTextTooLong(t *testing.T) {
	lb := start(t)
	s := slipAt(14, 0, 13.5)
	s.Notes = strings.Repeat("x", 1<<20)
	if err := lb.AddSlips(s); err == nil || !strings.Contains(err.Error(), "the most is 10000") {
		t.Errorf("a note of 1 MB: %v", err)
	}
}

func TestFilesThatCannotBeRead(t *testing.T) {
	for _, tc := range []struct{ name, file, want string }{
		{"no id column", "rev,status,time,vehicle\n1,fact,,\n", `line 1: column "id" is missing`},
		{"a column twice", "id,rev,status,time,vehicle,notes,notes\ns1,1,fact,,,,\n", `line 1: column "notes" is there twice`},
		{"an open quote in the header", "id,rev,\"status\ns1,1,fact\n", "the header row"},
		{"nothing", "", "the header row is cut off"},
		{"half a header", "id,rev,sta", "the header row is cut off"},
		{"half a header that ends as a column before", strings.Split(string(slips.header()), "_temp_f,full")[0], "the header row is cut off"},
	} {
		lb := start(t)
		must(t, os.WriteFile(lb.path(slips.file), []byte(tc.file), 0o600))
		if _, err := lb.Slips(""); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v, want %q", tc.name, err, tc.want)
		}
		if err := lb.AddSlips(slipAt(14, 0, 13.5)); err == nil {
			t.Errorf("%s: a slip was appended", tc.name)
		}
		able := strings.Contains(tc.want, "cut off")
		if err := lb.Repair(func([]Mend) error { return nil }); (err == nil) != able ||
			err != nil && !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: the repair says %v", tc.name, err)
		}
		again, err := os.ReadFile(lb.path(slips.file))
		must(t, err)
		if repaired := string(again) == string(slips.header()); repaired != able {
			t.Errorf("%s: after the repair the file is %q", tc.name, again)
		}
	}
}
