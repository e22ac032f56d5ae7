package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
)

// runFilterFlags gives a command the flags that say which runs are meant; the vehicle's
// comes apart from them.
func runFilterFlags(c *cobra.Command) {
	f := c.Flags()
	f.String("track", "", "at this track alone")
	f.String("meet", "", "at this meet alone")
	f.String("setup", "", "with this setup alone, by its name or id")
	f.String("class", "", "of this class alone: dial, index, heads-up, test, or the name you gave it")
	f.String("round", "", "of this round alone, as E1")
	keywordFlag(c, "lane", "", "left or right", "left", "right")
	keywordFlag(c, "result", "", "won, lost or dq", "won", "lost", "dq")
	f.String("driver", "", "by this driver alone")
	f.String("from", "", "from this day or time on, as 2026-05-02")
	f.String("to", "", "up to this day or time, the day itself too")
	f.String("da", "", "in air of these density altitudes alone, as {1500..2500|450..750}")
	f.StringArray("own", nil, "with this in a column of your own, as jets=68")
	f.Bool("full", false, "at full power alone, as far as you noted")
}

// runFilter reads those flags.
func (a *app) runFilter(c *cobra.Command, lb *crew.Session) (f crew.RunFilter, err error) {
	text := func(name string) string {
		s, _ := c.Flags().GetString(name)
		return s
	}
	f = crew.RunFilter{
		Meet: text("meet"), Setup: text("setup"), Class: text("class"), Round: text("round"), Lane: text("lane"),
		Result: text("result"), Driver: text("driver"),
	}
	f.FullPower, _ = c.Flags().GetBool("full")
	if name := text("track"); name != "" {
		t, err := lb.Track(name)
		if err != nil {
			return f, err
		}
		f.Track = t.ID
	}
	own, _ := c.Flags().GetStringArray("own")
	if err := lb.AskOwn(&f, strings.Join(own, ";")); err != nil {
		return f, err
	}
	zone, err := a.raceZone(lb)
	if err != nil {
		return f, err
	}
	if f.From, err = a.momentFlag(c, "from", a.now(), zone); err != nil {
		return f, err
	}
	if f.Before, err = a.momentFlag(c, "to", a.now(), zone); err != nil {
		return f, err
	}
	if to := text("to"); typed.DayAlone(to) {
		f.Before = f.Before.AddDate(0, 0, 1)
	} else if to != "" {
		f.Before = f.Before.Add(time.Second)
	}
	f.LowFt, f.HighFt, err = typed.AirRange(bareIn(c), text("da"))
	return f, usage(err)
}

// momentFlag reads a time flag, the zero time when it was not given.
func (a *app) momentFlag(c *cobra.Command, name string, now time.Time, zone *time.Location) (time.Time, error) {
	if !c.Flags().Changed(name) {
		return time.Time{}, nil
	}
	return a.flagTime(c, name, now, zone)
}
