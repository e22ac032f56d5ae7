package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
)

func (a *app) mergeCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "merge FOLDER",
		Short: "add what another copy of the logbook has and this one lacks",
		Long: `Adds the rows of another copy of the logbook, as one kept on a phone, that this one
lacks; the other copy stays as it is. Where both amended the same entry both are kept
and shown: the later recorded stands until it is amended again. Merging twice is
merging once.`,
		Example: "  slipcase merge /media/phone/slipcase",
		Args:    cobra.ExactArgs(1),
		RunE: do(func(c *cobra.Command, args []string) error {
			lb, err := a.open()
			if err != nil {
				return err
			}
			other, err := logbook.Open(args[0], a.options())
			if err != nil {
				return err
			}
			bar := a.tty.Bar("merging")
			result, err := lb.Merge(other, until(c, bar.Step))
			bar.Stop()
			a.leftOut(lb)
			return a.merged(args[0], result, err)
		}),
	}
}

// until tells how far a job is until the command's context ends.
func until(c *cobra.Command, step func(done, of int)) func(done, of int) error {
	return func(done, of int) error {
		step(done, of)
		return c.Context().Err()
	}
}

// merged tells what a merge did. Entries that it had to leave out are its error.
func (a *app) merged(from string, result []logbook.Merged, err error) error {
	if err != nil {
		return err
	}
	t := table.Table{Columns: []table.Column{
		{Head: "file", Key: "file"},
		{Head: "rows added", Key: "added", Right: true},
		{Head: "conflicts", Key: "conflicts", Right: true},
		{Head: "left out", Key: "left_out", Right: true},
	}}
	added, conflicts, leftOut := 0, 0, 0
	for _, m := range result {
		t.Add(m.File, strconv.Itoa(m.Added), strconv.Itoa(len(m.Conflicts)), strconv.Itoa(len(m.LeftOut)))
		added, conflicts, leftOut = added+m.Added, conflicts+len(m.Conflicts), leftOut+len(m.LeftOut)
		for _, id := range slices.Sorted(maps.Keys(m.LeftOut)) {
			a.page.Note("left out: %s", m.LeftOut[id])
		}
	}
	err = a.page.Answer(result, t, func(w io.Writer) {
		fmt.Fprintf(
			w,
			"merged  %s: %d %s added, %d %s\n",
			table.Clean(from),
			added,
			page.Plural(added, "row", "rows"),
			conflicts,
			page.Plural(conflicts, "conflict", "conflicts"),
		)
		for _, m := range result {
			for _, c := range m.Conflicts {
				fmt.Fprintf(
					w,
					"  %s revision %d: %s differs; what stands is %s\n",
					table.Clean(c.ID),
					c.Rev,
					table.Clean(strings.Join(c.Columns, ", ")),
					standing[c.Stands],
				)
			}
		}
	})
	if err == nil && leftOut > 0 {
		err = fmt.Errorf(
			"%d %s could not be merged: slipcase check --repair in each copy, then merge again",
			leftOut,
			page.Plural(leftOut, "entry", "entries"),
		)
	}
	return err
}

var standing = map[string]string{"here": "this copy's", "other": "the other copy's"}
