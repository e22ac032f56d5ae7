package main

import (
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
)

func lanesOf(s slip, t logbook.Track) [2]predict.LaneRun {
	lanes := crew.LanesOf(s, t)
	for i := range lanes {
		lanes[i].Name = laneNames[i]
	}
	return lanes
}
