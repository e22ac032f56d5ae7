package weather

import (
	"math"

	"slipcase/weather/units"
)

// Altimeter setting: Smithsonian Meteorological Tables, 6th ed. (1951), p. 269,
// in hPa and metres; an aircraft's altimeter stands 3 m up, hence the 0.3 hPa.
const (
	altimeterExp      = 0.190284
	altimeterTempK    = 288.0
	altimeterOffset   = 0.3     // hPa
	altimeterPressure = 1013.25 // hPa
	hPaPerInHg        = units.PascalPerInHg / 100
)

// stationFromAltimeter gives station pressure, inHg, from an altimeter setting,
// inHg, at an elevation, ft. It is exact by definition of the setting.
func stationFromAltimeter(altimeterInHg, elevationFt float64) float64 {
	x := math.Pow(altimeterInHg*hPaPerInHg, altimeterExp) - altimeterTerm(elevationFt)
	return (math.Pow(x, 1/altimeterExp) + altimeterOffset) / hPaPerInHg
}

// altimeterFromStation is stationFromAltimeter inverted.
func altimeterFromStation(stationInHg, elevationFt float64) float64 {
	x := math.Pow(stationInHg*hPaPerInHg-altimeterOffset, altimeterExp) + altimeterTerm(elevationFt)
	return math.Pow(x, 1/altimeterExp) / hPaPerInHg
}

func altimeterTerm(elevationFt float64) float64 {
	return math.Pow(altimeterPressure, altimeterExp) * lapse * elevationFt * units.MetrePerFoot / altimeterTempK
}

// stationFromSeaLevel gives station pressure, inHg, from sea-level pressure,
// inHg, at an elevation, ft, in air of tempF with vapourInHg of water:
// WMO-No. 8, Part I, ch. 3, the reduction for low-level stations (constants
// from memory). Weather services use a temperature averaged over half a day,
// of which we know nothing: hence seaLevelDoubtF.
func stationFromSeaLevel(seaLevelInHg, elevationFt, tempF, vapourInHg float64) float64 {
	h := elevationFt * units.MetrePerFoot
	columnK := kelvin(tempF) + lapse*h/2 + 0.12*vapourInHg*hPaPerInHg
	return seaLevelInHg * math.Pow(10, -0.0148275*h/columnK)
}

// seaLevelDoubtF is one standard deviation of the temperature that a service
// put under its station when it reduced to sea level, °F: half of the usual
// range of a clear day (common practice, no source).
const seaLevelDoubtF = 10.0
