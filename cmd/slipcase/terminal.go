package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// The rules of this file: answers go to standard output in the format asked for;
// prompts appear only when both ends are a terminal; notes and warnings go to
// standard error. No colour is used anywhere, so nothing depends on it, and
// --no-color and NO_COLOR have nothing to switch off.

// isTerminal reports whether a stream is a terminal.
func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// interactive reports whether the racer can be asked.
func (a *app) interactive() bool { return isTerminal(a.in) && isTerminal(a.terminal) }

// width is the room on the terminal, 0 without one.
func (a *app) width() int {
	w, _ := a.window()
	return w
}

// wrapped writes a line, broken between words where the terminal is narrower.
func (a *app) wrapped(w io.Writer, line string) {
	if width := a.width(); width > 0 {
		line = text.WrapSoft(line, max(20, width))
	}
	for l := range strings.SplitSeq(line, "\n") {
		fmt.Fprintln(w, strings.TrimRight(l, " "))
	}
}

// answer prints a result: value as JSON, or t as CSV or Markdown, or what text
// writes for a person; without text the table serves him too.
func (a *app) answer(value any, t table.Table, text func(w io.Writer)) error {
	switch {
	case a.format == table.JSON:
		enc := json.NewEncoder(a.out)
		enc.SetIndent("", "  ")
		return enc.Encode(value)
	case a.format == table.Text && text != nil:
		text(a.out)
		return nil
	case a.format == table.Text && len(t.Rows) == 0:
		_, err := fmt.Fprintln(a.out, "none recorded yet")
		return err
	}
	return t.Render(a.out, a.format, a.width())
}

// aside tells on standard error what a person would read beside the answer, where
// the form of the answer has no place for it.
func (a *app) aside(remarks []string) {
	if a.format == table.CSV || a.format == table.Markdown {
		for _, r := range remarks {
			a.note("note: %s", r)
		}
	}
}

// note writes a line for the racer beside the answer.
func (a *app) note(format string, args ...any) {
	fmt.Fprintln(a.errOut, folded(table.Clean(fmt.Sprintf(format, args...)), a.errWidth()))
}

// show writes a quantity in the units asked for, a dash when absent.
func (a *app) show(k units.Kind, n units.Number) string {
	if !n.Known() {
		return "-"
	}
	return k.Format(a.units, n.Value())
}

// cell is a quantity in a table: bare in CSV, where the heading has the unit.
func (a *app) cell(k units.Kind, n units.Number) string {
	switch {
	case !n.Known():
		return ""
	case a.format == table.CSV:
		return strconv.FormatFloat(math.Round(k.In(a.units, n.Value())*1e4)/1e4, 'f', -1, 64)
	}
	return k.Format(a.units, n.Value())
}

// suffix is the unit of cell as it ends a CSV heading: ft, m, mph, km_h.
func (a *app) suffix(k units.Kind) string {
	return strings.ToLower(strings.ReplaceAll(k.Symbol(a.units), "/", "_"))
}

// share is a probability or share of one: bare in CSV, and to a person never surer
// than there is evidence for.
func (a *app) share(p float64) string {
	switch {
	case a.format == table.CSV:
		return strconv.FormatFloat(rounded(p, toShare), 'f', -1, 64)
	case p > 0.99 && p < 1:
		return "over 99 %"
	case p > 0 && p < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// stamp is a moment in a table; in CSV it keeps its offset.
func (a *app) stamp(t time.Time) string {
	switch {
	case t.IsZero():
		return ""
	case a.format == table.CSV:
		return t.Format(time.RFC3339)
	}
	return t.Format("2006-01-02 15:04")
}

// zone is the one in which times at a track are typed and shown.
func (a *app) zone(t logbook.Track) *time.Location { return t.Location(a.now().Location()) }

// reads makes a command that shows what the logbook holds. Rows that could not be
// read are told, each by its place, and are its error when it has shown the rest.
func (a *app) reads(f func(c *cobra.Command, args []string, lb *logbook.Logbook) error) func(*cobra.Command, []string) error {
	return do(func(c *cobra.Command, args []string) error {
		lb, err := a.open()
		if err != nil {
			return err
		}
		err = f(c, args, lb)
		if n := a.leftOut(lb); n > 0 && err == nil {
			err = fmt.Errorf("%d %s of the logbook could not be read", n, plural(n, "row", "rows"))
		}
		return err
	})
}

// writes makes a command that records. What could not be read on the way is told;
// what was recorded is recorded all the same.
func (a *app) writes(f func(c *cobra.Command, args []string, lb *logbook.Logbook) error) func(*cobra.Command, []string) error {
	return do(func(c *cobra.Command, args []string) error {
		lb, err := a.open()
		if err != nil {
			return err
		}
		err = f(c, args, lb)
		a.leftOut(lb)
		return err
	})
}

// leftOut tells of the columns that are not there, and of the rows that could not be
// read, which it counts.
func (a *app) leftOut(lb *logbook.Logbook) int {
	for _, said := range lb.Absent() {
		a.note("note: %s: slipcase check tells whether anything is lost with it", said)
	}
	const shown = 5
	ps := lb.Problems()
	for _, p := range ps[:min(shown, len(ps))] {
		a.note("left out: %s", p)
	}
	if more := len(ps) - shown; more > 0 {
		a.note("... and %d more", more)
	}
	return len(ps)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// when shows a moment to a person.
func when(t time.Time) string { return t.Format("Mon 2 Jan 2006 15:04") }
