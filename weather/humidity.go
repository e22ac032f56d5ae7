package weather

import (
	"math"

	"slipcase/weather/units"
)

// Humidity is always over liquid water, also below freezing, as weather
// services report it (WMO-No. 8, Part I, ch. 4): at 14 °F a frost point or an
// iced wick reads otherwise.

// grainsInLb is exact by definition of the avoirdupois pound.
const grainsInLb = 7000

// RHPct is the relative humidity over liquid water, percent.
func (a Air) RHPct() float64 {
	return 100 * a.vapourPa() / saturatedVapourPa(a.pressurePa(), a.kelvin())
}

// DewPointF is the temperature, °F, at which this air would be saturated.
// Air without any water has none, and the Number is absent.
func (a Air) DewPointF() units.Number {
	if a.VapourInHg <= 0 {
		return units.Number{}
	}
	p, want := a.pressurePa(), math.Log(a.vapourPa())
	excess := func(tK float64) float64 { return math.Log(saturatedVapourPa(p, tK)) - want }
	return units.Some(fahrenheit(rootBetween(excess, coldestK, a.kelvin()+1)))
}

// WetBulbF is the thermodynamic wet-bulb temperature, °F, over liquid water:
// ASHRAE Handbook Fundamentals 2017, ch. 1, eq. (33) solved for it.
func (a Air) WetBulbF() float64 {
	p, tK := a.pressurePa(), a.kelvin()
	want := humidityRatio(p, a.vapourPa())
	excess := func(wetK float64) float64 { return ratioFromWetBulb(p, tK, wetK) - want }
	return fahrenheit(rootBetween(excess, coldestK, tK))
}

// GrainsPerLb is the water in the air, grains per lb of dry air.
func (a Air) GrainsPerLb() float64 {
	return grainsInLb * humidityRatio(a.pressurePa(), a.vapourPa())
}

// humidityRatio is the mass of water per mass of dry air: ASHRAE Fundamentals
// 2017, ch. 1, eq. (20), with the molar masses of CIPM-2007.
func humidityRatio(pPa, vapourPa float64) float64 {
	return waterToDryAir * vapourPa / (pPa - vapourPa)
}

// vapourOfRatio is humidityRatio inverted, Pa.
func vapourOfRatio(pPa, ratio float64) float64 {
	return pPa * ratio / (waterToDryAir + ratio)
}

// ratioFromWetBulb is the humidity ratio of air at tK whose wet bulb reads
// wetK: ASHRAE Fundamentals 2017, ch. 1, eq. (33), constants in kJ/kg and °C.
// It is below zero where no air can be that dry.
func ratioFromWetBulb(pPa, tK, wetK float64) float64 {
	saturated := humidityRatio(pPa, saturatedVapourPa(pPa, wetK))
	t, wet := tK-zeroCelsius, wetK-zeroCelsius
	return ((2501-2.326*wet)*saturated - 1.006*(t-wet)) / (2501 + 1.86*t - 4.186*wet)
}

// coldestK is below any dew point or wet bulb of air on earth, -200 °F.
var coldestK = kelvin(-200)

// rootBetween finds where an increasing function crosses zero, to a billionth
// of a kelvin; it returns the end nearest to it when it does not cross.
func rootBetween(f func(float64) float64, lo, hi float64) float64 {
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
