package typed

import (
	"slices"

	"slipcase/weather"
	"slipcase/weather/units"
)

// StillFields are the instruments that tell the air, for every command that takes it.
var StillFields = []Field[weather.Reading]{
	NumberField("temp", "air temperature, as {88F|31C}", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.TempF }),
	NumberField("rh", "relative humidity, percent", units.Percent,
		func(r *weather.Reading) *units.Number { return &r.RHPct }),
	NumberField("dew-point", "dew point instead of --rh", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.DewPointF }),
	NumberField("wet-bulb", "wet bulb instead of --rh", units.Temperature,
		func(r *weather.Reading) *units.Number { return &r.WetBulbF }),
	NumberField("station", "pressure a barometer at the track feels, as {28.94inHg|980hPa}", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.StationInHg }),
	NumberField("altimeter", "altimeter setting instead of --station, as {29.95inHg|1014hPa}", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.AltimeterInHg }),
	NumberField("sea-level", "sea-level pressure instead of --station", units.Pressure,
		func(r *weather.Reading) *units.Number { return &r.SeaLevelInHg }),
	NumberField("da", "density altitude instead, where that alone was read, as {1,855ft|565m}", units.Length,
		func(r *weather.Reading) *units.Number { return &r.DensityAltitudeFt }),
}

// ReadingFields are all instruments.
var ReadingFields = append(slices.Clip(StillFields),
	NumberField("wind", "wind speed, as {6mph|10km/h}", units.Speed,
		func(r *weather.Reading) *units.Number { return &r.WindMPH }),
	NumberField("wind-from", "true bearing the wind blows from, 0 to 360", units.Degrees,
		func(r *weather.Reading) *units.Number { return &r.WindFromDeg }),
)
