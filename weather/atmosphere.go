package weather

import (
	"math"

	"slipcase/weather/units"
)

// The standard atmosphere below 11 km: ISO 2533:1975, the same as the U.S.
// Standard Atmosphere 1976. Altitudes are geopotential; at a track's elevation
// the geometric foot differs by less than 0.1 %.
const (
	stdTempK      = 288.15
	stdPressurePa = 101325.0
	stdDensity    = 1.225  // kg/m³
	lapse         = 0.0065 // K/m
	gravity       = 9.80665
	gasConstant   = 287.05287 // J/(kg K)
	pressureExp   = gravity / (gasConstant * lapse)
)

// Standard is the air at sea level in the standard atmosphere: 59 °F,
// 29.9213 inHg, dry. Corrected runs are stated in it.
var Standard = Air{TempF: 59, StationInHg: stdPressurePa / units.PascalPerInHg}

// stdPressureAt is the standard pressure, Pa, at h geopotential metres below
// 11,000: the barometric formula of ISO 2533 for a layer of constant lapse.
func stdPressureAt(h float64) float64 {
	return stdPressurePa * math.Pow(1-lapse*h/stdTempK, pressureExp)
}

// standardInHgAt is the standard pressure, inHg, at an elevation in ft.
func standardInHgAt(ft float64) float64 {
	return stdPressureAt(ft*units.MetrePerFoot) / units.PascalPerInHg
}

// PressureAltitudeFt is the altitude, geopotential ft, at which the standard
// atmosphere has this pressure: stdPressureAt inverted, exact below 36,000 ft.
func (a Air) PressureAltitudeFt() float64 {
	ratio := a.pressurePa() / stdPressurePa
	return stdTempK / lapse * (1 - math.Pow(ratio, 1/pressureExp)) / units.MetrePerFoot
}

// DensityAltitudeFt is the altitude, geopotential ft, at which the standard
// atmosphere has this density, humidity counted: the density law of ISO 2533
// inverted, exact below 36,000 ft. The standard's own gas is ideal and 0.04 %
// lighter than CIPM-2007 says, so Standard itself comes out 15 ft below sea level.
func (a Air) DensityAltitudeFt() float64 {
	ratio := a.DensityKgM3() / stdDensity
	return stdTempK / lapse * (1 - math.Pow(ratio, 1/(pressureExp-1))) / units.MetrePerFoot
}

// ftPerInHg is how many feet of density altitude an inch of mercury is worth.
func (a Air) ftPerInHg() float64 {
	const step = 0.01
	b := a
	b.StationInHg += step
	return (a.DensityAltitudeFt() - b.DensityAltitudeFt()) / step
}
