package crew

import "slipcase/predict"

// Round is both lanes of a round, and who won. Its own lane is the first.
type Round struct {
	Rules    Rules
	Lanes    [2]LaneRun
	Bye      bool   // no one in the other lane
	Recorded string // the result that the log has
	JudgedFt float64
	LastFt   float64 // of the own lane's last time, where that is not at JudgedFt; else 0
	predict.RoundResult
	RuleAssumed bool // it went by the assumed rule for two reds
	Contradicts bool // the log has another result
}

// RoundOf is the round of a slip, not yet judged.
func RoundOf(s Slip, t Track, rules Rules) Round {
	s.DialS, s.OpponentDialS = rules.LimitS(s.DialS), rules.LimitS(s.OpponentDialS)
	r := Round{Rules: rules, Lanes: LanesOf(s, t), Bye: s.Bye != "", Recorded: s.Result, JudgedFt: RacedTo(s, t).Ft()}
	if last, timed := s.Finish(); timed && !r.Lanes[0].ETS.Known() {
		r.LastFt = last.Ft
	}
	return r
}

// HasOther reports that a slip tells anything of another lane.
func HasOther(s Slip) bool {
	return s.OpponentReactionS.Known() || s.OpponentETS.Known() || s.OpponentBroke != ""
}

// Judge decides the round.
func (r *Round) Judge() {
	r.RoundResult = predict.Adjudicate(r.Rules.RoundRules, r.Lanes, r.Bye)
	r.RuleAssumed = r.Rules.BothRedAssumed && r.Why.BothRed()
	says := ResultOf(r.Winner)
	r.Contradicts = r.Recorded != "" && r.Recorded != "dq" && says != "" && says != r.Recorded
}
