package typed

import (
	"fmt"
	"math"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// longestS is longer than anything with wheels takes for a quarter mile, s, and
// shortestS less than it takes for 60 ft: a reaction typed a field late (common practice,
// no source).
const (
	longestS  = 200.
	shortestS = 0.5
)

// Possible checks a slip that is not typed to its end: what cannot be is asked for
// again at once, before the rest is typed for nothing.
func Possible(s logbook.Slip, now time.Time) error {
	s.Vehicle, s.Time = "any", logbook.Time{Time: now}
	for _, r := range []units.Number{s.ReactionS, s.OpponentReactionS} {
		if r.Known() && math.Abs(r.Value()) >= longestS {
			return fmt.Errorf("a reaction of %.5g s: want seconds such as .042 or 042", r.Value())
		}
	}
	s.ReactionS = units.Some(s.ReactionS.Or(0))
	for _, p := range s.Splits() {
		switch et := p.ETS.Value(); {
		case et >= longestS:
			return fmt.Errorf("%s in %.5g s: want seconds, less than %g", p.Label, et, longestS)
		case et > 0 && et < shortestS:
			return fmt.Errorf(
				"%s in %.3f s: want at least %g; a reaction stands a line higher, back goes there",
				p.Label,
				et,
				shortestS,
			)
		}
	}
	return s.Check()
}
