package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
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
