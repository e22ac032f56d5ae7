package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

func (a *app) seasonCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "season [YEAR]",
		Short: "a year: rounds won and lost and why, by track, class and month; each opponent",
		Long: `A year of racing, this one when none is named: runs, rounds won and lost and what decided
them, buybacks, byes and double entries, one car twice in a round of a day and class
without a buyback; by track, class and month. And the score against each opponent by name,
with his lights after perfect and how far over his dial he runs.`,
		Example: "  slipcase season\n  slipcase season 2026 --vehicle heron --class dial\n  slipcase season --format csv",
		Args:    cobra.MaximumNArgs(1),
		RunE: a.reads(func(c *cobra.Command, args []string, lb *crew.Session) (err error) {
			year := a.now().Year()
			if len(args) == 1 {
				if year, err = strconv.Atoi(args[0]); err != nil || year < 1900 || year > 2200 {
					return usagef("season %q: want a year, as 2026", clipped(args[0]))
				}
			} else if c.Flags().Changed("from") || c.Flags().Changed("to") {
				year = 0
			}
			vehicle, filter, err := a.ofRuns(c, lb)
			if err != nil {
				return err
			}
			s, err := lb.Season(vehicle, year, filter)
			if err != nil {
				return err
			}
			return a.page.Season(s)
		}),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	runFilterFlags(c)
	return c
}

func (a *app) bestCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "best",
		Short: "the best reaction, 60 ft, ET and speed, as run and in standard air",
		Long: `The best of a vehicle: reaction after the perfect light, 60 ft time, ET and speed by
distance; as run, and in standard air by what its own runs show of the air. Of all, and of
each track and class.`,
		Example: "  slipcase best --vehicle heron\n  slipcase best --track saltgrass --from 2026-01-01",
		Args:    cobra.NoArgs,
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			vehicle, filter, err := a.ofRuns(c, lb)
			if err != nil {
				return err
			}
			list, err := lb.Bests(vehicle, filter)
			if err != nil {
				return err
			}
			return a.page.Bests(list)
		}),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	runFilterFlags(c)
	return c
}

// ofRuns reads which runs of which vehicle are meant.
func (a *app) ofRuns(c *cobra.Command, lb *crew.Session) (vehicle string, f crew.RunFilter, err error) {
	if vehicle, err = vehicleFlag(c, lb); err != nil {
		return vehicle, f, err
	}
	f, err = a.runFilter(c, lb)
	return vehicle, f, err
}
