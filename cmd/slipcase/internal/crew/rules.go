package crew

import (
	"cmp"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Rules are how two lanes are set against each other.
type Rules struct {
	predict.RoundRules
	IndexS         units.Number // known where the class has one
	BothRedAssumed bool         // neither racer nor track say who loses when both are red
}

// RulesAsk is what the racer says of them; the track has the rest.
type RulesAsk struct {
	Format   Format
	IndexS   units.Number
	PerfectS units.Number // what the slip prints for a perfect light
	BothRed  string       // who loses, as tracks.csv has it: first or worst
}

// RulesAt are the rules at a track.
func RulesAt(t Track, ask RulesAsk) Rules {
	both := cmp.Or(ask.BothRed, t.BothRed)
	perfect := ask.PerfectS.Or(t.PerfectReactionS.Or(0))
	rules := predict.RoundRules{Format: ask.Format, PerfectS: perfect, WorstRed: both == "worst"}
	return Rules{rules, ask.IndexS, both == ""}
}

// LimitS is what a lane must not run under: the class's index, else its own dial.
func (r Rules) LimitS(ownS units.Number) units.Number {
	if r.Format == Index {
		return r.IndexS
	}
	return ownS
}
