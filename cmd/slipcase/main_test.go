package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

// TestMain makes the test binary the program too, when it is started by the name
// slipcase: in scripts, and as a child of the tests that need a process.
func TestMain(m *testing.M) {
	testscript.Main(shift{m}, map[string]func(){"slipcase": heldMain})
}

// shift is the tests. Their folders are in memory where there is a place for it, since a
// record waits for the disk; benchmarks wait for it too. After them the clerks go home.
type shift struct{ *testing.M }

func (s shift) Run() int {
	if flag.Parse(); testing.Short() {
		debug.SetGCPercent(400)  // what is soon over need not tidy up,
		os.Setenv("GOGC", "400") // nor need the processes that it starts
	}
	_, err := os.Stat("/dev/shm")
	if err == nil && os.Getenv("TMPDIR") == "" && flag.Lookup("test.bench").Value.String() == "" {
		os.Setenv("TMPDIR", "/dev/shm")
	}
	defer func() {
		for len(idle) > 0 {
			(<-idle).leave()
		}
	}()
	return s.M.Run()
}

// heldMain is main with the clock and the ids held by the environment.
func heldMain() {
	if os.Getenv(asClerk) != "" {
		if err := clerk(os.Stdin, os.Stdout); err != nil {
			panic(err)
		}
		return
	}
	ctx := tty.Heed(context.Background())
	if os.Getenv("SLIPCASE_TEST_READY") != "" {
		fmt.Fprintln(os.Stderr, "ready") // for a signal
	}
	a := heldApp(os.Stdin, os.Stdout, os.Stderr)
	run := func(args []string) int { return a.run(ctx, args) }
	switch dir := os.Getenv("SLIPCASE_TEST_SHADOWS"); {
	case os.Getenv("SLIPCASE_TEST_TTY") != "":
		// A script's terminal is the controlling one; its standard output is not.
		tty, err := os.OpenFile("/dev/tty", os.O_RDWR, 0)
		if err != nil {
			panic(err)
		}
		a.out = tty
	case dir != "":
		run = func(args []string) int { return withShadows(ctx, dir, a, args) }
	}
	os.Exit(tty.Finish(ctx, func() int { return run(os.Args[1:]) }))
}

func heldApp(in io.Reader, out, errOut io.Writer) *app {
	a := &app{in: in, out: out, errOut: errOut, now: time.Now, newID: logbook.NewID}
	if text := os.Getenv("SLIPCASE_TEST_NOW"); text != "" {
		now, err := time.ParseInLocation("2006-01-02T15:04", text, time.Local)
		if err != nil {
			panic(err)
		}
		a.now = func() time.Time { return now }
		if path := os.Getenv("SLIPCASE_TEST_CLOCK"); path != "" { // a clock that jumps while the program runs
			a.now = func() time.Time {
				text, _ := os.ReadFile(path)
				if at, err := time.ParseInLocation("2006-01-02T15:04", string(text), time.Local); err == nil {
					return at
				}
				return now
			}
		}
		made := 0
		a.newID = func(kind byte) string { made++; return countedID(kind, a.dir, made) }
	}
	return a
}

// countedID makes the same ids in each run of a script: they count what was
// recorded before, and the counter is in the three characters that pick an entry.
func countedID(kind byte, dir string, made int) string {
	const digits = "abcdefghijklmnopqrstuvwxyz234567"
	journal, _ := os.ReadFile(filepath.Join(dir, "journal.jsonl"))
	n := strings.Count(string(journal), "\n") + made
	return string([]byte{kind, digits[n/32%32], digits[n%32]}) + "aaaaaaa"
}

func TestScripts(t *testing.T) {
	params := testscript.Params{
		Dir:                 "testdata/script",
		WorkdirRoot:         t.TempDir(),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("GOGC", "400") // a command that is soon over need not tidy up
			env.Setenv("TZ", "UTC")
			env.Setenv("HOME", filepath.Join(env.WorkDir, "home"))
			env.Setenv("SLIPCASE_LOGBOOK", filepath.Join(env.WorkDir, "log"))
			env.Setenv("SLIPCASE_TEST_NOW", "2026-05-02T18:00")
			env.Setenv("ESC", "\x1b")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status, "refused": refused, "mend": mend, "oddbook": oddbook,
		},
	}
	if testing.Short() {
		toClerks(t, &params)
	} else {
		withShadowsOf(t, &params)
	}
	testscript.Run(t, params)
}

// status runs a command that must end with a status: status 2 slipcase forecast.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("status tells of failure by its number")
	}
	held(ts, args)
}

// held runs a command that must end with a status, and gives what it wrote.
func held(ts *testscript.TestScript, args []string) (out, errOut string) {
	if len(args) < 2 {
		ts.Fatalf("usage: status N command [args]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got, out, errOut := ran(ts, args[1:])
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
	return out, errOut
}

// ran runs a command, in a process of its own where no clerk is named.
func ran(ts *testscript.TestScript, args []string) (status int, out, errOut string) {
	if args[0] == "clerk" {
		return deskOf(ts).ask(ts, args[1:])
	}
	err := ts.Exec(args[0], args[1:]...)
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		status, err = exit.ExitCode(), nil
	}
	ts.Check(err)
	return status, ts.ReadFile("stdout"), ts.ReadFile("stderr")
}

// refused is status for a command that must say so in one line or two on standard
// error alone, and must change no file in the script's folder.
func refused(ts *testscript.TestScript, neg bool, args []string) {
	work := ts.Getenv("WORK")
	before, err := contents(work)
	ts.Check(err)
	out, said := held(ts, args)
	after, err := contents(work)
	ts.Check(err)
	for name := range maps.Keys(merged(before, after)) {
		if before[name] != after[name] {
			ts.Fatalf("%s was changed by a command that was refused", name)
		}
	}
	if out != "" {
		ts.Fatalf("an answer beside the refusal: %q", out)
	}
	if note, rest, ok := strings.Cut(said, "\n"); ok && strings.HasPrefix(note, "note: ") {
		said = rest // what the file lacks is told with every answer
	}
	if !strings.HasPrefix(said, "slipcase: ") || strings.Count(said, "\n") > 2 {
		ts.Fatalf("want one line and at most a hint, got %q", said)
	}
}

func merged(a, b map[string]string) map[string]string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// contents is what every file under a folder holds, as name to hash; the lock
// file, which holds no data, is left out.
func contents(dir string) (map[string]string, error) {
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Base(path) == "logbook.lock" {
			return err
		}
		data, err := os.ReadFile(path)
		files[path] = fmt.Sprintf("%x", sha256.Sum256(data))
		return err
	})
	return files, err
}

// leftToFullRun skips a test where only what is quick is wanted.
func leftToFullRun(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
}

// child is the program as a process of its own.
func child(tb testing.TB, env []string, args ...string) *exec.Cmd {
	tb.Helper()
	path, err := exec.LookPath("slipcase")
	if err != nil {
		tb.Fatal(err)
	}
	c := exec.Command(path, args...)
	c.Env = childEnv(env)
	return c
}

func childEnv(more []string) []string { return slices.Concat(os.Environ(), []string{"TZ=UTC"}, more) }

// mend puts one text in the place of another in a file.
func mend(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: mend was is file")
	}
	path := ts.MkAbs(args[2])
	data, err := os.ReadFile(path)
	ts.Check(err)
	if !strings.Contains(string(data), args[0]) {
		ts.Fatalf("%s has no %s", args[2], args[0])
	}
	ts.Check(os.WriteFile(path, []byte(strings.ReplaceAll(string(data), args[0], args[1])), 0o644))
}
