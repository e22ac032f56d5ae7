package crew

import (
	"testing"

	"slipcase/weather/units"
)

// Who won by both lanes of a slip: common practice, no source. Packages by hand: 0.042 +
// 13.272 - 13.25 = 0.064 against 0.051 + 12.430 - 12.40 = 0.081.
func TestTellResult(t *testing.T) {
	track := Track{PerfectReactionS: units.Some(0)}
	for _, c := range []struct {
		name string
		with func(s *Slip)
		want string
		kind DecisionKind
	}{
		{"both told", func(*Slip) {}, "won", AtFinish},
		{"the racer's word", func(s *Slip) { s.Result = "lost" }, "lost", ""},
		{"disqualified", func(s *Slip) { s.Result = "dq" }, "dq", ""},
		{"a time trial", func(s *Slip) { s.Round = "T1" }, "", ""},
		{"a test", func(s *Slip) { s.Class = "test" }, "", ""},
		{"no round told, both dialled", func(s *Slip) { s.Round = "" }, "won", AtFinish},
		{"no round told, one dial", func(s *Slip) { s.Round, s.OpponentDialS = "", units.Number{} }, "", ""},
		{"a bye, red", func(s *Slip) { s.Bye, s.ReactionS = "yes", units.Some(-0.1) }, "won", ByBye},
		{"the other's time not written down", func(s *Slip) { s.OpponentETS = units.Number{} }, "", ""},
		{"the own time not written down", func(s *Slip) { s.ET1320S = units.Number{} }, "", ""},
		{"this lane broke", func(s *Slip) { s.ET1320S, s.FullPower = units.Number{}, "broke" }, "lost", NoFinish},
		{"the other broke on the way", func(s *Slip) { s.OpponentETS, s.OpponentBroke = units.Number{}, "yes" }, "won", NoFinish},
		{"the other broke on the way, own red", func(s *Slip) {
			s.OpponentETS, s.OpponentBroke, s.ReactionS = units.Number{}, "yes", units.Some(-0.01)
		}, "lost", RedLight},
		{"the other broke before it staged, own red", func(s *Slip) {
			s.OpponentETS, s.OpponentReactionS, s.OpponentBroke, s.ReactionS = units.Number{}, units.Number{}, "yes",
				units.Some(-0.01)
		}, "won", NeverStaged},
		{"the other broke staged, own red", func(s *Slip) {
			s.OpponentETS, s.OpponentReactionS, s.OpponentBroke, s.ReactionS = units.Number{}, units.Number{}, "staged",
				units.Some(-0.01)
		}, "lost", RedLight},
		{"the other broke staged", func(s *Slip) {
			s.OpponentETS, s.OpponentReactionS, s.OpponentBroke = units.Number{}, units.Number{}, "staged"
		}, "won", NeverLeft},
		{"heads-up, by the clocks alone", func(s *Slip) {
			s.Class, s.DialS, s.OpponentDialS = "heads-up", units.Number{}, units.Number{}
		}, "lost", AtFinish},
		{"index, the own under it", func(s *Slip) { s.Class, s.IndexS, s.OpponentETS = "index", units.Some(13.30), units.Some(13.4) }, "lost", BrokeOut},
		{"the round's own light", func(s *Slip) { s.Tree = units.Some(0.05) }, "lost", RedLight},
	} {
		s := Slip{
			Round: "E1", ReactionS: units.Some(0.042), ET1320S: units.Some(13.272), DialS: units.Some(13.25),
			OpponentReactionS: units.Some(0.051), OpponentETS: units.Some(12.430), OpponentDialS: units.Some(12.40),
		}
		c.with(&s)
		if got, why := TellResult(s, track); got != c.want || why.Kind != c.kind {
			t.Errorf("%s: %q by %q, want %q by %q", c.name, got, why.Kind, c.want, c.kind)
		}
	}
}
