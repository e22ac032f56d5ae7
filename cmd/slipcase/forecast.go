package main

import (
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/counts"
)

func (a *app) forecastCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "forecast",
		Short: "ET and speed from weight and power, or the next run of a vehicle",
		Long: `With --weight and --power: ET and trap speed by the three published formulas. With
--weight and --et or --mph: back to the power, corrected where the air of the run is given.
With --vehicle: its next run, from its setup, its own runs and the air given here, or that
of the log as it is known now; --why takes it apart: car, air, lane, track, day, what each
adds to the range, which runs count.`,
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

// forecast tells the ways of asking apart, each by the flags that count in it.
func (a *app) forecast(c *cobra.Command, args []string) error {
	log, machine := []string{"vehicle", "track", "at"}, []string{"weight", "kind", "drive", "loss"}
	air := slices.Concat(airFlags(), []string{"elevation", "aspiration", "standard"})
	air = slices.DeleteFunc(air, func(flag string) bool { return flag == "wind" || flag == "wind-from" })
	switch {
	case anyChanged(c, append(sheetFlags, changeFlags...)...) || c.Flags().Changed("tire-rating"):
		why := "a change to a vehicle of the log, whose setup and track say it"
		if anyChanged(c, "lane", "why") {
			why = "a change: ask it of the next run as it is"
		}
		if err := counts.Only(c, why, log, airFlags(), changeFlags, append(sheetFlags, "power-at", "tire-rating")); err != nil {
			return usage(err)
		}
		return a.reads(a.forecastChange)(c, args)
	case c.Flags().Changed("vehicle") || !c.Flags().Changed("weight"):
		why := "a vehicle of the log, whose setup and track say it; for a bare formula give --weight and no --vehicle"
		if err := counts.Only(c, why, log, airFlags(), []string{"lane", "why"}); err != nil {
			return usage(err)
		}
		return a.reads(a.forecastVehicle)(c, args)
	case c.Flags().Changed("et") || c.Flags().Changed("mph"):
		if err := counts.Only(c, "--et or --mph, which ask for the power", []string{"et", "mph"}, machine, air); err != nil {
			return usage(err)
		}
		return a.impliedPower(c)
	}
	why := "a bare --weight and --power; for a run of the log give --vehicle"
	if err := counts.Only(c, why, append(machine, "power", "power-at"), air); err != nil {
		return usage(err)
	}
	return a.forecastFormula(c)
}
