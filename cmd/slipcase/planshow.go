package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

func (a *app) planShowCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "show NAME", Short: "one change: what it promises, and, once it is in, what came of it",
		Long: `Before a setup names the change with --change NAME, what it is worth. After, what was
promised from the runs before it against what the first, three and ten runs with it
brought, and the power that they imply.`,
		Example: "  slipcase plan show headers --track saltgrass\n  slipcase plan show bigger-carb --vehicle heron",
		Args:    cobra.ExactArgs(1), RunE: a.reads(a.showPart),
	}
	registerSubject(c)
	return c
}

func (a *app) showPart(c *cobra.Command, args []string, lb *crew.Session) error {
	part, err := namedPart(c, lb, args[0])
	if err != nil {
		return err
	}
	if err := c.Flags().Set("vehicle", part.Vehicle); err != nil {
		return err
	}
	outcome, in, err := lb.PlanOutcome(part)
	if err != nil {
		return err
	}
	if in {
		return a.page.Outcome(outcome)
	}
	p, err := a.prospect(c, lb)
	if err != nil {
		return err
	}
	worth, err := p.Worth(part)
	if err != nil {
		return err
	}
	return a.page.Worth(worth)
}
