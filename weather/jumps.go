package weather

import (
	"fmt"
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
)

// Jumps doubts a reading that is far from another one made within JumpWithin of it at
// the same place, near; name says which that is.
func (r Reading) Jumps(near Reading, elevationFt units.Number, name string) []string {
	is, _, err := r.Air(elevationFt)
	was, _, err2 := near.Air(elevationFt)
	if err != nil || err2 != nil {
		return nil
	}
	var doubts []string
	if d := is.TempF - was.TempF; math.Abs(d) > jumpF {
		doubts = append(doubts, fmt.Sprintf("temperature %.1f F is %+.1f F from %s", is.TempF, d, name))
	}
	if d := is.StationInHg - was.StationInHg; r.pressed() && near.pressed() && math.Abs(d) > jumpInHg {
		doubts = append(doubts, fmt.Sprintf("station pressure %.2f inHg is %+.2f inHg from %s", is.StationInHg, d, name))
	}
	return doubts
}

// pressed reports that a pressure was read, and not taken from the elevation alone.
func (r Reading) pressed() bool {
	return r.StationInHg.Known() || r.AltimeterInHg.Known() || r.SeaLevelInHg.Known()
}
