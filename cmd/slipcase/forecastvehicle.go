package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// forecastVehicle forecasts a vehicle's next run from its setup, its own runs and
// the air.
func (a *app) forecastVehicle(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	next, err := a.next(c, lb, v)
	if err != nil {
		return err
	}
	x, err := next.Forecast()
	if err != nil {
		return fmt.Errorf("%s: %w", v.ID, err)
	}
	if why, _ := c.Flags().GetBool("why"); why {
		if err := x.AskWhy(); err != nil {
			return fmt.Errorf("%s: %w", v.ID, err)
		}
	}
	return a.page.NextRun(x)
}

// next is the run to come of a vehicle at the command's track and time, in the air of
// the flags or, without any, that of the log as it can be known now.
func (a *app) next(c *cobra.Command, lb *crew.Session, v logbook.Vehicle) (n crew.Next, err error) {
	track, err := a.raceTrack(c, lb)
	if err != nil {
		return n, err
	}
	at, err := a.at(c, "at", a.zone(track))
	if err != nil {
		return n, err
	}
	air, err := a.airGiven(c, track, func(r weather.Reading) (weather.Reading, units.Number, error) {
		return lb.PressureNear(r, track.ID, at)
	})
	if err != nil {
		return n, err
	}
	lane, _ := c.Flags().GetString("lane") // "" where a command asks for none
	return lb.Next(crew.NextAsk{Vehicle: v.ID, Track: track.ID, Lane: lane, At: at, Air: air})
}
