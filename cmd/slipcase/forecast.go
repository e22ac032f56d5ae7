package main

import (
	"slices"

	"github.com/spf13/cobra"
)

func (a *app) forecastCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "forecast",
		Short: "ET and speed from weight and power, or the next run of a vehicle",
		Long: `With --weight and --power: ET and trap speed by the three published formulas. With
--weight and --et or --mph: back to the power. With --vehicle: its next run, from its
setup, its own runs and the air given here, or that of the log as it is known now; --why
takes it apart: car, air, lane, track, day, what each adds to the range, which runs count.`,
		Example: `  slipcase forecast --weight {3450 --power 312|1565 --power 233}
  slipcase forecast --weight {3450lb|1565kg} --et 13.2 --mph {105.8|170}
  slipcase forecast --vehicle heron --track saltgrass --temp {84F --rh 50 --station 28.90inHg|29C --rh 50 --station 979hPa}
  slipcase forecast --vehicle heron --track saltgrass --at "2026-05-02 16:30"
  slipcase forecast --vehicle heron --track saltgrass --lane left --why
  slipcase forecast --vehicle heron --track saltgrass --gain {90hp|67kW} --lose {40lb|18kg}
  slipcase forecast --vehicle heron --track saltgrass --target 11.99`,
		Args: cobra.NoArgs,
		RunE: do(a.forecast),
	}
	registerSubject(c)
	keywordFlag(c, "lane", "", "left or right: the lane it will run in", "left", "right")
	c.Flags().Bool("why", false, "what the forecast is made of, in thousandths that add up")
	registerFormula(c)
	registerChange(c)
	return c
}

// forecast tells the three ways of asking apart; a flag that the way asked for has
// no use of is refused, never silently dropped.
func (a *app) forecast(c *cobra.Command, args []string) error {
	log := []string{"vehicle", "track", "at", "lane", "why"}
	machine := []string{"kind", "aspiration", "drive", "loss"}
	power := []string{"power", "power-at", "standard"}
	run := []string{"et", "mph"}
	switch {
	case asksChange(c):
		why := "a change to a vehicle of the log, whose setup and track say it"
		if err := foreign(c, why, []string{"weight", "elevation", "power", "standard"}, machine, run); err != nil {
			return err
		}
		if err := foreign(c, "a change: ask it of the next run as it is", []string{"lane", "why"}); err != nil {
			return err
		}
		return a.reads(a.forecastChange)(c, args)
	case c.Flags().Changed("vehicle") || !c.Flags().Changed("weight"):
		why := "a vehicle of the log, whose setup and track say it; for a bare formula give --weight and no --vehicle"
		if err := foreign(c, why, []string{"weight", "elevation"}, machine, power, run); err != nil {
			return err
		}
		return a.reads(a.forecastVehicle)(c, args)
	case c.Flags().Changed("et") || c.Flags().Changed("mph"):
		why := "--et or --mph, which ask for the power in the air of the run"
		if err := foreign(c, why, log, power, airFlags(), []string{"elevation"}); err != nil {
			return err
		}
		return a.impliedPower(c)
	}
	if err := foreign(c, "a bare --weight and --power; for a run of the log give --vehicle", log); err != nil {
		return err
	}
	return a.forecastFormula(c)
}

// foreign refuses the flags that do not go with what was asked.
func foreign(c *cobra.Command, with string, flags ...[]string) error {
	for _, flag := range slices.Concat(flags...) {
		if c.Flags().Changed(flag) {
			return usagef("--%s does not go with %s", flag, with)
		}
	}
	return nil
}
