package main

import (
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
)

func (a *app) backupCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "backup FILE",
		Short: "write the whole logbook to one zip file, and verify it",
		Long: `Writes every file of the logbook, with its SHA-256, to one zip file, reads that back
and compares before the file gets its name. An older backup is never written over
without --force.`,
		Example: "  slipcase backup season-2026.zip",
		Args:    cobra.ExactArgs(1),
		RunE: do(func(c *cobra.Command, args []string) error {
			lb, err := a.open()
			if err != nil {
				return err
			}
			force, _ := c.Flags().GetBool("force")
			m, err := lb.Backup(args[0], force)
			if err != nil {
				return err
			}
			return a.page.Answer(struct {
				Backup string `json:"backup"`
				logbook.Manifest
			}{args[0], m}, manifestTable(m), func(w io.Writer) {
				fmt.Fprintf(
					w,
					"backed up  %s: %d files, verified\n  get it back   slipcase restore %s FOLDER\n",
					args[0],
					len(m.Files),
					page.Quote(args[0]),
				)
			})
		}),
	}
	c.Flags().Bool("force", false, "write over an older backup")
	return c
}

func manifestTable(m logbook.Manifest) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "file", Key: "name"}, {Head: "bytes", Key: "size", Right: true}, {Head: "SHA-256", Key: "sha256", Drop: 1},
	}}
	for _, f := range m.Files {
		t.Add(f.Name, strconv.FormatInt(f.Size, 10), f.SHA256)
	}
	return t
}
