//go:build unix

package logbook

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// A file that is being written has a name that nobody can have put a link at.
func TestWritingFollowsNoLinkBeside(t *testing.T) {
	lb := start(t)
	elsewhere := filepath.Join(t.TempDir(), "elsewhere")
	must(t, os.WriteFile(elsewhere, []byte("not ours\n"), 0o600))
	zip := filepath.Join(t.TempDir(), "season.zip")
	for _, at := range []string{
		lb.path(slips.file) + besideSuffix, lb.path(sheets.file) + besideSuffix,
		zip + besideSuffix,
	} {
		must(t, os.Symlink(elsewhere, at))
	}
	must(t, lb.AddSheet(&Sheet{Name: "spring", At: "wheels", Standard: "sae", PeakHP: slipAt(1, 1, 312).ET1320S}))
	s := slipAt(14, 0, 13.5)
	s.Driver = "me"
	must(t, lb.AddSlips(s))
	_, err := lb.Backup(zip, false)
	must(t, err)
	if data, err := os.ReadFile(elsewhere); err != nil || string(data) != "not ours\n" {
		t.Errorf("what the links point to is now %q, %v", data, err)
	}
}

// What a killed command left is named by a check and removed by a repair, nothing else.
func TestLeftoversOfAKilledCommand(t *testing.T) {
	lb := start(t)
	left := []string{"slips.csv.1234567.new", "slips.csv.new", "journal.jsonl.99.new", "slip-draft.json.5.new"}
	others := []string{"notes.new", "season.zip.12.new", "mine.txt"}
	for _, name := range slices.Concat(left, others) {
		must(t, os.WriteFile(lb.path(name), []byte("half"), 0o600))
	}
	if n := kinds(t, lb)[Leftover]; n != len(left) {
		t.Errorf("a check names %d, want %d", n, len(left))
	}
	noneGrave(t, lb)
	repair(t, lb)
	for _, name := range left {
		if _, err := os.Lstat(lb.path(name)); !os.IsNotExist(err) {
			t.Errorf("%s is still there: %v", name, err)
		}
	}
	for _, name := range others {
		if _, err := os.Lstat(lb.path(name)); err != nil {
			t.Error(err)
		}
	}
}

// What a killed restore was unpacking beside the logbook is named, and left for the racer to
// remove; other folders are not.
func TestLeftoverOfAKilledRestore(t *testing.T) {
	lb := start(t)
	for _, name := range []string{".restore-1234567", ".restore-mine", ".restore-", "2.restore-1234567"} {
		must(t, os.Mkdir(lb.Dir()+name, 0o700))
	}
	must(t, os.WriteFile(lb.Dir()+".restore-99", nil, 0o600))
	check := func() {
		t.Helper()
		fs, err := lb.Check()
		must(t, err)
		fs = slices.DeleteFunc(fs, func(f Finding) bool { return f.Kind != Leftover })
		if len(fs) != 1 || fs[0].File != filepath.Base(lb.Dir())+".restore-1234567" || fs[0].Grave {
			t.Errorf("a check finds %+v", fs)
		}
	}
	check()
	repair(t, lb)
	check()
}

func TestBackupOverTheLogbookItself(t *testing.T) {
	lb := start(t)
	link := filepath.Join(t.TempDir(), "link")
	must(t, os.Symlink(lb.Dir(), link))
	for _, dir := range []string{lb.Dir(), link, lb.Dir() + "/../" + filepath.Base(lb.Dir())} {
		for _, name := range []string{
			slips.file, "SLIPS.CSV", journalFile, metaFile, lockFile, DraftFile, DayFile,
			"mine.csv", "slips.csv.torn-1", "slips.csv.7.new",
		} {
			if _, err := lb.Backup(filepath.Join(dir, name), true); !errors.Is(err, ErrOwnFile) {
				t.Errorf("%s in %s: %v", name, dir, err)
			}
		}
	}
	_, err := lb.Backup(lb.path("season.zip"), false)
	must(t, err)
	noneGrave(t, lb)
}

// The lock file is cut when it is taken: a hard link to something else is refused.
func TestTheLockIsNoHardLink(t *testing.T) {
	lb := start(t)
	precious := filepath.Join(filepath.Dir(lb.Dir()), "precious")
	must(t, os.WriteFile(precious, []byte("letters"), 0o600))
	must(t, os.Remove(lb.path(lockFile)))
	must(t, os.Link(precious, lb.path(lockFile)))
	if err := lb.AddSlips(slipAt(14, 0, 13.5)); err == nil || !strings.Contains(err.Error(), "hard link") {
		t.Errorf("recording: %v", err)
	}
	if data, err := os.ReadFile(precious); err != nil || string(data) != "letters" {
		t.Errorf("it holds %q, %v", data, err)
	}
}

// A pipe in the place of a file is refused at once.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, DraftFile)
	must(t, syscall.Mkfifo(pipe, 0o600))
	if _, err := ReadFile(pipe); err == nil {
		t.Error("a pipe was read")
	}
	elsewhere := filepath.Join(dir, "elsewhere")
	must(t, os.WriteFile(elsewhere, []byte("secret"), 0o600))
	link := filepath.Join(dir, "link")
	must(t, os.Symlink(elsewhere, link))
	if data, err := ReadFile(link); err == nil {
		t.Errorf("a link was read: %q", data)
	}
	must(t, WriteFile(link, []byte("draft")))
	must(t, WriteFile(pipe, []byte("draft")))
	if data, err := os.ReadFile(elsewhere); err != nil || string(data) != "secret" {
		t.Errorf("what the link points to is now %q, %v", data, err)
	}
	for _, path := range []string{link, pipe} {
		if data, err := ReadFile(path); err != nil || string(data) != "draft" {
			t.Errorf("%s: %q, %v", path, data, err)
		}
	}
}

func TestRestoreToALink(t *testing.T) {
	_, file := backedUp(t)
	top := t.TempDir()
	real, link := filepath.Join(top, "real"), filepath.Join(top, "link")
	must(t, os.Mkdir(real, 0o700))
	must(t, os.Symlink(real, link))
	_, err := Restore(file, link, Options{})
	must(t, err)
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is now %v, %v", info, err)
	}
	for _, dir := range []string{real, link} {
		lb, err := Open(dir, Options{})
		must(t, err)
		noneGrave(t, lb)
	}
	nowhere := filepath.Join(top, "nowhere")
	must(t, os.Symlink(filepath.Join(top, "gone"), nowhere))
	if _, err := Restore(file, nowhere, Options{}); err == nil || !strings.Contains(err.Error(), "link to nowhere") {
		t.Errorf("a link to nowhere: %v", err)
	}
}

func TestRestoreToWhereWeStand(t *testing.T) {
	_, file := backedUp(t)
	dir := t.TempDir()
	t.Chdir(dir)
	for _, to := range []string{".", "", dir, "./"} {
		if _, err := Restore(file, to, Options{}); err == nil ||
			!strings.Contains(err.Error(), "the folder you are in: name a new folder, as ") {
			t.Errorf("restoring to %q: %v", to, err)
		}
	}
	_, err := Restore(file, "log", Options{})
	must(t, err)
	if names, err := os.ReadDir(dir); err != nil || len(names) != 1 {
		t.Errorf("left there: %v, %v", names, err)
	}
}
