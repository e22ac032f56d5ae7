package weather

import (
	"math"
	"time"

	"slipcase/weather/units"
)

// The range of a sea-level barometer, inHg, outside hurricanes and the deepest
// winter (common practice, no source). It is as narrow as a racing season allows:
// from about 800 ft on it tells a reduced barometer typed as station pressure.
const lowBarometerInHg, highBarometerInHg = 28.7, 30.7

// Doubt is a figure of a reading that can be, but hardly at a track.
type Doubt struct {
	Quantity    Quantity
	Value       float64 // °F, %, mph or inHg, as all below
	Low, High   float64 // what is usual, or there; outside of it is the value
	ElevationFt float64 // StationPressure: of the track
	AsSetting   bool    // StationPressure: it would do as one reduced to sea level
	TempF       float64 // DensityAltitude: what it asks for
	Jump        float64 // from the reading at Since, where that is the doubt
	Since       time.Time
}

// Quantity is what an instrument reads.
type Quantity string

// The quantities.
const (
	Temperature      Quantity = "temperature"
	RelativeHumidity Quantity = "relative humidity"
	DewPoint         Quantity = "dew point"
	WetBulb          Quantity = "wet bulb"
	Wind             Quantity = "wind"
	WindDirection    Quantity = "wind direction"
	DryPressure      Quantity = "dry pressure"
	StationPressure  Quantity = "station pressure"
	AltimeterSetting Quantity = "altimeter setting"
	SeaLevelPressure Quantity = "sea-level pressure"
	Elevation        Quantity = "elevation"
	DensityAltitude  Quantity = "density altitude"
)

// What no track has seen, common practice, no source: hotter, colder or wetter air, a
// humidity as low (it is a fraction of one), a wind as strong.
const (
	hottestF, coldestF = 130, -40
	wettestF           = 90 // dew point
	driestPct          = 1
	stormMPH           = 60
	// What a density altitude may ask for, at the standard pressure: raced in, with room for
	// the weather's pressure.
	coolestAloneF, warmestAloneF = 10, 125
)

// Doubts names what in the reading is possible but implausible at a track: most
// often a wrong unit. A caller asks before it records such a reading. A reading
// that is impossible has no doubts but an error from Air.
func (r Reading) Doubts(elevationFt units.Number) (doubts []Doubt) {
	a, _, err := r.Air(elevationFt)
	if err != nil {
		return nil
	}
	outside := func(of Quantity, n units.Number, low, high float64) {
		if v := n.Value(); n.Known() && (v < low || v > high) {
			doubts = append(doubts, Doubt{Quantity: of, Value: v, Low: low, High: high})
		}
	}
	if da := r.DensityAltitudeFt; da.Known() && (a.TempF < coolestAloneF || a.TempF > warmestAloneF) {
		doubts = append(
			doubts,
			Doubt{Quantity: DensityAltitude, Value: da.Value(), ElevationFt: elevationFt.Value(), TempF: a.TempF},
		)
	}
	outside(Temperature, r.TempF, coldestF, hottestF)
	outside(DewPoint, a.DewPointF(), math.Inf(-1), wettestF)
	if rh := r.RHPct; rh.Value() > 0 && rh.Value() <= driestPct {
		doubts = append(doubts, Doubt{Quantity: RelativeHumidity, Value: rh.Value(), Low: driestPct, High: 100})
	}
	outside(Wind, r.WindMPH, 0, stormMPH)
	if r.StationInHg.Known() && elevationFt.Known() {
		if d, doubted := stationDoubt(a.StationInHg, elevationFt.Value()); doubted {
			doubts = append(doubts, d)
		}
	}
	outside(AltimeterSetting, r.AltimeterInHg, lowBarometerInHg, highBarometerInHg)
	outside(SeaLevelPressure, r.SeaLevelInHg, lowBarometerInHg, highBarometerInHg)
	return doubts
}

// stationDoubt says when a station pressure cannot be one at that elevation.
// Below about 600 ft a sea-level barometer passes for one and nothing can tell.
func stationDoubt(inHg, elevationFt float64) (d Doubt, doubted bool) {
	if asAltimeter := altimeterFromStation(inHg, elevationFt); asAltimeter >= lowBarometerInHg &&
		asAltimeter <= highBarometerInHg {
		return d, false
	}
	d = Doubt{Quantity: StationPressure, Value: inHg, ElevationFt: elevationFt}
	d.Low = stationFromAltimeter(lowBarometerInHg, elevationFt)
	d.High = stationFromAltimeter(highBarometerInHg, elevationFt)
	d.AsSetting = inHg > d.High && inHg >= lowBarometerInHg && inHg <= highBarometerInHg
	return d, true
}
