package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use: "man FOLDER", Short: "write the manual pages of all commands", Args: cobra.ExactArgs(1),
		Long: `Writes a manual page for each command into a folder, as a package of the program installs
them; read one with   man -l FOLDER/slipcase-slip-add.1`,
		Example: "  slipcase man man1",
		RunE: do(func(c *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return err
			}
			// No date of today: pages of one version are the same bytes whenever they are made.
			never := time.Time{}
			c.Root().DisableAutoGenTag = true
			writeExamples(c.Root(), units.US)
			if err := doc.GenManTree(c.Root(), &doc.GenManHeader{Section: "1", Source: "slipcase", Date: &never},
				args[0]); err != nil {
				return err
			}
			pages, err := filepath.Glob(filepath.Join(args[0], "slipcase*.1"))
			if err != nil {
				return err
			}
			t := table.Table{Columns: []table.Column{{Head: "page", Key: "page"}}}
			for _, p := range pages {
				t.Add(p)
			}
			return a.page.Answer(
				pages,
				t,
				func(w io.Writer) { fmt.Fprintf(w, "wrote  %d manual pages to %s\n", len(pages), table.Clean(args[0])) },
			)
		}),
	}
}
