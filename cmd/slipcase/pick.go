package main

import (
	"cmp"
	"errors"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"

	"github.com/spf13/cobra"
)

// vehicleFlag is the vehicle named by the flag, "" when none is.
func vehicleFlag(c *cobra.Command, lb *crew.Session) (string, error) {
	name, _ := c.Flags().GetString("vehicle")
	if name == "" {
		return "", nil
	}
	v, err := lb.Vehicle(name)
	return v.ID, err
}

// theVehicle is the vehicle named by the flag, that of the day, or the only one there is.
func (a *app) theVehicle(c *cobra.Command, lb *crew.Session) (logbook.Vehicle, error) {
	name, _ := c.Flags().GetString("vehicle")
	if name = cmp.Or(name, lb.InUse().Vehicle); name != "" {
		return lb.VehicleNamed(name)
	}
	vs, err := lb.Vehicles()
	if err != nil {
		return logbook.Vehicle{}, err
	}
	switch len(vs) {
	case 1:
		return vs[0], nil
	case 0:
		return logbook.Vehicle{}, errNoVehicle
	}
	names := make([]string, len(vs))
	for i, v := range vs {
		names[i] = v.ID
	}
	return logbook.Vehicle{}, usagef("--vehicle is missing: want one of %s", strings.Join(names, ", "))
}

// errNoVehicle is that of a log in which nothing can be recorded yet.
var errNoVehicle = &advised{
	errors.New("no vehicle in the logbook yet"),
	"first   slipcase vehicle add heron --kind car --aspiration natural",
}

// theTrack is the track named by the flag, that of the day, the only one there is, or that
// of the latest slip or reading of the day; its id is empty where none of them tells it.
func (a *app) theTrack(c *cobra.Command, lb *crew.Session) (logbook.Track, error) {
	name, _ := c.Flags().GetString("track")
	if name = cmp.Or(name, lb.InUse().Track); name != "" {
		return lb.TrackNamed(name)
	}
	ts, err := lb.Tracks()
	if err != nil || len(ts) == 0 {
		return logbook.Track{}, err
	}
	if len(ts) == 1 {
		return ts[0], nil
	}
	return lb.TrackOfDay(ts, func(zone *time.Location) (time.Time, error) { return a.at(c, "at", zone) })
}

// raceTrack is theTrack for what goes wrong at another one: with several in the log and
// nothing of that day at any it has to be named.
func (a *app) raceTrack(c *cobra.Command, lb *crew.Session) (logbook.Track, error) {
	t, err := a.theTrack(c, lb)
	if err != nil || t.ID != "" {
		return t, err
	}
	ts, err := lb.Tracks()
	if err != nil || len(ts) == 0 {
		return t, err
	}
	names := make([]string, len(ts))
	for i, t := range ts {
		names[i] = t.ID
	}
	return t, usagef(
		"--track is missing, and no slip or reading of the day tells it: want one of %s",
		strings.Join(names, ", "),
	)
}

// raceZone is the zone that all tracks share, else the machine's: a setup belongs
// to no track, but "from 2 May" means the midnight of where the car races.
func (a *app) raceZone(lb *crew.Session) (*time.Location, error) {
	tracks, err := lb.Tracks()
	if err != nil || len(tracks) == 0 {
		return a.zone(logbook.Track{}), err
	}
	for _, t := range tracks {
		if t.TimeZone != tracks[0].TimeZone {
			return a.zone(logbook.Track{}), nil
		}
	}
	return a.zone(tracks[0]), nil
}
