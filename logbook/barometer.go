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
	byTrack := map[string][]*Reading{} // those with their own, by time
	for i := range readings {
		if r := &readings[i]; r.StationInHg.Known() {
			byTrack[r.Track] = append(byTrack[r.Track], r)
		}
	}
	for _, own := range byTrack {
		slices.SortStableFunc(own, func(a, b *Reading) int { return a.Time.Compare(b.Time.Time) })
	}
	for i, r := range readings {
		if own := byTrack[r.Track]; !hasPressure(r) {
			if o := nearestOf(own, r.Time.Time); o != nil && o.Time.Sub(r.Time.Time).Abs() <= still {
				filled[i].StationInHg = o.StationInHg
			}
		}
	}
	return filled
}

// nearestOf is the reading nearest to a time, of some by time: the later of two as near; nil of none.
func nearestOf(own []*Reading, t time.Time) *Reading {
	later, _ := slices.BinarySearchFunc(own, t, func(r *Reading, t time.Time) int { return r.Time.Compare(t) })
	switch {
	case len(own) == 0:
		return nil
	case later == len(own) || later > 0 && t.Sub(own[later-1].Time.Time) < own[later].Time.Sub(t):
		return own[later-1]
	}
	return own[later]
}

func hasPressure(r Reading) bool {
	return slices.ContainsFunc([]units.Number{r.StationInHg, r.AltimeterInHg, r.SeaLevelInHg}, units.Number.Known)
}
