package main

import (
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
)

// trackOf is the track of a slip, the zero Track where it has none that is known.
func trackOf(lb *crew.Session, s slip) logbook.Track {
	if s.Track == "" {
		return logbook.Track{}
	}
	t, err := lb.Track(s.Track)
	if err != nil {
		return logbook.Track{}
	}
	return t
}

// racedTo is the distance raced: the mark at which the round of a slip was decided.
func racedTo(s slip, t logbook.Track) predict.Mark {
	return predict.RacedTo(crew.PrintedSplits(s), t.LengthsFt, s.DialS, otherLaneOf(s))
}

// lanesOf are both lanes of a slip at the distance raced. A lane without a time there
// broke.
func lanesOf(s slip, t logbook.Track) [2]predict.LaneRun {
	m, splits := racedTo(s, t), crew.PrintedSplits(s)
	own := predict.LaneRun{ReactionS: s.ReactionS, ETS: splits.ETs[m], DialS: s.DialS, MPH: splits.MPHs[m]}
	return [2]predict.LaneRun{own, otherLaneOf(s)}
}

func otherLaneOf(s slip) predict.LaneRun {
	return predict.LaneRun{ReactionS: s.OpponentReactionS, ETS: s.OpponentETS, DialS: s.OpponentDialS, MPH: s.OpponentMPH, NotTold: !s.OpponentETS.Known()}
}
