//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"slipcase/logbook"
)

// interrupted starts a command and sends it SIGINT once the moment has come and
// calls sent while the program stands still with the signal. It gives the exit status and
// what was said.
func interrupted(t *testing.T, env []string, moment func(pid int) bool, sent func(), args ...string) (int, string) {
	t.Helper()
	c := child(t, env, args...)
	var said bytes.Buffer
	c.Stdout, c.Stderr = &said, &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(30 * time.Second); !moment(c.Process.Pid); {
		if time.Now().After(deadline) {
			c.Process.Kill()
			c.Wait()
			t.Fatalf("the moment never came; it said %q", said.String())
		}
	}
	signal := func(s os.Signal) {
		if err := c.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
	}
	signal(syscall.SIGSTOP)
	signal(os.Interrupt)
	sent()
	signal(syscall.SIGCONT)
	status := exitOf(t, c.Wait())
	return status, said.String()
}

// opened reports whether a process has the file open.
func opened(pid int, path string) bool {
	links, err := filepath.Glob(fmt.Sprintf("/proc/%d/fd/*", pid))
	if err != nil || len(links) == 0 {
		return exec.Command("lsof", "-p", fmt.Sprint(pid), path).Run() == nil // where there is no /proc
	}
	for _, link := range links {
		if to, err := os.Readlink(link); err == nil && to == path {
			return true
		}
	}
	return false
}

// TestInterrupt presses Ctrl-C while the program waits to record, for another holds
// the lock: 130, and nothing is recorded.
func TestInterrupt(t *testing.T) {
	dir, env := filled(t, 2)
	other := filepath.Join(t.TempDir(), "other")
	if err := os.CopyFS(other, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	writeSlips(t, other, 1, 20)
	before, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "logbook.lock")
	lock := flock.New(path)
	if err := lock.Lock(); err != nil {
		t.Fatal(err)
	}
	defer lock.Close()
	for _, args := range [][]string{{"slip", "add", "--vehicle", "heron", "--1320", "13.2"}, {"merge", other}} {
		waits := func(pid int) bool { return opened(pid, path) }
		if status, said := interrupted(t, env, waits, func() {}, args...); status != exitInterrupted ||
			strings.Contains(said, "recorded:") {
			t.Errorf("%v: status %d, want %d; said %q", args, status, exitInterrupted, said)
		}
	}
	after, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	for name, sum := range merged(before, after) {
		if before[name] != sum {
			t.Errorf("%s was changed", name)
		}
	}
}

// TestInterruptedMerge presses Ctrl-C while a merge writes, which shows by the journal
// having grown when the slips have not: all of it is recorded all the same.
func TestInterruptedMerge(t *testing.T) {
	leftToFullRun(t)
	dir, env := filled(t, 1)
	other := filepath.Join(t.TempDir(), "other")
	if err := os.CopyFS(other, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	const more = 4000
	writeSlips(t, other, 1, more)
	for try := 1; ; try++ {
		copied := filepath.Join(t.TempDir(), "log")
		if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
		size := func(name string) int64 {
			info, err := os.Stat(filepath.Join(copied, name))
			if err != nil {
				t.Fatal(err)
			}
			return info.Size()
		}
		journal, slips := size("journal.jsonl"), size("slips.csv")
		midway := false
		writes := func(int) bool { return size("journal.jsonl") > journal }
		sent := func() { midway = size("slips.csv") == slips }
		status, said := interrupted(t, append(env, "SLIPCASE_LOGBOOK="+copied), writes, sent, "merge", other)
		// It may have answered before it comes to heed the signal that waited.
		if status != exitInterrupted && status != exitDone {
			t.Errorf("try %d, midway %v: status %d", try, midway, status)
		}
		if told := strings.Contains(said, "recorded: 4000 slips"); told != (status == exitInterrupted) {
			t.Errorf("try %d, midway %v: status %d, said %q", try, midway, status, said)
		}
		lb, err := logbook.Open(copied, logbook.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := lb.Slips("")
		if err != nil {
			t.Fatal(err)
		}
		if len(lb.Problems()) > 0 || len(got) != 1+more {
			t.Errorf("try %d, midway %v: %d slips, %v", try, midway, len(got), lb.Problems())
		}
		if midway {
			return
		}
		if try == 20 {
			t.Fatal("no try was interrupted midway")
		}
	}
}
