package main

import (
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// judged is a run held against what was expected of it, with its words.
type judged struct{ crew.Judged }

func densityAltitude(r logbook.Run) units.Number       { return crew.DensityAltitude(r) }
func inStandardAir(c predict.Corrected) predict.Splits { return crew.InStandardAir(c) }

func (j judged) headline() string {
	s := j.Run.Slip
	name := s.Vehicle
	if j.Run.Vehicle.ID != "" {
		name = j.Run.Vehicle.Name()
	}
	switch {
	case j.Run.Track.ID != "":
		name += " at " + j.Run.Track.Name()
	case s.Track != "":
		name += " at " + s.Track
	}
	parts := []string{name}
	for _, p := range []string{s.Round, s.Lane} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	head := strings.Join(append(parts, when(s.Time.Time)), ", ")
	if s.Status == logbook.Void {
		head += " (void)"
	}
	return table.Clean(head)
}
