package main

import (
	"github.com/spf13/cobra"

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
			return a.page.LogbookMade(lb.Dir())
		}),
	}
}
