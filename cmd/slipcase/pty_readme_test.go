//go:build unix

package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// readmeBoard is the board that README.md shows: lines set in, the last one a prompt with what
// is typed at it.
var readmeBoard = regexp.MustCompile(`(?m)((?:^    .+\n)+)    > (.+)\n`)

// TestREADMEBoard opens the board after the race day of README.md and holds it against the
// README, line by line; then it types what the README types there, key by key, and holds what is
// recorded of it.
func TestREADMEBoard(t *testing.T) {
	const path = "../../README.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := readmeBoard.FindSubmatchIndex(text)
	if at == nil {
		t.Fatal("README.md shows no board")
	}
	shown, keys := string(text[at[2]:at[3]]), string(text[at[4]:at[5]])
	r := newBoard(t, 80, 24)
	r.dir, r.now = filepath.Join(t.TempDir(), "log"), "2026-05-02T20:30"
	for _, line := range append([]string{"init"}, readmeDay(t)...) {
		r.quick(line)
	}
	r.start("")
	r.waits(1)
	board, _, _ := strings.Cut(r.screen(), "\n>")
	got := regexp.MustCompile("(?m)^(.+)$").ReplaceAllString(strings.TrimSpace(board), "    $1") + "\n"
	if *update && got != shown {
		if err := os.WriteFile(path, []byte(string(text[:at[2]])+got+string(text[at[3]:])), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if d := cmp.Diff(shown, got); d != "" {
		t.Errorf("the board of README.md: %s", d)
	}
	r.line(keys)
	r.keysOf(ctrlD)
	r.ends(exitDone)
	const want = ",left,E2,0.042,1.912,5.437,8.412,83.77,10.98,,13.212,105.84,12.8,"
	if !strings.Contains(r.slips(), want) {
		t.Errorf("want %s, recorded:\n%s", want, r.slips())
	}
}
