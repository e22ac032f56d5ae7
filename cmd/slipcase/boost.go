package main

import (
	"github.com/spf13/cobra"

	"slipcase/weather/units"
)

func (a *app) boostCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "boost [PRESSURE]",
		Short: "what boost makes of the power, and how much of a claimed gain it explains",
		Long: `Works out how much denser a blower or turbo makes the air, what driving it costs, and the
power that is left: as a multiple of the power there is now, in the air given, in standard
air without. A turbo's pressure ratio rises where the air is thin, a blower's does not.
With --claim it says how much of a gain boost can explain. Nothing is recorded: plan add
takes the same flags.`,
		Example: `  slipcase boost {6psi|0.4bar} --blower roots
  slipcase boost {6psi|0.4bar} --blower roots --claim 50%
  slipcase boost --boost-now {6psi|0.4bar} --pulley 1.1 --blower roots
  slipcase boost {8psi|0.55bar} --blower turbo --held absolute --intercooler 70 --temp {75F --rh 30 --station 24.9inHg|24C --rh 30 --station 843hPa}`,
		Args: cobra.MaximumNArgs(1), RunE: do(a.showBoost),
	}
	registerBoost(c)
	quantityFlag(c, "claim", units.Percent, "a gain that was claimed, as 50%, to be explained")
	return c
}

func (a *app) showBoost(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		if c.Flags().Changed("boost") {
			return usagef("%q and --boost: want one of them", args[0])
		}
		if err := c.Flags().Set("boost", args[0]); err != nil {
			return err
		}
		if err := readFlags(c, bareIn(c)); err != nil {
			return err
		}
	}
	if !anyChanged(c, "boost", "pulley") {
		return usagef("the boost is missing: want it as {6psi|0.4bar}, or --boost-now with --pulley")
	}
	boost, err := a.workBoost(c, quantityOf(c, "claim"))
	if err != nil {
		return err
	}
	return a.page.Boost(boost)
}
