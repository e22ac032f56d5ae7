package season

import (
	"math"
	"math/rand/v2"

	"slipcase/weather"
	"slipcase/weather/units"
)

// state is the true air.
type state struct{ kelvin, dryKPa, vapourKPa float64 }

var standardAir = state{288.15, 101.325, 0}

// density by the gas law of dry air and vapour, kg/m³: good to 0.06 %.
func (s state) density() float64 {
	return (s.dryKPa*1000/287.05 + s.vapourKPa*1000/461.5) / s.kelvin
}

// saturation over water in kPa: Magnus form, WMO-No. 8 (2018) annex 4.B.
func saturation(celsius float64) float64 {
	return 0.6112 * math.Exp(17.62*celsius/(243.12+celsius))
}

func (s state) relativeHumidity() float64 { return s.vapourKPa / saturation(s.kelvin-273.15) }

// sky is one day's weather at one track: a warm morning climbs by some 300 to 500
// ft of density altitude an hour (common practice, no source).
type sky struct {
	morningC, climbC, dewC, stationKPa, driftKPa float64
}

// stationKPa is the pressure of the standard atmosphere (ISO 2533).
func stationKPa(elevationFt float64) float64 {
	return 101.325 * math.Pow(1-0.0065*elevationFt*units.MetrePerFoot/288.15, 5.25588)
}

func newSky(r *rand.Rand, elevationFt float64) sky {
	h := elevationFt * units.MetrePerFoot
	morning := pick(r, 6, 24) - h*0.003
	return sky{
		morningC: morning, climbC: pick(r, 8, 18), dewC: morning - pick(r, 0, 9),
		stationKPa: stationKPa(elevationFt) + 0.6*r.NormFloat64(),
		driftKPa:   0.2 * r.NormFloat64(),
	}
}

// at gives the air at an hour of the day, 9 to 19.
func (s sky) at(hour float64) state {
	p := s.stationKPa + s.driftKPa*(hour-9)/10
	vapour := saturation(s.dewC)
	warm := s.climbC * math.Sin(math.Pi/2*(hour-9)/6) // hottest at 15
	return state{s.morningC + warm + 273.15, p - vapour, vapour}
}

// exactly is the air as it is.
func (s state) exactly() weather.Air {
	return weather.Air{
		TempF:       (s.kelvin-273.15)*1.8 + 32,
		StationInHg: (s.dryKPa + s.vapourKPa) * 1000 / units.PascalPerInHg,
		VapourInHg:  s.vapourKPa * 1000 / units.PascalPerInHg,
	}
}

// read is what the racer's instruments say of it: ±0.7 °F, ±2 % humidity, ±0.01
// inHg as standard deviations.
func (s state) read(r *rand.Rand) weather.Air {
	tempC := s.kelvin - 273.15 + 0.7/1.8*r.NormFloat64()
	rh := min(max(s.relativeHumidity()+0.02*r.NormFloat64(), 0.05), 1)
	return weather.Air{
		TempF:       tempC*1.8 + 32,
		StationInHg: (s.dryKPa+s.vapourKPa)*1000/units.PascalPerInHg + 0.01*r.NormFloat64(),
		VapourInHg:  rh * saturation(tempC) * 1000 / units.PascalPerInHg,
	}
}
