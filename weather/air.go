package weather

import "slipcase/weather/units"

// Air is the state of the air that an engine breathes and a body pushes
// through; everything else about it follows from these three. It comes from
// Reading.Air, which lets no impossible state through.
type Air struct {
	TempF       float64
	StationInHg float64 // absolute pressure at the track
	VapourInHg  float64 // partial pressure of water vapour
}

func (a Air) kelvin() float64     { return kelvin(a.TempF) }
func (a Air) pressurePa() float64 { return a.StationInHg * units.PascalPerInHg }
func (a Air) vapourPa() float64   { return a.VapourInHg * units.PascalPerInHg }

// waterFraction is the mole fraction of water.
func (a Air) waterFraction() float64 { return a.VapourInHg / a.StationInHg }

// DryInHg is the partial pressure of the dry air, inHg: what power correction
// standards call the dry barometer.
func (a Air) DryInHg() float64 { return a.StationInHg - a.VapourInHg }

// DensityKgM3 is the density of the moist air, kg/m³: CIPM-2007 eq. (1). The
// paper claims 22 parts per million for 15-27 °C and 600-1100 hPa; over what a
// track sees (-10 to 45 °C) the ideal gas stays within 0.1 % of it.
func (a Air) DensityKgM3() float64 {
	xv := a.waterFraction()
	return molarDensity(a.pressurePa(), a.kelvin(), xv) * ((1-xv)*molarDryAir + xv*molarWater)
}

// DryDensityKgM3 is the mass of dry air in a cubic metre, kg/m³: the part of
// the density that carries the oxygen.
func (a Air) DryDensityKgM3() float64 {
	xv := a.waterFraction()
	return molarDensity(a.pressurePa(), a.kelvin(), xv) * (1 - xv) * molarDryAir
}

func kelvin(f float64) float64     { return (f-32)/1.8 + zeroCelsius }
func fahrenheit(k float64) float64 { return (k-zeroCelsius)*1.8 + 32 }
