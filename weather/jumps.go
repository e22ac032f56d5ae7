package weather

import (
	"math"
	"time"

	"slipcase/weather/units"
)

// The air at one place does not change by more than this within JumpWithin, but for a
// thunderstorm's front (common practice, no source).
const (
	JumpWithin = time.Hour
	jumpF      = 15.
	jumpInHg   = 0.2
	jumpFt     = 1200.
)

// Jumps doubts a reading that is far from another one made within JumpWithin of it at
// the same place.
func (r Reading) Jumps(near Timed, elevationFt units.Number) (doubts []Doubt) {
	is, _, err := r.Air(elevationFt)
	was, _, err2 := near.Reading.Air(elevationFt)
	if err != nil || err2 != nil {
		return nil
	}
	if r.DensityAltitudeFt.Known() || near.Reading.DensityAltitudeFt.Known() {
		// 15 °F, 0.2 inHg and the water that they leave open.
		if now := is.DensityAltitudeFt(); math.Abs(now-was.DensityAltitudeFt()) > jumpFt {
			doubts = append(
				doubts,
				Doubt{Quantity: DensityAltitude, Value: now, Jump: now - was.DensityAltitudeFt(), Since: near.Time},
			)
		}
		return doubts
	}
	if d := is.TempF - was.TempF; math.Abs(d) > jumpF {
		doubts = append(doubts, Doubt{Quantity: Temperature, Value: is.TempF, Jump: d, Since: near.Time})
	}
	if d := is.StationInHg - was.StationInHg; r.pressed() && near.Reading.pressed() && math.Abs(d) > jumpInHg {
		doubts = append(doubts, Doubt{Quantity: StationPressure, Value: is.StationInHg, Jump: d, Since: near.Time})
	}
	return doubts
}

// pressed reports that a pressure was read, and not taken from the elevation alone.
func (r Reading) pressed() bool {
	return r.StationInHg.Known() || r.AltimeterInHg.Known() || r.SeaLevelInHg.Known()
}
