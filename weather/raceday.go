package weather

import (
	"math"

	"slipcase/weather/units"
)

// A race day where nothing was read: 78 °F and 50 % at the day's warmest, wide open (common
// practice, no source), at the standard pressure of the elevation, its water the same at all
// hours. The usual swing is that of the stations of course.go from April to October.
const (
	raceDayTempF, raceDayRHPct = 78.0, 50.0
	raceDaySwingF              = 6.0 // for a swing of 1
	raceDayTop                 = 1.1 // the largest swing
)

// warmest is a moment when a race day is warmest.
var warmest = moment{swing: raceDayTop}

// raceDayAir is the air of a race day at an elevation, ft, and a moment.
func raceDayAir(elevationFt float64, m moment) Air {
	a := Air{TempF: raceDayTempF, StationInHg: standardInHgAt(elevationFt)}
	a.VapourInHg = raceDayRHPct / 100 * saturatedVapourPa(a.pressurePa(), a.kelvin()) / units.PascalPerInHg
	a.TempF += raceDaySwingF * (m.swing - raceDayTop)
	return a.possible()
}

// raceDayFt is the doubt of a race day's density altitude: one standard deviation, ft, without
// its swing: 1,500 ft in 8 of 10.
func raceDayFt() float64 { return math.Hypot(weatherFt, seasonFt) }
