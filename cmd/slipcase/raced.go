package main

import (
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
)

func racedTo(s slip, t logbook.Track) predict.Mark { return crew.RacedTo(s, t) }

func lanesOf(s slip, t logbook.Track) [2]predict.LaneRun {
	return crew.LanesOf(s, t)
}

func otherLaneOf(s slip) predict.LaneRun { return crew.OtherLane(s) }
