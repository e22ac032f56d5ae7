//go:build unix

package main

import (
	"bytes"
	"cmp"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"slipcase/logbook"
)

// trailer is a laptop in the trailer: the program in a real terminal, and a racer who
// types one key at a time and reads what is there.
type trailer struct {
	t       testing.TB
	dir     string // of the logbook
	now     string
	cols    uint16
	rows    uint16   // 24 where it is not said
	term    string   // what the terminal calls itself; dumb where it is not said
	more    []string // of the environment
	tty     *os.File
	program *exec.Cmd
	ended   chan error

	mu      sync.Mutex
	seen    bytes.Buffer // since the last key
	all     bytes.Buffer
	keys    int
	lastKey time.Time
}

func newTrailer(t testing.TB, cols uint16) *trailer {
	r := &trailer{t: t, dir: filepath.Join(t.TempDir(), "log"), now: "2026-05-02T14:25", cols: cols}
	for _, line := range []string{
		"init",
		"vehicle add heron --kind car --aspiration natural",
		"track add saltgrass --elevation 812ft --length 1320ft",
		"setup add --from 2026-04-01 --name stock --weight 3450lb --power 312hp --power-at wheels --standard sae",
	} {
		r.quick(line)
	}
	return r
}

func (r *trailer) env() []string {
	return append([]string{
		"SLIPCASE_LOGBOOK=" + r.dir, "SLIPCASE_TEST_NOW=" + r.now, "TERM=" + cmp.Or(r.term, "dumb"),
	}, r.more...)
}

// quick runs a command outside the terminal.
func (r *trailer) quick(line string) string {
	r.t.Helper()
	words, err := splitWords(line)
	if err != nil {
		r.t.Fatal(err)
	}
	if testing.Short() {
		here, err := os.Getwd()
		if err != nil {
			r.t.Fatal(err)
		}
		a := order{Dir: here, Env: childEnv(r.env()), Args: words}.answered(r.t)
		if a.Status != exitDone {
			r.t.Fatalf("%s: status %d\n%s%s", line, a.Status, a.Out, a.Err)
		}
		return string(a.Out) + string(a.Err)
	}
	out, err := child(r.t, r.env(), words...).CombinedOutput()
	if err != nil {
		r.t.Fatalf("%s: %v\n%s", line, err, out)
	}
	return string(out)
}

// start starts a command in the terminal.
func (r *trailer) start(line string) {
	r.t.Helper()
	words, err := splitWords(line)
	if err != nil {
		r.t.Fatal(err)
	}
	r.program = child(r.t, r.env(), words...)
	r.seen.Reset()
	r.all.Reset()
	r.keys = 0
	if r.tty, err = pty.StartWithSize(r.program, &pty.Winsize{Rows: cmp.Or(r.rows, 24), Cols: r.cols}); err != nil {
		r.t.Fatal(err)
	}
	r.ended = make(chan error, 1)
	tty, program := r.tty, r.program
	go func() {
		buf := make([]byte, 4096)
		for {
			n, err := tty.Read(buf)
			r.mu.Lock()
			r.seen.Write(buf[:n])
			r.all.Write(buf[:n])
			r.mu.Unlock()
			if err != nil {
				r.ended <- program.Wait()
				return
			}
		}
	}()
}

func (r *trailer) text() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return strings.ReplaceAll(r.seen.String(), "\r\n", "\n")
}

// sees waits until a text is on the screen.
func (r *trailer) sees(want string) {
	r.t.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		if strings.Contains(strings.Join(strings.Fields(r.text()), " "), strings.TrimSpace(want)) {
			return
		}
	}
	r.t.Fatalf("%q does not appear:\n%s", want, r.text())
}

// types waits for a prompt and types an answer, key by key.
func (r *trailer) types(prompt, keys string) {
	r.t.Helper()
	r.sees(prompt)
	r.clear()
	r.keysOf(keys)
}

// clear forgets what was seen.
func (r *trailer) clear() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.seen.Reset()
}

// keysOf types keys, each counted.
func (r *trailer) keysOf(keys string) {
	r.t.Helper()
	for _, k := range []byte(keys) {
		if _, err := r.tty.Write([]byte{k}); err != nil {
			r.t.Fatal(err)
		}
		r.keys++
		r.lastKey = time.Now()
	}
}

// ends waits for the program to end, with a status.
func (r *trailer) ends(status int) {
	r.t.Helper()
	select {
	case <-r.ended:
	case <-time.After(30 * time.Second):
		r.program.Process.Kill()
		r.t.Fatalf("it does not end:\n%s", r.text())
	}
	r.tty.Close()
	if got := r.program.ProcessState.ExitCode(); got != status {
		r.t.Errorf("exit status %d, want %d:\n%s", got, status, r.text())
	}
}

// fits holds that every line so far is within the window.
func (r *trailer) fits() {
	r.t.Helper()
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, line := range strings.Split(strings.ReplaceAll(r.all.String(), "\r\n", "\n"), "\n") {
		if n := len([]rune(line)); n > int(r.cols) {
			r.t.Errorf("%d columns in a window of %d: %q", n, r.cols, line)
		}
	}
}

func (r *trailer) draft() bool {
	_, err := os.Stat(filepath.Join(r.dir, logbook.DraftFile))
	return err == nil
}

func (r *trailer) slips() string {
	data, err := os.ReadFile(filepath.Join(r.dir, "slips.csv"))
	if err != nil {
		r.t.Fatal(err)
	}
	return string(data)
}
