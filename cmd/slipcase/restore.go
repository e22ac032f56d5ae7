package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

func (a *app) restoreCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "restore FILE FOLDER",
		Short: "unpack a backup into an empty folder, verified",
		Long: `Unpacks a backup into a folder that is empty or not there, whole or not at all. With
--merge it adds to the logbook in the folder what that lacks, as slipcase merge does.`,
		Example: "  slipcase restore season-2026.zip ~/racing\n  slipcase restore --merge season-2026.zip ~/racing",
		Args:    cobra.ExactArgs(2),
		RunE: do(func(c *cobra.Command, args []string) error {
			if merge, _ := c.Flags().GetBool("merge"); merge {
				lb, err := logbook.Open(args[1], a.options())
				if err != nil {
					return err
				}
				bar := a.tty.Bar("merging")
				result, err := lb.RestoreMerge(args[0], until(c, bar.Step))
				bar.Stop()
				return a.merged(args[0], result, err)
			}
			m, err := logbook.Restore(args[0], args[1], a.options())
			if err != nil {
				return err
			}
			return a.page.Answer(struct {
				Logbook string `json:"logbook"`
				logbook.Manifest
			}{args[1], m}, manifestTable(m), func(w io.Writer) {
				fmt.Fprintf(
					w,
					"restored  %s: %d files, verified\n  look at it   slipcase check --logbook %s\n",
					args[1],
					len(m.Files),
					page.Quote(args[1]),
				)
			})
		}),
	}
	c.Flags().Bool("merge", false, "add to the logbook that is there")
	return c
}
