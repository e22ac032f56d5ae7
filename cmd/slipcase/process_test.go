//go:build unix

package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// filled is a logbook with one vehicle and some slips.
func filled(t *testing.T, slips int) (dir string, env []string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "log")
	env = []string{"SLIPCASE_LOGBOOK=" + dir}
	for _, args := range [][]string{{"init"}, {"vehicle", "add", "heron"}} {
		if out, err := child(t, env, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
	}
	writeSlips(t, dir, 1, slips)
	return dir, env
}

// TestClosedPipe is slip list | head -1: the reader that goes away is no failure.
func TestClosedPipe(t *testing.T) {
	leftToFullRun(t)
	t.Parallel()
	_, env := filled(t, 120)
	for _, format := range []string{"table", "csv", "json", "markdown"} {
		c := child(t, env, "slip", "list", "--last", "0", "--format", format)
		var errOut bytes.Buffer
		c.Stderr = &errOut
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := bufio.NewReaderSize(out, 16).ReadString('\n'); err != nil {
			t.Errorf("%s: no first line: %v", format, err)
		}
		out.Close()
		if err := c.Wait(); err != nil || errOut.Len() > 0 {
			t.Errorf("%s: %v, on standard error %q", format, err, errOut.String())
		}
	}
	// A pipe closed before anything was written.
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	c := child(t, env, "slip", "list", "--last", "0")
	c.Stdout = w
	err = c.Run()
	w.Close()
	if err != nil {
		t.Errorf("a pipe closed from the start: %v", err)
	}
}

// TestFullDisk: an answer that cannot be written is a failure, unlike a closed pipe.
func TestFullDisk(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	_, env := filled(t, 3)
	c := child(t, env, "slip", "list", "--last", "0")
	c.Stdout = full
	var errOut bytes.Buffer
	c.Stderr = &errOut
	if status := exitOf(t, c.Run()); status != exitCould || !strings.Contains(errOut.String(), "no space left") {
		t.Errorf("status %d, said %q", status, errOut.String())
	}
}

// TestReadOnly: a logbook that may be read and not written. Root may write
// anything, so the program runs as nobody when root runs the tests.
func TestReadOnly(t *testing.T) {
	dir, env := filled(t, 2)
	program := unprivilegedProgram(t)
	for path := dir; path != os.TempDir() && path != "/"; path = filepath.Dir(path) {
		if err := os.Chmod(path, 0o755); err != nil {
			break // a folder above the test's own
		}
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := os.Chmod(f, 0o444); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
	before, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) (int, string, string) {
		c := exec.Command(program, args...)
		c.Env, c.Dir = append(os.Environ(), env...), "/"
		if os.Geteuid() == 0 {
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		var out, errOut bytes.Buffer
		c.Stdout, c.Stderr = &out, &errOut
		return exitOf(t, c.Run()), out.String(), errOut.String()
	}
	if status, out, said := run("slip", "list"); status != exitDone || strings.Count(out, "heron") != 2 {
		t.Errorf("reading: status %d\n%s%s", status, out, said)
	}
	for _, args := range [][]string{
		{"slip", "add", "--1320", "13.2"},
		{"slip", "amend", "last", "--1320", "13.2"},
		{"slip", "void", "last"},
		{"vehicle", "add", "wren"},
		{"track", "add", "saltgrass", "--elevation", "812ft"},
		{"setup", "add", "--weight", "3450"},
		{"init", "--logbook", filepath.Join(dir, "new")},
	} {
		status, out, said := run(args...)
		if status != exitCould || out != "" || !strings.Contains(said, "permission denied") || !strings.Contains(said, dir) {
			t.Errorf("%v: status %d, answer %q, said %q", args, status, out, said)
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

// unprivilegedProgram copies the program to where anyone may run it: the folders
// that go test makes are the tester's own.
func unprivilegedProgram(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("slipcase")
	if err != nil {
		t.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "slipcase-anyone-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	from, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	to, err := os.OpenFile(filepath.Join(dir, "slipcase"), os.O_WRONLY|os.O_CREATE, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	_, err = io.Copy(to, from)
	if cerr := to.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		t.Fatal(err)
	}
	return to.Name()
}

// exitOf is the exit status of a process that ran.
func exitOf(t *testing.T, err error) int {
	t.Helper()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &exit):
		return exit.ExitCode()
	}
	t.Fatal(err)
	return -1
}

// TestRecordedUnseen: a slip whose answer cannot be written is recorded, and told to be.
func TestRecordedUnseen(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full here")
	}
	defer full.Close()
	dir, env := filled(t, 3)
	for i, args := range [][]string{
		{"slip", "add", "--1320", "13.212@105.84"},
		{"slip", "amend", "last", "--1320", "13.213@105.84"},
		{"slip", "void", "last"},
		{"vehicle", "add", "wren"},
	} {
		c := child(t, env, args...)
		c.Stdout = full
		var errOut bytes.Buffer
		c.Stderr = &errOut
		status, said := exitOf(t, c.Run()), errOut.String()
		want := "  recorded: " + []string{"slip ", "slip ", "slip ", "vehicle wren"}[i]
		if status != exitCould || !strings.Contains(said, "slipcase: recorded, but it could not be shown: ") ||
			!strings.Contains(said, want) {
			t.Errorf("%v: status %d, said %q", args, status, said)
		}
	}
	slips, err := os.ReadFile(filepath.Join(dir, "slips.csv"))
	if err != nil || strings.Count(string(slips), "\n") != 1+3+3 {
		t.Errorf("%v, %s", err, slips)
	}
}
