package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/board"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

// The rules of this file: answers go to standard output in the format asked for;
// prompts appear only when both ends are a terminal; notes and warnings go to
// standard error. No colour is used anywhere, so nothing depends on it, and
// --no-color and NO_COLOR have nothing to switch off.

// zone is the one in which times at a track are typed and shown.
func (a *app) zone(t logbook.Track) *time.Location { return t.Location(a.now().Location()) }

// reads makes a command that shows what the logbook holds. Rows that could not be
// read are told, each by its place, and are its error when it has shown the rest.
func (a *app) reads(
	f func(c *cobra.Command, args []string, lb *crew.Session) error,
) func(*cobra.Command, []string) error {
	return do(func(c *cobra.Command, args []string) error {
		lb, err := a.open()
		if err != nil {
			return err
		}
		err = f(c, args, lb)
		if n := a.leftOut(lb); n > 0 && err == nil {
			err = fmt.Errorf("%d %s of the logbook could not be read", n, page.Plural(n, "row", "rows"))
		}
		return err
	})
}

// writes makes a command that records. What could not be read on the way is told;
// what was recorded is recorded all the same.
func (a *app) writes(
	f func(c *cobra.Command, args []string, lb *crew.Session) error,
) func(*cobra.Command, []string) error {
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
func (a *app) leftOut(lb *crew.Session) int {
	for _, said := range board.Newly(a.held, lb.Absent()) {
		a.page.Note("note: %s: slipcase check tells whether anything is lost with it", said)
	}
	const shown = 5
	ps := board.Newly(a.held, lb.Problems())
	for _, p := range ps[:min(shown, len(ps))] {
		a.page.Note("left out: %s", p)
	}
	if more := len(ps) - shown; more > 0 {
		a.page.Note("... and %d more", more)
	}
	return len(ps)
}
