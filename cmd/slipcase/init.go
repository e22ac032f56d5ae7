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
only ever appended. Its place is --logbook, else SLIPCASE_LOGBOOK, else your data folder.
With --units metric it is a metric one: what is shown is metric, and so are bare numbers:
31 is 31 C, a weight of 1565 is kg, a speed km/h, a length m. The marks of a drag strip
keep their feet: 660 is the eighth mile, as are 201m and 1/8. Run it again with other
--units while nothing is recorded, and the log takes them.`,
		Example: "  slipcase init\n  slipcase init --units metric\n  slipcase init --logbook ~/racing",
		Args:    cobra.NoArgs,
		RunE: do(func(*cobra.Command, []string) error {
			options := a.options()
			options.Units = a.units
			lb, err := logbook.Init(a.dir, options)
			if err != nil {
				return a.page.LogbookThere(err)
			}
			return a.page.LogbookMade(lb.Dir())
		}),
	}
}
