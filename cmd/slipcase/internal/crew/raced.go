package crew

import (
	"strings"

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

// RacedTo is the distance raced: the mark at which the round of a slip was decided.
func RacedTo(s Slip, t Track) Mark {
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
	return LaneRun{
		ReactionS: s.OpponentReactionS, ETS: s.OpponentETS, DialS: s.OpponentDialS, MPH: s.OpponentMPH,
		NotTold: !s.OpponentETS.Known(),
	}
}

// ResultOf is how the log writes who won, "" when nobody did.
func ResultOf(winner int) string {
	switch winner {
	case 0:
		return "won"
	case 1:
		return "lost"
	}
	return ""
}

// decided is the result of a slip's round by the figures of both lanes, and why; ""
// where they do not decide it. They do where all are told, or where one of two lights
// was red. This lane may have broken before the end; the other's time left out may be
// only not written down.
func decided(s Slip, t Track) (result string, why Decision) {
	lanes := LanesOf(s, t)
	whole, reds := lanes[1].ETS.Known(), 0
	for _, l := range lanes {
		if !l.ReactionS.Known() {
			return "", why
		}
		if t.Red(l.ReactionS.Value()) {
			reds++
		}
		whole = whole && l.DialS.Known()
	}
	if !whole && reds != 1 {
		return "", why
	}
	rules := predict.RoundRules{PerfectS: t.PerfectReactionS.Or(0), WorstRed: t.BothRed == "worst"}
	res := predict.Adjudicate(rules, lanes, false)
	return ResultOf(res.Winner), res.Why
}

// TellResult is the result that both lanes tell, and why; "" where they do not, or
// where there was none: a time trial has no winner.
func TellResult(s Slip, t Track) (result string, why Decision) {
	lanes := LanesOf(s, t)
	dialled := lanes[0].DialS.Known() && lanes[1].DialS.Known()
	if !lanes[0].ETS.Known() || !dialled && !strings.HasPrefix(s.Round, "E") {
		return "", why
	}
	return decided(s, t)
}

// resultDoubt finds a result that the reactions, times and dials of both lanes speak
// against: a red light typed without its sign, a dial of another round.
func resultDoubt(s Slip, t Track) []Doubt {
	if _, timed := s.Finish(); s.Result == "" || !timed {
		return nil
	}
	result, why := decided(s, t)
	if result == "" || result == s.Result {
		return nil
	}
	return []Doubt{{Kind: ResultAgainst, Result: s.Result, Decided: result, Why: why}}
}
