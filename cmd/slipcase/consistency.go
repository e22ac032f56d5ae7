package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
)

func (a *app) consistencyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "consistency",
		Short: "how alike the runs are: reaction, 60 ft, ET in standard air",
		Long: `How alike a vehicle's runs are: reaction after the perfect light and reds, 60 ft time,
ET in standard air, each with its median and standard deviation and, in brackets, their
95 % range; apart by lane, round or meet. "~" where
lanes do not differ. Times are of the last setup's runs, as far as the forecast counts
them. And how much later or earlier the launch has to come for a wanted reaction or a
wanted chance of red.`,
		Example: `  slipcase consistency --vehicle heron
  slipcase consistency --by round --meet spring-open
  slipcase consistency --reaction .020 --red 5`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.consistency),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	plotFlag(c)
	keywordFlag(c, "by", "lane", "lane, round or meet", "lane", "round", "meet").want = "lane, round or meet"
	f.String("meet", "", "at this meet alone")
	f.String("driver", "", "by this driver alone: lights are his")
	secondsFlag(c, "reaction", typed.Reaction, "the reaction that is wanted, as the track prints it")
	f.String("track", "", "with --reaction: the track that prints it; today's when left out")
	chanceFlag(c, "red", 5, "the chance of a red light that is accepted, in percent")
	return c
}

func (a *app) consistency(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	by, _ := c.Flags().GetString("by")
	meet, _ := c.Flags().GetString("meet")
	driver, _ := c.Flags().GetString("driver")
	ask := crew.AlikeAsk{
		By:        crew.Grouping(by),
		Meet:      meet,
		Driver:    driver,
		RedPct:    chanceOf(c, "red"),
		ReactionS: secondsOf(c, "reaction"),
	}
	switch {
	case ask.ReactionS.Known():
		if ask.Track, err = a.raceTrack(c, lb); err != nil {
			return err
		}
	case c.Flags().Changed("track"):
		return usagef("--track says whose perfect light a reaction is for: want --reaction .020 with it")
	}
	k, err := lb.Alike(v, ask)
	if off := (*crew.OffPerfect)(nil); errors.As(err, &off) {
		at := "where no track is named"
		if off.Track != "" {
			at = "at " + off.Track
		}
		return usagef("--reaction %w %s", off, at)
	}
	if err != nil {
		return err
	}
	if err := a.page.Consistency(k); err != nil {
		return err
	}
	return a.plot(
		c,
		lb,
		v,
		"reaction",
		func(r *crew.Run) bool { return meet == "" || strings.EqualFold(meet, r.Slip.Meet) },
	)
}
