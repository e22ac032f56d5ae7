package logbook

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"runtime/debug"
	"testing"
	"time"

	"slipcase/weather/units"
)

// campaign is the size of a campaign, or the step in which it goes: the full one with
// SLIPCASE_CAMPAIGN=1, run with -timeout 0; else one that suits every day, and with
// -short an eighth of that, in steps 24 times as wide.
func campaign(daily, full int) int {
	switch {
	case os.Getenv("SLIPCASE_CAMPAIGN") == "1":
		return full
	case !testing.Short():
		return daily
	case daily > full: // a step
		return 24 * daily
	}
	return max(1, daily/8)
}

// widerInShort is the step of a test that with -short looks at some of what it looks at else.
func widerInShort(step int) int {
	if testing.Short() {
		return step
	}
	return 1
}

// leftToFullRun skips a test where only what is quick is wanted.
func leftToFullRun(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
}

// aThird of some cases is looked at with -short.
func aThird[T any](cases []T) (some []T) {
	for i, c := range cases {
		if i%widerInShort(3) == 0 {
			some = append(some, c)
		}
	}
	return some
}

// children are what the test binary does instead of testing, when a campaign
// starts it again as a process of its own.
var children = map[string]func(args []string) error{}

func TestMain(m *testing.M) {
	if flag.Parse(); testing.Short() {
		debug.SetGCPercent(400) // what is soon over need not tidy up
		// In memory where there is a place for it: a record waits for the disk.
		if _, err := os.Stat("/dev/shm"); err == nil && os.Getenv("TMPDIR") == "" {
			os.Setenv("TMPDIR", "/dev/shm")
		}
	}
	if child, ok := children[os.Getenv("SLIPCASE_CHILD")]; ok {
		if err := child(os.Args[1:]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func childProcess(name string, args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], args...)
	c.Env = append(os.Environ(), "SLIPCASE_CHILD="+name)
	c.Stderr = os.Stderr
	return c
}

// marked is a slip that can be told from all others by its note.
func marked(mark string, n int) *Slip {
	return &Slip{
		Vehicle: "heron", Track: "saltgrass", Time: Time{time.Date(2026, 5, 2, 8, 0, n, 0, time.UTC)},
		ET1320S: units.Some(10 + float64(n%5000)/1000), Notes: mark,
	}
}

// marks are the notes of the slips that stand.
func marks(t testing.TB, lb *Logbook) map[string]int {
	t.Helper()
	all, err := lb.Slips("")
	must(t, err)
	m := map[string]int{}
	for _, s := range all {
		m[s.Notes]++
	}
	return m
}

// noneGrave fails when a check finds anything lost or ambiguous.
func noneGrave(t testing.TB, lb *Logbook) {
	t.Helper()
	for _, f := range grave(t, lb) {
		t.Errorf("check: %s", f)
	}
}

func grave(t testing.TB, lb *Logbook) []Finding {
	t.Helper()
	all, err := lb.Check()
	must(t, err)
	var g []Finding
	for _, f := range all {
		if f.Grave {
			g = append(g, f)
		}
	}
	return g
}

func repair(t testing.TB, lb *Logbook) []Mend {
	t.Helper()
	var done []Mend
	must(t, lb.Repair(func(m []Mend) error { done = m; return nil }))
	return done
}
