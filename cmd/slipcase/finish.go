package main

import (
	"slices"

	"slipcase/logbook"
	"slipcase/predict"
)

// finishAt is where a run ends at a track: at its longest timed distance, and
// without one where the vehicle's runs usually do.
func finishAt(track logbook.Track, usual predict.Mark) predict.Mark {
	if len(track.LengthsFt) == 0 {
		return usual
	}
	longest := slices.Max(track.LengthsFt)
	for m := predict.At1320; m > predict.At330; m-- {
		if m.Ft() <= longest {
			return m
		}
	}
	return usual
}
