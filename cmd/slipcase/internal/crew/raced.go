package crew

import (
	"math"

	"slipcase/predict"
)

// TrackOf is the track of a slip, the zero Track where it has none that is known.
func (s *Session) TrackOf(slip Slip) Track {
	if slip.Track == "" {
		return Track{}
	}
	t, err := s.Track(slip.Track)
	if err != nil {
		return Track{}
	}
	return t
}

// MarkAt is the mark at a distance, within a foot.
func MarkAt(ft float64) (Mark, bool) {
	for m := range Marks {
		if math.Abs(m.Ft()-ft) < 1 {
			return m, true
		}
	}
	return 0, false
}

// RacedTo is the distance raced: the mark at which the round of a slip was decided.
func RacedTo(s Slip, t Track) Mark {
	if m, is := MarkAt(s.RacedFt.Or(0)); is {
		return m
	}
	return predict.RacedTo(PrintedSplits(s), t.LengthsFt, s.DialS, OtherLane(s))
}

// LanesOf are both lanes of a slip, its own first, at the distance raced. A lane
// without a time there broke.
func LanesOf(s Slip, t Track) [2]LaneRun {
	m, splits := RacedTo(s, t), PrintedSplits(s)
	own := LaneRun{ReactionS: s.ReactionS, ETS: splits.ETs[m], DialS: s.DialS, MPH: splits.MPHs[m]}
	return [2]LaneRun{own, OtherLane(s)}
}

// OtherLane is what a slip tells of the other lane.
func OtherLane(s Slip) LaneRun {
	l := LaneRun{
		ReactionS: s.OpponentReactionS, ETS: s.OpponentETS, DialS: s.OpponentDialS, MPH: s.OpponentMPH,
		NotTold: !s.OpponentETS.Known() && s.OpponentBroke == "",
	}
	switch {
	case s.OpponentBroke == "" || l.ReactionS.Known() || l.ETS.Known():
	case s.OpponentBroke == "staged":
		l.Fault = Stalled
	default:
		l.Fault = NoStart
	}
	return l
}
