package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// askSlip prompts for what the flags did not give, in the order of a paper slip.
// Vehicle, track and round are offered as they were on the last slip.
func (a *app) askSlip(c *cobra.Command, lb *logbook.Logbook, s *slip) error {
	last, err := lb.Slip("last")
	if err != nil {
		last = slip{} // the first slip, or a damaged last one: nothing to offer
	}
	if err := a.askFlag(c, "vehicle", last.Vehicle, func(name string) error { _, err := lb.Vehicle(name); return err }); err != nil {
		return err
	}
	if err := a.askFlag(c, "track", last.Track, func(name string) error { _, err := lb.Track(name); return err }); err != nil {
		return err
	}
	offered := map[string]string{"lane": last.Lane, "round": last.Round}
	for _, f := range slipFields[:asked] {
		if c.Flags().Changed(f.flag) {
			continue
		}
		for {
			text, err := a.ask(fmt.Sprintf("%-9s", f.flag), offered[f.flag])
			if err != nil {
				return err
			}
			trial := *s
			if err = f.set(&trial, text); err == nil {
				err = possible(trial, a.now())
			}
			if err == nil {
				*s = trial
				break
			}
			fmt.Fprintf(a.terminal, "  %s\n", table.Clean(err.Error()))
		}
	}
	return nil
}

// possible checks a slip that is not typed to its end: what cannot be is asked for
// again at once, before the rest is typed for nothing.
func possible(s slip, now time.Time) error {
	s.Vehicle, s.Time = "any", logbook.Time{Time: now}
	s.ReactionS = units.Some(s.ReactionS.Or(0))
	return s.Check()
}

// askFlag prompts for a flag that is not given, until check takes the answer.
func (a *app) askFlag(c *cobra.Command, name, offered string, check func(string) error) error {
	for !c.Flags().Changed(name) {
		text, err := a.ask(fmt.Sprintf("%-9s", name), offered)
		if err != nil {
			return err
		}
		if text == "" {
			return nil // theVehicle and theTrack take the only one, or say what to give
		}
		if err := check(text); err != nil {
			fmt.Fprintf(a.terminal, "  %s\n", table.Clean(err.Error()))
			continue
		}
		if err := c.Flags().Set(name, text); err != nil {
			return err
		}
	}
	return nil
}
