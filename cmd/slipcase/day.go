package main

import (
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

func (a *app) dayCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "day [DATE]",
		Short: "a day's runs on one page for the trailer wall",
		Long: `The runs of a day on one landscape page, today's when none is named: air, box, stop, tires,
dial, times, what a run that was let go was on, package, who won and why, the other lane, by
how much the forecast missed, notes. As text 132 columns wide, two lines a run; --format
markdown or csv has a row a run. What is due of parts stands above.`,
		Example: "  slipcase day\n  slipcase day 2026-05-02 --vehicle heron --blank\n  slipcase day --format markdown",
		Args:    cobra.MaximumNArgs(1),
		RunE:    a.reads(a.day),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone; of each that ran when left out")
	c.Flags().Bool("blank", false, "ten ruled rows more, to write in")
	plotFlag(c)
	return c
}

func (a *app) day(c *cobra.Command, args []string, lb *crew.Session) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	day := a.now().In(zone)
	if len(args) == 1 {
		if day, err = a.moment(args[0], day, zone); err != nil {
			return usagef("day %w", err)
		}
	}
	blank, _ := c.Flags().GetBool("blank")
	if blank && a.format != table.Text && a.format != table.Markdown {
		return usagef("--blank rules rows to write in: want it without --format %s", a.format)
	}
	sheets, last, err := lb.DaySheets(c.Context(), vehicle, day)
	if err != nil {
		return err
	}
	if err := a.page.Days(sheets, day, last, blank); err != nil {
		return err
	}
	for _, s := range sheets {
		if err := a.plot(c, lb, s.Vehicle, "day", anyRun, day.Format(time.DateOnly)); err != nil {
			return err
		}
	}
	return nil
}
