package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
)

func (a *app) initCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "init",
		Short: "make a logbook",
		Long: `Makes an empty logbook: a folder of CSV files that any spreadsheet opens, where rows are
only ever appended. Its place is --logbook, else SLIPCASE_LOGBOOK, else your data folder.`,
		Example: "  slipcase init\n  slipcase init --logbook ~/racing",
		Args:    cobra.NoArgs,
		RunE: do(func(*cobra.Command, []string) error {
			lb, err := logbook.Init(a.dir, a.options())
			if err != nil {
				return err
			}
			t := table.Table{Columns: []table.Column{{Head: "logbook", Key: "logbook"}}}
			t.Add(lb.Dir())
			return a.answer(map[string]string{"logbook": lb.Dir()}, t, func(w io.Writer) {
				fmt.Fprintf(w, `made a logbook in %s
  next, the car or bike   slipcase vehicle add heron --kind car --aspiration natural
  then where you race     slipcase track add saltgrass --elevation 812ft
`, lb.Dir())
			})
		}),
	}
}
