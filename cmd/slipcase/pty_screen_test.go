//go:build unix

package main

import (
	"strings"
	"testing"
)

// whole holds that what is on the screen is within the window, with a line for the
// next prompt, and has all of these.
func (r *trailer) whole(has ...string) {
	r.t.Helper()
	r.fits()
	text := strings.TrimRight(r.text(), "\n")
	if n := strings.Count(text, "\n") + 1; n > 23 {
		r.t.Errorf("%d lines in a window of 24 at %d columns:\n%s", n, r.cols, text)
	}
	said := strings.Join(strings.Fields(text), " ")
	for _, want := range has {
		if !strings.Contains(said, want) {
			r.t.Errorf("at %d columns it lacks %q:\n%s", r.cols, want, text)
		}
	}
}

// TestVerdictIsWhole: the verdict of the first slip of all, with its cautions, and that
// of one among others, seen again: on one screen, the least needed lines left out and
// told.
func TestVerdictIsWhole(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 80)
	r.quick("air add 88F 42 28.94")
	r.start("slip add .042 1.912 5.437 8.412@83.77 10.980 13.212@105.84 left T1")
	r.ends(exitDone)
	r.whole(
		"reaction .042",
		"13.212 @ 105.84",
		"in standard air",
		"1000 10.980",
		"here, now",
		"dial 1",
		"caution",
		"lines left out: a taller window shows all",
	)
	r.now = "2026-05-02T15:30"
	for i, line := range []string{
		"slip add 14:50 .051 1.915 5.441 8.416@83.74 10.985 13.217@105.80 left T2",
		"slip add 15:10 .031 1.911 5.436 8.411@83.78 10.979 13.210@105.85 left T3",
	} {
		r.quick(line)
		for _, cols := range []uint16{80, 48} {
			r.cols = cols
			r.start("slip show last")
			r.ends(exitDone)
			want := []string{"launch", "middle", "top end", "in standard air"}
			if i > 0 {
				want = append(want, "than forecast:")
			}
			r.whole(want...)
		}
	}
	// Without a terminal nothing is left out.
	if out := r.quick("slip show last"); strings.Contains(out, "left out: a taller") ||
		!strings.Contains(out, "this slip alone") {
		t.Errorf("in a pipe:\n%s", out)
	}
}

// TestNarrowScreens: a list keeps what the entries are called by; errors and help are
// broken at blanks alone.
func TestNarrowScreens(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 48)
	r.quick("slip add .042 1.912 5.437 8.412@83.77 10.980 13.212@105.84 left T1")
	for _, c := range []struct {
		line   string
		status int
		has    string
	}{
		{"slip list", exitDone, "id time ET diff"},
		{"slip add blah", exitUsage, `"blah" is no part of a slip: want times as .042 1.912 5.437 8.412@83.77 10.980`},
		{"slip add 14:00 .051 1.915 5.441 8.416@83.74 10.985 14.217@105.80", exitImplausible, "check what was typed; --force takes it as it is"},
		{"slip add --help", exitDone, "On a line also: left, won, lifted 600ft, E1, dial 13.25 or d1325, L, dq, bye"},
		{"help dial", exitDone, "Exit status: 0 done"},
	} {
		r.start(c.line)
		r.ends(c.status)
		r.fits()
		if said := strings.Join(strings.Fields(r.text()), " "); !strings.Contains(said, c.has) {
			t.Errorf("%s lacks %q:\n%s", c.line, c.has, r.text())
		}
	}
}
