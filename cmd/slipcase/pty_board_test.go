//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/hinshun/vt10x"
)

// newBoard is the board opened on a terminal that can edit.
func newBoard(t testing.TB, cols, rows uint16) *trailer {
	r := newTrailer(t, cols)
	r.rows, r.term = rows, "xterm"
	return r
}

// screen is what a person sees, by a terminal emulator.
func (r *trailer) screen() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	rows := 24
	if r.rows > 0 {
		rows = int(r.rows)
	}
	vt := vt10x.New(vt10x.WithSize(int(r.cols), rows))
	vt.Write(r.all.Bytes())
	var out strings.Builder
	for _, line := range strings.Split(vt.String(), "\n") {
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return strings.TrimRight(out.String(), "\n") + "\n"
}

// prompts counts the prompts of the board so far: each takes pastes in brackets.
func (r *trailer) prompts() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return bytes.Count(r.all.Bytes(), []byte("\x1b[?2004h> "))
}

// waits waits for the nth prompt.
func (r *trailer) waits(n int) {
	r.t.Helper()
	for deadline := time.Now().Add(10 * time.Second); r.prompts() < n; time.Sleep(time.Millisecond) {
		if time.Now().After(deadline) {
			r.t.Fatalf("no prompt:\n%s", r.screen())
		}
	}
}

// line types a line at the prompt of the board, key by key, and waits for the next. It
// returns how many keys it took.
func (r *trailer) line(keys string) int {
	r.t.Helper()
	n, before := r.prompts(), r.keys
	r.clear()
	r.keysOf(keys + enter)
	r.waits(n + 1)
	return r.keys - before
}

// asked types a line that asks a question, and the answer.
func (r *trailer) asked(keys, question, answer string) {
	r.t.Helper()
	n := r.prompts()
	r.clear()
	r.keysOf(keys + enter)
	r.types(question, answer)
	r.waits(n + 1)
}

// golden holds the screen against a file.
func (r *trailer) golden(name string) {
	r.t.Helper()
	path := filepath.Join("testdata", "board", fmt.Sprintf("%s-%dx%d.txt", name, r.cols, r.rows))
	got := r.screen()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			r.t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		r.t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		r.t.Errorf("%s: %s", path, d)
	}
}

// readmeDay are the lines of the README's race day as they are typed at the board.
func readmeDay(t *testing.T) (lines []string) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, day, _ := strings.Cut(string(text), "\n## A race day in five commands\n")
	day, _, _ = strings.Cut(day, "\n## ")
	for _, m := range regexp.MustCompile(`(?m)^\$ slipcase (.*) --logbook log$`).FindAllStringSubmatch(day, -1) {
		if m[1] != "init" {
			lines = append(lines, m[1])
		}
	}
	if len(lines) < 7 {
		t.Fatalf("the README's race day has %d lines", len(lines))
	}
	return lines
}

// TestBoardRaceDay is the race day of the README, key by key at the board, in two windows.
// What it records is what the README's commands record.
func TestBoardRaceDay(t *testing.T) {
	for _, size := range [][2]uint16{{80, 24}, {48, 20}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			r := &trailer{
				t: t, dir: filepath.Join(t.TempDir(), "log"), now: "2026-05-02T20:30",
				cols: size[0], rows: size[1], term: "xterm",
			}
			r.quick("init")
			r.start("")
			r.waits(1)
			r.golden("new")
			for _, line := range readmeDay(t) {
				slip, is := strings.CutPrefix(line, "slip add ")
				if is {
					line = slip // the word is not needed
				}
				line = strings.TrimPrefix(line, "air add ")
				if strings.HasPrefix(line, "track") {
					r.asked(line, "Enter if not known:", enter)
					continue
				}
				r.line(line)
				switch {
				case is:
					r.golden("slip")
				case strings.HasPrefix(line, "dial"), strings.HasPrefix(line, "round"):
					r.golden(strings.Fields(line)[0])
				}
			}
			r.keysOf("\x0c") // a fresh screen
			r.line("")
			r.golden("board")
			r.keysOf("q" + enter)
			r.ends(exitDone)
			plain := &trailer{t: t, dir: filepath.Join(t.TempDir(), "log"), now: r.now}
			for _, line := range append([]string{"init"}, readmeDay(t)...) {
				plain.quick(line)
			}
			cut := func(s string) string { return regexp.MustCompile(`(?m)^[^,]*,`).ReplaceAllString(s, "") }
			if d := cmp.Diff(cut(plain.slips()), cut(r.slips())); d != "" {
				t.Error(d)
			}
		})
	}
}

// TestBoardKeys counts the keys of a slip from the prompt of the board to its Enter, and
// holds what is recorded of it.
func TestBoardKeys(t *testing.T) {
	for _, c := range []struct {
		what, typed, recorded string
		most                  int
	}{
		{
			"a quarter mile: reaction, five times, two speeds, lane, round", "066 1947 5298 8175@8517 10680 12822@10538 L E1",
			",saltgrass,,left,E1,0.066,1.947,5.298,8.175,85.17,10.68,,12.822,105.38,,,,,,", 50,
		},
		{
			"the same of both lanes",
			"066 1947 5298 8175@8517 10680 12822@10538 L E1 d1270 / 051 12430@10940 1240",
			",saltgrass,,left,E1,0.066,1.947,5.298,8.175,85.17,10.68,,12.822,105.38,12.7,,0.051,12.43,12.4,109.4,", 76,
		},
		{
			"an eighth mile", "042 1312 3690 5680@11910 R E1",
			",reedbed,,right,E1,0.042,1.312,3.69,5.68,119.1,,,,,,,,,,", 30,
		},
		{
			"an eighth mile of both lanes", "042 1312 3690 5680@11910 R E1 d568 / 051 5720@11880 572",
			",reedbed,,right,E1,0.042,1.312,3.69,5.68,119.1,,,,,5.68,,0.051,5.72,5.72,118.8,", 56,
		},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := newBoard(t, 80, 24)
			if strings.Contains(c.what, "eighth") {
				r.quick("setup add --from 2026-04-02 --name quick --weight 2400lb --power 620hp --power-at wheels --standard sae --force")
			}
			r.quick("track add reedbed --elevation 90ft --length 660ft")
			r.start("")
			r.waits(1)
			if strings.Contains(c.recorded, "reedbed") {
				r.line("use reedbed")
			} else {
				r.line("use saltgrass")
			}
			r.line("88F 42 28.94")
			n := r.line(c.typed)
			r.sees("in standard air") // the verdict
			t.Logf("%s: %d keys", c.what, n)
			if n > c.most {
				t.Errorf("%d keys, want at most %d", n, c.most)
			}
			r.keysOf(ctrlD)
			r.ends(exitDone)
			if !strings.Contains(r.slips(), c.recorded) {
				t.Errorf("want %s, recorded:\n%s", c.recorded, r.slips())
			}
		})
	}
}
