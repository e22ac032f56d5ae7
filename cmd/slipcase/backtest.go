package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

func (a *app) backtestCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "backtest",
		Short: "forecasts made in the past against what happened",
		Long: `Makes, for each run of a vehicle, the forecast that could be made from the runs before it,
and compares it with what happened, beside what racers do by hand: the last run, the mean
of the last three, a straight line of ET on density altitude, the last run scaled by the
correction factor. --air known uses only readings timed before the run; --air measured
grants the forecast the run's own air. Runs not at full power to the end are set aside.`,
		Example: "  slipcase backtest --vehicle heron\n  slipcase backtest --vehicle heron --air measured --format json",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.backtest),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	plotFlag(c)
	keywordFlag(c, "air", "known", "known before the run, or measured at it", "known", "measured")
	return c
}

func (a *app) backtest(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	air, _ := c.Flags().GetString("air")
	bar := a.tty.SlowBar("forecasting")
	b, err := lb.Backtest(c.Context(), v.ID, air == "measured", bar.Step)
	bar.Stop()
	if err != nil {
		return err
	}
	if err := a.page.Backtest(v, air, b); err != nil {
		return err
	}
	return a.plot(c, lb, v, "forecasts", anyRun)
}
