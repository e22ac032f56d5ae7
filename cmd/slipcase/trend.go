package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

func (a *app) trendCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "trend",
		Short: "is it getting tired: power, launch and the rest of the run over the season",
		Long: `What became of a vehicle over its race days, all in standard air: its power as the speeds
and the times past the launch tell it, effective at the wheels; its launch in g; its time
from 60 ft to the finish; each with what holds 8 of 10. A loss or a gain
that the log does not explain is told with its day, its place on the track and its size; a
drift as one. "~" where the luck of days explains it all. What a change of setup brought
is not told here: slipcase compare does that.`,
		Example: "  slipcase trend --vehicle heron\n  slipcase trend --vehicle heron --format csv",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.trend),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	plotFlag(c)
	return c
}

func (a *app) trend(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	t, err := lb.Trend(v.ID)
	if err != nil {
		return err
	}
	if err := a.page.Trend(v, t); err != nil {
		return err
	}
	return a.plot(c, lb, v, "trend", anyRun)
}
