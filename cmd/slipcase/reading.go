package main

import (
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// stillFields are the instruments that tell the air, for every command that takes it.
var stillFields = []typed.Field[weather.Reading]{
	typed.NumberField("temp", "air temperature, as {88F|31C}", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.TempF }),
	typed.NumberField("rh", "relative humidity, percent", units.Percent,
		func(r *weather.Reading) *units.Number { return &r.RHPct }),
	typed.NumberField("dew-point", "dew point instead of --rh", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.DewPointF }),
	typed.NumberField("wet-bulb", "wet bulb instead of --rh", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.WetBulbF }),
	typed.NumberField("station", "pressure a barometer at the track feels, as {28.94inHg|980hPa}", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.StationInHg }),
	typed.NumberField("altimeter", "altimeter setting instead of --station, as {29.95inHg|1014hPa}", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.AltimeterInHg }),
	typed.NumberField("sea-level", "sea-level pressure instead of --station", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.SeaLevelInHg }),
	typed.NumberField("da", "density altitude instead, where that alone was read, as {1,855ft|565m}", units.Length,
		func(r *weather.Reading) *units.Number { return &r.DensityAltitudeFt }),
}

// readingFields are all instruments.
var readingFields = append(slices.Clip(stillFields),
	typed.NumberField("wind", "wind speed, as {6mph|10km/h}", units.Speed,
		func(r *weather.Reading) *units.Number { return &r.WindMPH }),
	typed.NumberField("wind-from", "true bearing the wind blows from, 0 to 360", units.Degrees,
		func(r *weather.Reading) *units.Number { return &r.WindFromDeg }),
)

// registerReading gives a command the flags of a reading.
func registerReading(c *cobra.Command) {
	registerStill(c)
	register(c, readingFields[len(stillFields):])
}

// registerStill gives a command those of a reading but the wind's.
func registerStill(c *cobra.Command) {
	register(c, stillFields)
	c.Flags().String("metar", "", "a METAR report, pasted whole, instead of the instruments")
}

// reading reads the air flags of a command. given is false when there were none.
func reading(c *cobra.Command) (r weather.Reading, report weather.Report, given bool, err error) {
	for _, f := range readingFields {
		given = given || c.Flags().Changed(f.Flag)
	}
	if c.Flags().Changed("metar") {
		text, _ := c.Flags().GetString("metar")
		if report, err = weather.ParseMETAR(text); err != nil {
			return r, report, true, usagef("--metar: %v", err)
		}
		r, given = report.Reading, true
	}
	return r, report, given, apply(c, readingFields, &r)
}

// airGiven is the air of the flags at a track, nil without any. near gives it the pressure
// that the log has where none was given, nil where there is no log to ask.
func (a *app) airGiven(c *cobra.Command, track logbook.Track,
	near func(weather.Reading) (weather.Reading, units.Number, error),
) (*crew.Estimate, error) {
	r, report, given, err := reading(c)
	if err == nil && anyChanged(c, "wind", "wind-from") {
		err = asked(crew.CheckWind(r, track))
	}
	var taken units.Number
	if given && err == nil && near != nil {
		r, taken, err = near(r)
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
func (a *app) airOf(
	c *cobra.Command,
	r weather.Reading,
	report weather.Report,
	elevation units.Number,
) (*crew.Estimate, error) {
	e, err := weather.ReadNow(r, elevation)
	if err != nil {
		return nil, usage(err)
	}
	doubts, err := a.doubted(c, r.Doubts(elevation))
	if err != nil {
		return nil, err
	}
	e.Notes = slices.Concat(e.Notes, report.Notes(), doubts)
	return &e, nil
}

// airFlags names the flags of a reading.
func airFlags() []string {
	names := []string{"metar"}
	for _, f := range readingFields {
		names = append(names, f.Flag)
	}
	return names
}
