package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
)

// somethingToChange refuses an amendment that names no column. One that names a value
// as it is already is taken: it settles a conflict of two copies. besides are flags
// that only say which entry is meant.
func somethingToChange(c *cobra.Command, besides ...string) error {
	for _, name := range flagNames(c) {
		if name != "--force" && !slices.Contains(besides, name) && c.Flags().Changed(strings.TrimPrefix(name, "--")) {
			return nil
		}
	}
	return usagef("nothing to change: want a flag for each value that is wrong, see %s --help", c.CommandPath())
}

// changes tells what an amendment changed, a line for each column.
func changes[T any, P interface {
	*T
	logbook.Record
}](w io.Writer, was, is P,
) {
	changed := logbook.Changes(was, is)
	for _, c := range changed {
		fmt.Fprintf(w, "  %s: %s -> %s\n", c.Column, table.Clean(orDash(c.Was)), table.Clean(orDash(c.Is)))
	}
	if len(changed) == 0 {
		fmt.Fprintln(w, "  nothing in it differs from before")
	}
}
