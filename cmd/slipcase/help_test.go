package main

import (
	"bytes"
	"io"
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
				checkExample(t, c.Root(), line)
			}
			for _, line := range strings.Split(c.Long, "\n") {
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
func checkExample(t *testing.T, root *cobra.Command, line string) {
	t.Helper()
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
	} else if err := readFlags(c, units.US); err != nil {
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
	for _, line := range []string{"slip add", "air add", "dial"} {
		_, out, _ := runLine(t, append(strings.Fields(line), "--help")...)
		lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
		if len(lines) > 23 {
			t.Errorf("%s: %d lines", line, len(lines))
		}
		for _, l := range lines {
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
