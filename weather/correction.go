package weather

import (
	"math"

	"slipcase/weather/units"
)

// Each factor multiplies the power measured in this air to give what its
// standard would state; below 1 the air is better than the standard's.

// SAEJ1349 is the factor of SAE J1349 for spark-ignition engines, to 99 kPa
// dry and 25 °C, with 15 % of the brake power taken as friction that the air
// does not touch. Limits: factor 0.93-1.07, 15-35 °C, 90-105 kPa dry (memory).
func (a Air) SAEJ1349() float64 {
	return 1.18*(99/a.dryKPa())*math.Sqrt(a.kelvin()/298.15) - 0.18
}

// SAEJ607 is the factor of the older SAE J607, called "standard" by the trade:
// to 29.92 inHg dry and 60 °F (520 °R). No limits of application are known to us.
func (a Air) SAEJ607() float64 {
	return 29.92 / a.DryInHg() * math.Sqrt((a.TempF+459.67)/520)
}

// DIN70020 is the factor of DIN 70020: to 1013 hPa, humidity not counted, and
// 20 °C. No limits of application are known to us.
func (a Air) DIN70020() float64 {
	return 1013 / (a.StationInHg * hPaPerInHg) * math.Sqrt(a.kelvin()/293)
}

// ISO1585 is the factor of ISO 1585 and UN ECE Regulation 85 for
// spark-ignition engines: to 99 kPa dry and 25 °C. Limits: factor 0.93-1.07.
// Formula and limits are from memory.
func (a Air) ISO1585() float64 {
	return math.Pow(99/a.dryKPa(), 1.2) * math.Pow(a.kelvin()/298, 0.6)
}

// Beyond is a limit of a correction standard that an air is outside of.
type Beyond struct {
	Standard         string
	Quantity         Quantity // Temperature, °F, or DryPressure, inHg; empty: the factor itself
	Value, Low, High float64
}

// CorrectionLimits says in which standards this air is outside the limits of
// application; the standards that state none are not named. The limits are from
// memory.
func (a Air) CorrectionLimits() (list []Beyond) {
	outside := func(b Beyond) {
		if b.Value < b.Low || b.Value > b.High {
			list = append(list, b)
		}
	}
	const inHgPerKPa = 1000 / units.PascalPerInHg
	outside(Beyond{"SAE J1349", "", a.SAEJ1349(), 0.93, 1.07})
	outside(Beyond{"ISO 1585", "", a.ISO1585(), 0.93, 1.07})
	outside(Beyond{"SAE J1349", Temperature, a.TempF, 59, 95}) // 15 to 35 °C
	outside(Beyond{"SAE J1349", DryPressure, a.DryInHg(), 90 * inHgPerKPa, 105 * inHgPerKPa})
	return list
}

func (a Air) dryKPa() float64 { return a.DryInHg() * units.PascalPerInHg / 1000 }
