package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

// lastHelp says which slip "last" is.
const lastHelp = `An ID may be shortened to its first three characters;
"last" is the slip recorded last, whenever it was run, those void left out;
"last-2" is the second before it.`

func (a *app) slipCommand() *cobra.Command {
	c := &cobra.Command{Use: "slip", Short: "time slips: record, list, show, amend", Example: "  slipcase slip add"}
	void, unvoid := a.slipVoid()
	c.AddCommand(a.slipAdd(), a.slipRead(), a.slipList(), a.slipShow(), a.slipAmend(), void, unvoid)
	return c
}

func (a *app) slipShow() *cobra.Command {
	c := &cobra.Command{
		Use: "show ID|last|last-2", Short: "show a slip and its judgement again", Args: cobra.ExactArgs(1),
		Long:    "Shows a slip and its judgement again. " + lastHelp,
		Example: "  slipcase slip show last\n  slipcase slip show last --history",
		RunE: a.reads(func(c *cobra.Command, args []string, lb *crew.Session) error {
			s, err := lb.Slip(args[0])
			if err != nil {
				return err
			}
			if history, _ := c.Flags().GetBool("history"); history {
				revs, err := lb.SlipHistory(s.ID)
				if err != nil {
					return err
				}
				return a.page.SlipHistory(revs)
			}
			j, err := lb.Judge(s)
			if err != nil {
				return err
			}
			return a.page.Judged(j)
		}),
	}
	c.Flags().Bool("history", false, "every revision, the oldest first")
	return c
}
