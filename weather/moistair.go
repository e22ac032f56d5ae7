package weather

import "math"

// The constants of CIPM-2007: A. Picard, R. S. Davis, M. Gläser, K. Fujii,
// "Revised formula for the density of moist air (CIPM-2007)", Metrologia 45
// (2008) 149-155, with the 400 µmol/mol of carbon dioxide that it advises.
const (
	molarGas      = 8.314472    // J/(mol K), the CODATA 2006 value the paper uses
	molarDryAir   = 28.96546e-3 // kg/mol, at 400 µmol/mol of CO2
	molarWater    = 18.01528e-3 // kg/mol
	waterToDryAir = molarWater / molarDryAir

	zeroCelsius = 273.15 // K
)

// saturationPa is the saturation vapour pressure over liquid water, Pa, at tK
// kelvin: CIPM-2007, appendix A1.1. Made for 0-27 °C; against the ASHRAE tables it
// is within 8e-5 up to 50 °C, against the Smithsonian table of supercooled water
// within 0.15 % down to -20 °C.
func saturationPa(tK float64) float64 {
	return math.Exp(1.2378847e-5*tK*tK - 1.9121316e-2*tK + 33.93711047 - 6343.1645/tK)
}

// enhancement is the factor by which air at pPa lets more vapour be present
// than a vacuum would: CIPM-2007, appendix A1.2, with t in °C.
func enhancement(pPa, tK float64) float64 {
	t := tK - zeroCelsius
	return 1.00062 + 3.14e-8*pPa + 5.6e-7*t*t
}

// saturatedVapourPa is the partial pressure of water, Pa, in saturated air.
func saturatedVapourPa(pPa, tK float64) float64 {
	return enhancement(pPa, tK) * saturationPa(tK)
}

// compressibility is Z of CIPM-2007, appendix A1; xv is the mole fraction of water.
func compressibility(pPa, tK, xv float64) float64 {
	t, pt := tK-zeroCelsius, pPa/tK
	virial := 1.58123e-6 - 2.9331e-8*t + 1.1043e-10*t*t +
		(5.707e-6-2.051e-8*t)*xv + (1.9898e-4-2.376e-6*t)*xv*xv
	return 1 - pt*virial + pt*pt*(1.83e-11-0.765e-8*xv*xv)
}

// molarDensity is the number of moles of moist air in a cubic metre.
func molarDensity(pPa, tK, xv float64) float64 {
	return pPa / (compressibility(pPa, tK, xv) * molarGas * tK)
}
