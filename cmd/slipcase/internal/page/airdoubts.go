package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// AirDoubts say what in a reading looks wrong.
func AirDoubts(list []crew.AirDoubt, sys units.System) []string {
	return each(list, func(d crew.AirDoubt) string { return AirDoubt(d, sys) })
}

// AirDoubt says what is hardly so at a track, and what may have been meant.
func AirDoubt(d crew.AirDoubt, sys units.System) string {
	kind, decimals := kindOf(d.Quantity, sys)
	value, symbol := plain(kind, sys, d.Value, decimals), kind.Symbol(sys)
	if kind.Name == units.Length.Name {
		value = units.Length.Format(sys, d.Value)
	}
	if d.Jump != 0 {
		change := kind.In(sys, d.Value) - kind.In(sys, d.Value-d.Jump)
		return fmt.Sprintf(
			"%s %s is %+.*f %s from the reading at %s",
			d.Quantity,
			value,
			decimals,
			change,
			symbol,
			d.Since.Format("15:04"),
		)
	}
	switch d.Quantity {
	case crew.TemperatureRead:
		if d.Value < d.Low {
			return fmt.Sprintf("temperature %s is colder than any track", value)
		}
		return fmt.Sprintf("temperature %s is hotter than any track: a temperature in C is written like 31C", value)
	case crew.DewPoint:
		return fmt.Sprintf(
			"a dew point of %s is more water than open air holds: check the temperature and humidity",
			plain(kind, sys, d.Value, 0),
		)
	case crew.RelativeHumidity:
		return fmt.Sprintf("relative humidity %g %% is drier than any desert: a fraction such as 0.45 is written 45", d.Value)
	case crew.WindRead:
		return fmt.Sprintf("a wind of %s is a storm: no one races in that", plain(kind, sys, d.Value, 0))
	case crew.DensityAltitudeRead:
		return fmt.Sprintf(
			"density altitude %s takes %s at %s",
			value,
			plain(units.Temperature, sys, d.TempF, 0),
			units.Length.Format(sys, d.ElevationFt),
		)
	case crew.StationPressure:
		hint := "check the elevation and the unit of the pressure"
		if d.AsSetting {
			hint = "a barometer or weather report that is reduced to sea level is given as altimeter setting instead"
		}
		return fmt.Sprintf(
			"station pressure %s cannot be that at %s, where it is %s: %s",
			value,
			units.Length.Format(sys, d.ElevationFt),
			lowToHigh(kind, sys, d.Low, d.High, decimals),
			hint,
		)
	}
	return fmt.Sprintf("%s %s is outside %s: a barometer that is not reduced to sea level is written as station pressure",
		d.Quantity, value, lowToHigh(kind, sys, d.Low, d.High, 1))
}

// kindOf is how a quantity is shown, and with how many decimals.
func kindOf(q crew.AirQuantity, sys units.System) (units.Kind, int) {
	switch q {
	case crew.TemperatureRead, crew.DewPoint:
		return units.Temperature, 1
	case crew.WindRead:
		return units.Speed, 0
	case crew.RelativeHumidity:
		return units.Percent, 0
	case crew.DensityAltitudeRead:
		return units.Length, 0
	}
	if sys == units.US {
		return units.Pressure, 2
	}
	return units.Pressure, 1
}
