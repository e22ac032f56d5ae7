package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

type slip = logbook.Slip

// registerSlip gives a command the flags of a slip.
func registerSlip(c *cobra.Command) {
	register(c, typed.SlipFields)
	for _, flag := range typed.YesAlone {
		c.Flags().Lookup(flag).NoOptDefVal = "yes"
	}
}
