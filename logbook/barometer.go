package logbook

import (
	"slices"
	"time"

	"slipcase/weather/units"
)

// still is how long the pressure at a track is taken to stay: it moves less in that time
// than the standard pressure is off.
const still = 2 * time.Hour

// WithPressure fills in the station pressure of readings that came without any, from the
// reading nearest in time at their track that has its own, within two hours. What is
// filled in is worked out and not recorded, so that it moves when its source is amended.
func WithPressure(readings []Reading) []Reading {
	filled := slices.Clone(readings)
	for i, r := range readings {
		if hasPressure(r) {
			continue
		}
		nearest, at := still, -1
		for k, o := range readings {
			if apart := o.Time.Sub(r.Time.Time).Abs(); o.StationInHg.Known() && o.Track == r.Track && apart <= nearest {
				nearest, at = apart, k
			}
		}
		if at >= 0 {
			filled[i].StationInHg = readings[at].StationInHg
		}
	}
	return filled
}

func hasPressure(r Reading) bool {
	return slices.ContainsFunc([]units.Number{r.StationInHg, r.AltimeterInHg, r.SeaLevelInHg}, units.Number.Known)
}
