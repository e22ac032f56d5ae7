package crew

import (
	"cmp"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// fromZero is how far before its tree's perfect light no racer leaves: a reaction as
// short counts from the green light (common practice, no source).
const fromZero = 0.15

// RulesOf are the rules by which the round of a slip was raced.
func RulesOf(s Slip, t Track) Rules {
	ask := RulesAsk{IndexS: s.IndexS, PerfectS: perfectOf(s, t)}
	if format := Format(s.Class); format == Dialled || format == Index || format == HeadsUp {
		ask.Format = format
	}
	return RulesAt(t, ask)
}

// RulesFor are the rules of a slip's round as given, and as the slip says where class or perfect
// light are not.
func RulesFor(s Slip, t Track, rules Rules, classGiven, perfectGiven bool) Rules {
	said := RulesOf(s, t)
	if !classGiven {
		rules.Format, rules.IndexS = said.Format, said.IndexS
	}
	if !perfectGiven {
		rules.PerfectS = said.PerfectS
	}
	return rules
}

// perfectOf is what the slip prints for a perfect light on its tree, absent where it says
// no tree. A track that is known to count from the green light does so on every tree.
func perfectOf(s Slip, t Track) units.Number {
	if t.PerfectReactionS.Known() && t.PerfectReactionS.Value() == 0 && s.Tree.Or(0) >= 0.4 {
		return t.PerfectReactionS
	}
	r := cmp.Or(s.ReactionS, s.OpponentReactionS)
	if !t.PerfectReactionS.Known() && r.Known() && r.Value() < s.Tree.Or(0)-fromZero {
		return units.Some(0.)
	}
	return s.Tree
}

// LateBy is the reaction of a slip after the perfect light of its round, s; absent for
// a bye, where nothing hangs on it.
func LateBy(s Slip, t Track) units.Number {
	if !s.ReactionS.Known() || s.Bye != "" {
		return units.Number{}
	}
	return units.Some(s.ReactionS.Value() - RulesOf(s, t).PerfectS)
}

// ofDriver are the runs by the driver of the latest one, all of them where it names none:
// lights are the driver's, and not the car's.
func ofDriver(runs []Run) []Run {
	if len(runs) == 0 || runs[len(runs)-1].Slip.Driver == "" {
		return runs
	}
	return RunFilter{Driver: runs[len(runs)-1].Slip.Driver}.Of(runs)
}

// Red reports a red light, as the slip prints it.
func Red(s Slip, t Track) bool {
	return s.ReactionS.Known() && RulesOf(s, t).red(s.ReactionS.Value())
}

// LimitOf is what the run was not to go under: its dial, or the index of its class.
func LimitOf(s Slip, t Track) units.Number { return RulesOf(s, t).LimitS(s.DialS) }

// ClassNamed are the rules of a class: by its format, or by the racer's own name for it as the
// vehicle's last slip with it was raced.
func (s *Session) ClassNamed(next Run, name string) (Rules, error) {
	if format := Format(name); format == Dialled || format == Index || format == HeadsUp {
		return RulesAt(next.Track, RulesAsk{Format: format}), nil
	}
	runs, err := s.Runs(next.Slip.Vehicle)
	if err != nil {
		return Rules{}, err
	}
	want := "want dial, index or heads-up"
	var names []string
	for _, r := range slices.Backward(runs) {
		if own := r.Slip.ClassName; strings.EqualFold(own, name) {
			rules := RulesOf(r.Slip, next.Track)
			rules.Format = cmp.Or(rules.Format, Dialled)
			return rules, nil
		} else if own != "" && !slices.Contains(names, own) {
			names = append(names, own)
		}
	}
	if names != nil {
		want += ", or of its own " + strings.Join(names, ", ")
	}
	return Rules{}, outside("class", "%s", want)
}

// remember carries what holds from slip to slip of a day at a track over from the one
// before, where the slip is silent: the class, its index and tree, the distance raced,
// the driver. A dial makes it a round by dial, whatever the one before was.
func remember(s *Slip, before Slip) {
	if s.Class == "" && before.Class != "test" && !(s.DialS.Known() && before.Class != string(Dialled)) {
		s.Class, s.ClassName, s.IndexS = before.Class, cmp.Or(s.ClassName, before.ClassName), before.IndexS
	}
	s.Tree, s.RacedFt = cmp.Or(s.Tree, before.Tree), cmp.Or(s.RacedFt, before.RacedFt)
	s.Driver = cmp.Or(s.Driver, before.Driver)
}

// RulesAhead are the rules of the run to come where nobody says how it is raced: those
// taken for the day, else of the vehicle's slip before it there, that day, else as they are.
// Of a class by index it is the index that they lack.
func (s *Session) RulesAhead(next Run, rules Rules) Rules {
	ahead := next.Slip
	s.Fill(&ahead)
	said := RulesOf(ahead, next.Track)
	if rules.Format == Index {
		rules.IndexS = cmp.Or(rules.IndexS, said.IndexS)
		return rules
	}
	if said.Format == HeadsUp || said.Format == Index && said.IndexS.Known() {
		rules.Format, rules.IndexS = said.Format, said.IndexS
	}
	return rules
}
