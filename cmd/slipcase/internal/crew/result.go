package crew

import (
	"slices"
	"strings"

	"slipcase/predict"
)

// Who won a round is worked out from both lanes when its slip is read. Only what the
// racer said of it is stored.

// RoundKind is what hangs on a round.
type RoundKind int

// The kinds of round.
const (
	RoundUntold RoundKind = iota
	Practice              // time trials, tests, qualifying: nobody wins
	Elimination
)

// practiceLetters are the letters of rounds in which nobody wins (common practice, no source).
var practiceLetters = []string{"T", "TT", "TS", "TIME", "TRIAL", "TEST", "Q", "QUAL", "P", "PRACTICE"}

// KindOf tells a slip's round by its class and its letters.
func KindOf(s Slip) RoundKind {
	switch letters := strings.ToUpper(strings.TrimRight(s.Round, "0123456789")); {
	case s.Class == "test" || slices.Contains(practiceLetters, letters):
		return Practice
	case s.Round == "":
		return RoundUntold
	}
	return Elimination
}

// Raced reports a round with a winner: one of the eliminations, or one not told of
// which both lanes dialled, one broke or the racer says how it ended.
func Raced(s Slip) bool {
	kind := KindOf(s)
	ended := s.Result != "" || s.OpponentBroke != "" || s.DialS.Known() && s.OpponentDialS.Known()
	return kind == Elimination || kind == RoundUntold && ended
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
// where they do not decide it. They do where all are told, where one of two lights was
// red, or where the other lane broke. This lane may have broken before the end; the
// other's time left out may be only not written down.
func decided(s Slip, t Track) (result string, why Decision) {
	rules := RulesOf(s, t)
	s.DialS, s.OpponentDialS = rules.LimitS(s.DialS), rules.LimitS(s.OpponentDialS)
	lanes := LanesOf(s, t)
	if enough := lanes[1].Fault == NoStart || lit(lanes) && (toldWhole(rules, lanes) || reds(rules, lanes) == 1); !enough {
		return "", why
	}
	res := predict.Adjudicate(rules.RoundRules, lanes, false)
	return ResultOf(res.Winner), res.Why
}

// lit reports that the lights of both lanes are told, or that one never left.
func lit(lanes [2]LaneRun) bool {
	return lanes[0].ReactionS.Known() && (lanes[1].ReactionS.Known() || lanes[1].Fault == Stalled)
}

// toldWhole reports that both lanes are told to the end: of one that broke there is no more
// to tell.
func toldWhole(rules Rules, lanes [2]LaneRun) bool {
	if lanes[1].NotTold {
		return false
	}
	return rules.Format == HeadsUp || !lanes[1].ETS.Known() || lanes[0].DialS.Known() && lanes[1].DialS.Known()
}

func reds(rules Rules, lanes [2]LaneRun) (n int) {
	for _, l := range lanes {
		if l.ReactionS.Known() && rules.red(l.ReactionS.Value()) {
			n++
		}
	}
	return n
}

// red compares as the slip prints, to the thousandth.
func (r Rules) red(reactionS float64) bool { return reactionS < r.PerfectS-0.0005 }

// TellResult is how the round of a slip ended, and why: by the racer's own word, which
// needs no reason, else by both lanes; "" where they do not tell, or where there was no
// round to win.
func TellResult(s Slip, t Track) (result string, why Decision) {
	switch {
	case s.Result != "":
		return s.Result, why
	case s.Bye != "":
		return ResultOf(0), Decision{Kind: ByBye}
	case !Raced(s):
		return "", why
	}
	result, why = decided(s, t)
	if why.Kind == predict.NoFinish && why.Lane == 0 && s.FullPower != string(predict.Broke) {
		return "", Decision{} // its time may be only not written down
	}
	return result, why
}

// resultDoubt finds a result that the reactions, times and dials of both lanes speak
// against: a red light typed without its sign, a dial of another round. Whoever is
// disqualified may have been first.
func resultDoubt(s Slip, t Track) []Doubt {
	if _, timed := s.Finish(); s.Result == "" || s.Result == "dq" || s.Bye != "" || !timed {
		return nil
	}
	result, why := decided(s, t)
	if result == "" || result == s.Result {
		return nil
	}
	return []Doubt{{Kind: ResultAgainst, Result: s.Result, Decided: result, Why: why}}
}
