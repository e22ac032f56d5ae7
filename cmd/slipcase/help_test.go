package main

import (
	"bytes"
	"io"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// TestHelp holds every command to what help owes: what it does, how it is typed,
// with which status it ends.
func TestHelp(t *testing.T) {
	a := &app{in: strings.NewReader(""), out: io.Discard, errOut: io.Discard, now: time.Now, newID: logbook.NewID}
	walked := 0
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		walked++
		t.Run(strings.ReplaceAll(c.CommandPath(), " ", "_"), func(t *testing.T) {
			status, out, errOut := runLine(t, append(strings.Fields(c.CommandPath())[1:], "--help")...)
			if status != exitDone || errOut != "" {
				t.Errorf("status %d, on standard error %q", status, errOut)
			}
			for _, want := range []string{"Exit status: 0 done", "130 interrupted", "\nExamples:\n  slipcase"} {
				if !strings.Contains(out, want) {
					t.Errorf("the help lacks %q:\n%s", want, out)
				}
			}
			for _, line := range strings.Split(c.Example, "\n") {
				checkExample(t, line, units.US)
				checkExample(t, line, units.Metric)
			}
			for _, line := range strings.Split(units.Examples(units.US, c.Long), "\n") {
				if len(line) > 92 {
					t.Errorf("a line of %d characters: %s", len(line), line)
				}
			}
		})
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(a.command())
	if walked < 30 {
		t.Errorf("%d commands walked", walked)
	}
}

// checkExample holds that an example names a command that exists, with flags that
// it has.
func checkExample(t *testing.T, line string, bare units.System) {
	t.Helper()
	root := (&app{out: io.Discard, errOut: io.Discard}).command()
	line = units.Examples(bare, line)
	words, err := splitWords(strings.ReplaceAll(strings.TrimSpace(line), `\"`, ""))
	if err != nil || len(words) == 0 || words[0] != "slipcase" {
		t.Errorf("example %q: %v", line, err)
		return
	}
	c, rest, err := root.Find(bareMinus(root, words[1:]))
	if err != nil {
		t.Errorf("example %q: %v", line, err)
		return
	}
	if err := c.ParseFlags(rest); err != nil {
		t.Errorf("example %q: %v", line, err)
	} else if err := readFlags(c, bare); err != nil {
		t.Errorf("example %q: %v", line, err)
	} else if err := c.ValidateArgs(c.Flags().Args()); err != nil {
		t.Errorf("example %q: %v", line, err)
	}
}

// runLine runs one command line in this process.
func runLine(t testing.TB, args ...string) (status int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	a := &app{in: strings.NewReader(""), out: &o, errOut: &e, now: time.Now, newID: logbook.NewID}
	status = a.run(t.Context(), args)
	return status, o.String(), e.String()
}

// TestPitHelp holds the help of what is typed between rounds to one screen, 80 x 24
// with a line left for the next prompt.
func TestPitHelp(t *testing.T) {
	metric := logIn(t, units.Metric)
	for _, line := range []string{"slip add", "air add", "dial"} {
		_, out, _ := runLine(t, append(strings.Fields(line), "--help")...)
		_, other, _ := runLine(t, append(strings.Fields(line), "--help", "--logbook", metric)...)
		lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
		if len(lines) > 23 {
			t.Errorf("%s: %d lines", line, len(lines))
		}
		for _, l := range append(lines, strings.Split(other, "\n")...) {
			if len(l) > 80 {
				t.Errorf("%s: %d columns: %s", line, len(l), l)
			}
		}
		_, full, _ := runLine(t, append([]string{"help"}, strings.Fields(line)...)...)
		if !strings.Contains(full, "--force ") || len(full) < len(out) {
			t.Errorf("help %s does not explain the flags:\n%s", line, full)
		}
	}
}

// logIn is the folder of a new log in a system of units.
func logIn(t *testing.T, s units.System) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), s.String())
	if status, _, said := runLine(t, "init", "--units", s.String(), "--logbook", dir); status != exitDone {
		t.Fatal(said)
	}
	return dir
}

// inHelp is what may stand in a help in any unit, and why.
var inHelp = []struct {
	why  string
	what *regexp.Regexp
}{
	{"a session of the demo's season, a log in US units, and what it asks", regexp.MustCompile(
		tailBlock.String() + `|(?m)^What would 90 hp and 40 lb off be .*|as much power again from 6 psi.`)},
	{"the units that may be typed", regexp.MustCompile(`(?m)^    [a-z ]+  (\S+, )+\S+$|^    power  .*|\(hp, kW, PS, lb-ft, Nm\)`)},
	{"which units are which", regexp.MustCompile(
		`Quantities take a unit \(.*|31 is 31 C.*|\(C, hPa, m, kg,\nkW, Nm, bar, mm, km/h\)|their feet: 660\s+is the eighth mile, as are 201m and 1/8`)},
	{"a column's unit, which is never converted", regexp.MustCompile(`as psi; .*|add manifold --unit psi`)},
	{"a flag's name", regexp.MustCompile(`--[a-z0-9-]+`)},
	{"a mark's name", regexp.MustCompile(`\b(60|330|660|1000|1320)(, 1000 or 1320)? ft\b`)},
	{"a heading of a log file", regexp.MustCompile(`[a-z]+_[a-z_0-9]+`)},
}

// TestHelpIsInTheLogsUnits holds the examples of every help to the units of the log.
func TestHelpIsInTheLogsUnits(t *testing.T) {
	leftToFullRun(t)
	for _, s := range []units.System{units.US, units.Metric} {
		dir := logIn(t, s)
		var walk func(c *cobra.Command)
		walk = func(c *cobra.Command) {
			path := strings.Fields(c.CommandPath())[1:]
			for _, line := range [][]string{append(path, "--help"), append([]string{"help"}, path...)} {
				_, out, _ := runLine(t, append(line, "--logbook", dir)...)
				for _, may := range inHelp {
					out = may.what.ReplaceAllString(out, "…")
				}
				for l := range strings.Lines(out) {
					if otherUnits[s.String()].MatchString(l) || twoWays.MatchString(l) {
						t.Errorf("%s, %v: %s", s, line, l)
					}
				}
			}
			for _, sub := range c.Commands() {
				walk(sub)
			}
		}
		walk((&app{out: io.Discard, errOut: io.Discard}).command())
	}
}

// twoWays is an example that nobody wrote in the units of a reader.
var twoWays = regexp.MustCompile(`\{[^{}|]*\|[^{}|]*\}`)
