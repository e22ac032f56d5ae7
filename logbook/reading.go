package logbook

import (
	"slipcase/weather"
	"slipcase/weather/units"
)

// Reading is what the instruments said at a track at a moment.
type Reading struct {
	Entry
	Time  Time   `csv:"time"   json:"time"            required:"yes"`
	Track string `csv:"track"  json:"track"           required:"yes"`
	weather.Reading
	Source string `csv:"source" json:"source,omitzero"`
	Raw    string `csv:"raw"    json:"raw,omitzero"` // a report as pasted
}

// Check refuses what cannot be, at the track's elevation.
func (r Reading) Check(elevationFt units.Number) error {
	if _, _, err := r.Air(elevationFt); err != nil {
		return err
	}
	return checkRecord(&r)
}
