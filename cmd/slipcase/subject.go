package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// registerSubject gives a command the flags that name a vehicle, where and in
// which air it runs.
func registerSubject(c *cobra.Command) {
	f := c.Flags()
	f.String("vehicle", "", "a vehicle of the log")
	f.String("track", "", "the track it will run at; that of today's slips or air when left out")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	registerReading(c)
	f.Bool("force", false, "take air that looks wrong as it is")
}

// prospect is the command's vehicle about to run, for changes to be tried on.
func (a *app) prospect(c *cobra.Command, lb *crew.Session) (*crew.Prospect, error) {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return nil, err
	}
	next, err := a.next(c, lb, v)
	if err != nil {
		return nil, err
	}
	return next.Prospect()
}

// tyresFlag gives a command a flag for the speed of its tyres.
func tyresFlag(c *cobra.Command, usage string) { quantityFlag(c, "tire-rating", units.Speed, usage) }
