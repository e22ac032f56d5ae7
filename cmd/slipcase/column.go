package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) columnCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "column", Short: "your own columns of slips: jets, wing, shock clicks",
		Example: "  slipcase column add jets --kind number\n  slipcase slip amend last --own jets=68",
	}
	add := &cobra.Command{
		Use: "add NAME", Short: "add a column of your own to the slips", Args: cobra.ExactArgs(1),
		Long: `Adds a column of your own to the slips. On a slip's line it is typed as jets=68, as a flag
--own jets=68; lists show it, --own finds the runs with it, exports and backups hold it.`,
		Example: "  slipcase column add jets --kind number\n  slipcase column add manifold --unit psi\n" +
			"  slipcase column add plugs --kind text",
		RunE: a.writes(func(c *cobra.Command, args []string, lb *crew.Session) error {
			own := logbook.OwnColumn{Entry: logbook.Entry{ID: args[0]}, Kind: "number"}
			if err := apply(c, typed.ColumnFields, &own); err != nil {
				return err
			}
			if err := own.Check(); err != nil {
				return usage(err)
			}
			if err := lb.AddOwnColumn(&own); err != nil {
				was, _ := lb.OwnColumn(own.ID)
				return taken(err, crew.Stands("column", was.Entry))
			}
			return a.page.OwnColumnAdded(own)
		}),
	}
	register(add, typed.ColumnFields)
	list := &cobra.Command{
		Use: "list", Short: "list your own columns", Args: cobra.NoArgs, Example: "  slipcase column list",
		RunE: a.reads(func(_ *cobra.Command, _ []string, lb *crew.Session) error {
			all, err := lb.OwnColumns()
			if err != nil {
				return err
			}
			return a.page.OwnColumns(all)
		}),
	}
	void, unvoid := voidable[logbook.OwnColumn]{
		what: "column", arg: "NAME", example: "jets", long: "What slips have in it stays with them; lists and exports leave it out.",
		entry: func(c *logbook.OwnColumn) *logbook.Entry { return &c.Entry },
		find: func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.OwnColumn, error) {
			return lb.OwnColumn(ref)
		},
		findVoid: (*logbook.Logbook).VoidOwnColumn, amend: (*logbook.Logbook).AmendOwnColumn,
		show: (*page.Page).OwnColumnStatus, called: func(c logbook.OwnColumn) string { return c.ID },
	}.commands(a)
	c.AddCommand(add, list, void, unvoid)
	return c
}
