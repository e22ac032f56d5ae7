package main

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
)

func (a *app) slipList() *cobra.Command {
	c := &cobra.Command{
		Use: "list", Short: "list slips with what each was expected to be", Args: cobra.NoArgs,
		Long: `Lists slips with what each was expected to be. --like asks what the car ran at this
track in air like now's: those of its setup first. --best takes the first by --sort,
the ET when that is not given.`,
		Example: "  slipcase slip list --vehicle heron\n  slipcase slip list --last 0 --format csv\n" +
			"  slipcase slip list --track saltgrass --da {1500..2500|450..750} --full\n  slipcase slip list --best 10 --sort reaction\n" +
			"  slipcase slip list --like\n  slipcase slip list --columns time,reaction,et,over",
		RunE: a.reads(a.listSlips),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	c.Flags().String("last", "20", "how many of the latest; 0 for all")
	runFilterFlags(c)
	keywordFlag(c, "sort", "time", "the best first, by "+strings.Join(crew.Orders, ", "), crew.Orders...)
	c.Flags().String("best", "", "so many, the best by --sort")
	c.Flags().Bool("like", false, "in air like now's at this track, or like --at's")
	c.Flags().String("at", "", "with --like: when, as 16:30; now when left out")
	c.Flags().StringSlice("columns", nil, "these alone, as time,reaction,et,over; csv names them all")
	return c
}

func (a *app) listSlips(c *cobra.Command, _ []string, lb *crew.Session) error {
	js, of, err := a.asked(c, lb)
	if err != nil {
		return err
	}
	columns, _ := c.Flags().GetStringSlice("columns")
	runs := make([]crew.Run, len(js))
	for i := range js {
		runs[i] = js[i].Run
	}
	own, err := lb.OwnOf(runs)
	if err != nil {
		return err
	}
	err = a.page.Slips(js, of, own, columns)
	if unknown := page.UnknownColumn(""); errors.As(err, &unknown) {
		return usage(err)
	}
	return err
}

// asked are the slips that the flags ask for, judged; of is how many there are of them.
func (a *app) asked(c *cobra.Command, lb *crew.Session) (js []crew.Judged, of int, err error) {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return nil, 0, err
	}
	plain := true // the latest ones: not all slips need be read
	c.Flags().Visit(func(f *pflag.Flag) {
		plain = plain &&
			(c.InheritedFlags().Lookup(f.Name) != nil || slices.Contains([]string{"vehicle", "last", "columns"}, f.Name))
	})
	if n, err := howMany(c, "last", 0); err != nil || plain {
		if err != nil {
			return nil, 0, err
		}
		return lb.JudgeLast(c.Context(), vehicle, n)
	}
	runs, err := lb.Runs(vehicle)
	if err != nil {
		return nil, 0, err
	}
	filter, err := a.runFilter(c, lb)
	if err != nil {
		return nil, 0, err
	}
	kept := filter.Of(runs)
	of = len(kept)
	if like, _ := c.Flags().GetBool("like"); like {
		kept, err = a.like(c, lb, kept)
		of = len(kept)
	} else {
		kept, err = bestOf(c, kept)
		if c.Flags().Changed("best") {
			of = len(kept)
		}
	}
	if err != nil {
		return nil, 0, err
	}
	js, err = crew.JudgeThese(c.Context(), runs, kept)
	return js, of, err
}

// like takes the runs in air like that of the next one.
func (a *app) like(c *cobra.Command, lb *crew.Session, runs []crew.Run) ([]crew.Run, error) {
	for _, f := range []string{"best", "sort", "last"} {
		if c.Flags().Changed(f) {
			return nil, usagef("--like has its own order: want it without --%s", f)
		}
	}
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return nil, err
	}
	track, err := a.raceTrack(c, lb)
	if err != nil {
		return nil, err
	}
	at, err := a.at(c, "at", a.zone(track))
	if err != nil {
		return nil, err
	}
	next, err := lb.Next(crew.NextAsk{Vehicle: v.ID, Track: track.ID, At: at})
	if err != nil {
		return nil, err
	}
	alike, err := next.Like(runs)
	if err != nil {
		return nil, err
	}
	a.page.Like(alike)
	return alike.Runs, nil
}

// bestOf takes the last of the runs, or the best, in the order asked for.
func bestOf(c *cobra.Command, runs []crew.Run) ([]crew.Run, error) {
	text, _ := c.Flags().GetString("sort")
	order := crew.Order(text)
	if !c.Flags().Changed("best") {
		n, err := howMany(c, "last", len(runs))
		return order.Last(runs, n), err
	}
	if c.Flags().Changed("last") {
		return nil, usagef("--best and --last each say how many: want one of them")
	}
	if !c.Flags().Changed("sort") {
		order = crew.ByET
	}
	n, err := howMany(c, "best", len(runs))
	return order.Best(runs, n), err
}

// howMany reads a number of runs, 0 for all.
func howMany(c *cobra.Command, flag string, all int) (int, error) {
	text, _ := c.Flags().GetString(flag)
	n, err := strconv.Atoi(strings.TrimSpace(text))
	switch {
	case err != nil || n < 0:
		return 0, usagef("--%s %q: want how many, or 0 for all", flag, clipped(text))
	case n == 0:
		return all, nil
	}
	return n, nil
}
