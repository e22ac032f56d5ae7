package weather

import (
	"fmt"
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

// CorrectionWarnings says in which standards this air is outside the limits of
// application; the standards that state none are not named.
func (a Air) CorrectionWarnings() []string {
	var warnings []string
	for _, s := range []struct {
		name   string
		factor float64
	}{{"SAE J1349", a.SAEJ1349()}, {"ISO 1585", a.ISO1585()}} {
		if s.factor < 0.93 || s.factor > 1.07 {
			warnings = append(warnings, fmt.Sprintf(
				"the %s factor %.3f is outside 0.93 to 1.07, that standard's limits (from memory): power corrected by it is only an estimate", s.name, s.factor))
		}
	}
	if c := a.kelvin() - zeroCelsius; c < 15 || c > 35 {
		warnings = append(warnings, fmt.Sprintf(
			"%.0f F is outside 59 to 95 F (15 to 35 C), the temperatures SAE J1349 is meant for (from memory)", a.TempF))
	}
	if p := a.dryKPa(); p < 90 || p > 105 {
		warnings = append(warnings, fmt.Sprintf(
			"%.2f inHg dry is outside 26.58 to 31.01 inHg (90 to 105 kPa), the pressures SAE J1349 is meant for (from memory)", a.DryInHg()))
	}
	return warnings
}

func (a Air) dryKPa() float64 { return a.DryInHg() * units.PascalPerInHg / 1000 }
