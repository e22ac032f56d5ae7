package powertrain

import "math"

// Air is the air of a run.
type Air struct {
	Kelvin, DryPa, VapourPa float64
	Headwind                float64 // m/s, negative from behind
}

// Standard is dry air of 15 °C at sea level (ISO 2533).
var Standard = Air{Kelvin: 288.15, DryPa: 101325}

// Density by the gas laws of dry air and vapour, kg/m³.
func (a Air) Density() float64 { return (a.DryPa/287.05 + a.VapourPa/461.5) / a.Kelvin }

// Hold says what stays when the ambient pressure changes.
type Hold int

// The holds: an engine without boost, a blower of fixed drive (pressure ratio), a
// turbo held by a spring (pressure above ambient) or by a sensor (absolute pressure).
const (
	Unboosted Hold = iota
	Ratio
	Gauge
	Absolute
)

// Breathing is how the charge follows the air.
type Breathing struct {
	Hold         Hold
	BoostPa      float64 // above ambient, at sea level
	Efficiency   float64 // adiabatic, of the compressor
	Intercooler  float64 // effectiveness, 0 without one
	PressureLaw  float64 // exponent of the charge's pressure: 1 where the mixture follows
	TemperatureE float64 // exponent of the charge's temperature, 0.5 by Heywood ch. 2
}

// charge is the mass of dry air an intake stroke takes in over that in standard air.
func (b Breathing) charge(a Air) float64 { return b.mass(a) / b.mass(Standard) }

func (b Breathing) mass(a Air) float64 {
	ambient := a.DryPa + a.VapourPa
	p := ambient
	switch b.Hold {
	case Ratio:
		p = ambient * (Standard.DryPa + b.BoostPa) / Standard.DryPa
	case Gauge:
		p = ambient + b.BoostPa
	case Absolute:
		p = max(Standard.DryPa+b.BoostPa, ambient)
	}
	t := a.Kelvin
	if p > ambient {
		// Heywood ch. 6: T2/T1 - 1 = (r^((γ-1)/γ) - 1)/η, of which an intercooler takes a share.
		t *= 1 + (1-b.Intercooler)*(math.Pow(p/ambient, 0.4/1.4)-1)/b.Efficiency
	}
	dry := p * a.DryPa / ambient
	return math.Pow(dry, b.PressureLaw) / math.Pow(t, b.TemperatureE)
}
