package weather

import (
	"fmt"

	"slipcase/weather/units"
)

// The range of a sea-level barometer, inHg, outside hurricanes and the deepest
// winter (common practice, no source). It is as narrow as a racing season allows:
// from about 800 ft on it tells a reduced barometer typed as station pressure.
const lowBarometerInHg, highBarometerInHg = 28.7, 30.7

// Doubts names what in the reading is possible but implausible at a track: most
// often a wrong unit. A caller asks before it records such a reading. A reading
// that is impossible has no doubts but an error from Air.
func (r Reading) Doubts(elevationFt units.Number) []string {
	a, _, err := r.Air(elevationFt)
	if err != nil {
		return nil
	}
	var doubts []string
	doubt := func(when bool, format string, args ...any) {
		if when {
			doubts = append(doubts, fmt.Sprintf(format, args...))
		}
	}
	switch t := a.TempF; {
	case t > 130:
		doubt(true, "temperature %.1f F is hotter than any track: a temperature in C is written like 31C", t)
	case t < -40:
		doubt(true, "temperature %.1f F is colder than any track", t)
	}
	if dew := a.DewPointF(); dew.Known() {
		doubt(dew.Value() > 90, "a dew point of %.0f F is more water than open air holds: look at the temperature and humidity again", dew.Value())
	}
	doubt(r.RHPct.Known() && r.RHPct.Value() > 0 && r.RHPct.Value() <= 1,
		"relative humidity %g %% is drier than any desert: a fraction such as 0.45 is written 45", r.RHPct.Value())
	doubt(r.WindMPH.Value() > 60, "a wind of %.0f mph is a storm: no one races in that", r.WindMPH.Value())
	if r.StationInHg.Known() && elevationFt.Known() {
		if d := stationDoubt(a.StationInHg, elevationFt.Value()); d != "" {
			doubts = append(doubts, d)
		}
	}
	for _, q := range []struct {
		name string
		n    units.Number
	}{{"altimeter setting", r.AltimeterInHg}, {"sea-level pressure", r.SeaLevelInHg}} {
		v := q.n.Value()
		doubt(q.n.Known() && (v < lowBarometerInHg || v > highBarometerInHg),
			"%s %.2f inHg is outside %.1f to %.1f inHg: a barometer that is not reduced to sea level is written as station pressure",
			q.name, v, lowBarometerInHg, highBarometerInHg)
	}
	return doubts
}

// stationDoubt says when a station pressure cannot be one at that elevation.
// Below about 600 ft a sea-level barometer passes for one and nothing can tell.
func stationDoubt(inHg, elevationFt float64) string {
	if asAltimeter := altimeterFromStation(inHg, elevationFt); asAltimeter >= lowBarometerInHg && asAltimeter <= highBarometerInHg {
		return ""
	}
	low := stationFromAltimeter(lowBarometerInHg, elevationFt)
	high := stationFromAltimeter(highBarometerInHg, elevationFt)
	at := units.Group(fmt.Sprintf("%.0f", elevationFt))
	hint := "look at the elevation and at the unit of the pressure again"
	if inHg > high && inHg >= lowBarometerInHg && inHg <= highBarometerInHg {
		hint = "a barometer or weather report that is reduced to sea level is given as altimeter setting instead"
	}
	return fmt.Sprintf("station pressure %.2f inHg cannot be that at %s ft, where it is %.2f to %.2f inHg: %s", inHg, at, low, high, hint)
}
