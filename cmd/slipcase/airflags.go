package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// registerReading gives a command the flags of a reading.
func registerReading(c *cobra.Command) {
	registerStill(c)
	register(c, typed.ReadingFields[len(typed.StillFields):])
}

// registerStill gives a command those of a reading but the wind's.
func registerStill(c *cobra.Command) {
	register(c, typed.StillFields)
	c.Flags().String("metar", "", "a METAR report, pasted whole, instead of the instruments")
}

// reading reads the air flags of a command. given is false when there were none.
func reading(c *cobra.Command) (r weather.Reading, report weather.Report, given bool, err error) {
	for _, f := range typed.ReadingFields {
		given = given || c.Flags().Changed(f.Flag)
	}
	if c.Flags().Changed("metar") {
		text, _ := c.Flags().GetString("metar")
		if report, err = weather.ParseMETAR(text); err != nil {
			return r, report, true, usagef("--metar: %v", err)
		}
		r, given = report.Reading, true
	}
	return r, report, given, apply(c, typed.ReadingFields, &r)
}

// airGiven is the air of the flags at a track, nil without any. near gives it the pressure
// that the log has where none was given, nil where there is no log to ask.
func (a *app) airGiven(c *cobra.Command, track logbook.Track,
	near func(weather.Reading) (weather.Reading, units.Number, error),
) (*crew.Estimate, error) {
	r, report, given, err := reading(c)
	var taken units.Number
	if given && err == nil && near != nil {
		r, taken, err = near(r)
	}
	if err == nil && anyChanged(c, "wind", "wind-from") {
		err = asked(c, crew.CheckWind(r, track))
	}
	if err != nil || !given {
		return nil, err
	}
	e, err := a.airOf(c, r, report, track.ElevationFt)
	if err == nil && taken.Known() {
		e.Notes = append(e.Notes, weather.Note{Kind: weather.PressureTaken, StationInHg: taken.Value()})
	}
	return e, err
}

// airOf is the air that a reading makes, unless it is hard to believe and not forced.
func (a *app) airOf(c *cobra.Command, r weather.Reading, report weather.Report, elevation units.Number,
) (*crew.Estimate, error) {
	e, doubts, err := crew.ReadAir(r, report, elevation)
	if err != nil {
		return nil, usage(err)
	}
	notes, err := a.doubted(c, doubts)
	if err != nil {
		return nil, err
	}
	e.Notes = append(e.Notes, notes...)
	return &e, nil
}

// airFlags names the flags of a reading.
func airFlags() []string {
	names := []string{"metar"}
	for _, f := range typed.ReadingFields {
		names = append(names, f.Flag)
	}
	return names
}
