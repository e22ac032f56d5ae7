package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/counts"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/weather/units"
)

func (a *app) gearingCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "gearing",
		Short: "speed, rpm, ratio, tire or slip: the one that is not given",
		Long: `Works out the one of --rpm, --mph, --tire and --rear that is left out; with all four, the
slip of converter, clutch and tire. With --vehicle the speed is that of its next run, so
that a rear gear or a tire can be chosen that crosses the stripe at the rpm you want.`,
		Example: `  slipcase gearing --rpm 6500 --tire {28in|711mm} --rear 4.10
  slipcase gearing --rpm 6500 --mph {105.8|170} --tire {28in|711mm} --rear 4.10
  slipcase gearing --vehicle heron --track saltgrass --rpm 6300 --tire {28in|711mm} --slip 4`,
		Args: cobra.NoArgs,
		RunE: do(func(c *cobra.Command, args []string) error {
			if !c.Flags().Changed("vehicle") {
				why := "a speed that is given: --vehicle takes that of its next run"
				if err := counts.Only(c, why, []string{"rpm", "mph", "tire", "rear", "top", "slip"}); err != nil {
					return usage(err)
				}
				return a.gearing(c, quantityOf(c, "mph"), nil)
			}
			if c.Flags().Changed("mph") {
				return usagef("--mph does not go with --vehicle, whose next run says it")
			}
			return a.reads(a.gearingOfNext)(c, args)
		}),
	}
	quantityFlag(c, "rpm", units.RPM, "engine speed at the stripe")
	quantityFlag(c, "mph", units.Speed, "speed at the stripe, as {105.8mph|170km/h}")
	quantityFlag(c, "tire", units.Diameter, "diameter of the driven tire, as {28in|711mm}")
	quantityFlag(c, "rear", units.Ratio, "final drive, as 4.10")
	c.Flags().Var(&quantity{units.Ratio, "1", units.Some(1)}, "top", "the gear you cross the stripe in")
	c.Flags().Var(&quantity{units.Percent, "0", units.Some(0)}, "slip", "percent lost in converter, clutch and tire")
	registerSubject(c)
	return c
}

// gearingOfNext takes the speed of a vehicle's next run at the end of it.
func (a *app) gearingOfNext(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	next, err := a.next(c, lb, v)
	if err != nil {
		return err
	}
	mph, at, err := next.StripeMPH()
	if err != nil {
		return err
	}
	if !mph.Known() {
		return fmt.Errorf("%s: no speed is timed at %g ft: give --mph", v.ID, at.Ft())
	}
	curve, err := lb.CurveOf(next.Run.Setup)
	if err != nil {
		return err
	}
	return a.gearing(c, mph, &page.Striped{Vehicle: v.ID, At: at, LastRow: curve.LastRPM()})
}

func (a *app) gearing(c *cobra.Command, mph units.Number, from *page.Striped) error {
	ask := crew.GearingAsk{
		RPM: quantityOf(c, "rpm"), MPH: mph, TyreIn: quantityOf(c, "tire"), Rear: quantityOf(c, "rear"),
		Top: quantityOf(c, "top").Value(), Slip: quantityOf(c, "slip").Value() / 100,
	}
	if !(ask.Top > 0.3 && ask.Top < 6) {
		return usagef("--top %q: want the ratio of the gear, as 1 or 0.7", c.Flag("top").Value)
	}
	for _, flag := range []string{"rpm", "mph", "tire", "rear"} {
		if n := quantityOf(c, flag); n.Known() && n.Value() == 0 {
			return usagef("--%s 0: want more than 0", flag)
		}
	}
	switch missing := ask.Missing(); {
	case missing == 0 && c.Flags().Changed("slip"):
		return usagef("all of it is given: leave out the one to be worked out, --slip among them")
	case missing > 1:
		return usagef("%d of --rpm, --mph, --tire and --rear are missing: want three of them, "+
			"or all four for the slip", missing)
	}
	g, err := crew.Gearing(ask)
	if err != nil {
		return err
	}
	return a.page.Gearing(g, from)
}
