package main

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/predict"
	"slipcase/weather/units"
)

// reactionDoubts hold the reactions of both lanes against those that the driver had
// before, and those of any driver.
func reactionDoubts(perfectS float64, s slip, logged []slip) (ds []doubt) {
	var before []float64
	for _, other := range logged {
		if other.ReactionS.Known() && other.Time.Before(s.Time.Time) && other.Track == s.Track {
			before = append(before, other.ReactionS.Value())
		}
	}
	for _, lane := range []struct {
		name   string
		of     func(*slip) *units.Number
		before []float64
	}{
		{"", func(s *slip) *units.Number { return &s.ReactionS }, before},
		{"the other lane's ", func(s *slip) *units.Number { return &s.OpponentReactionS }, nil},
	} {
		r := *lane.of(&s)
		if !r.Known() {
			continue
		}
		q, ask := predict.ProofreadReaction(perfectS, lane.before, r.Value())
		if !ask {
			continue
		}
		d := doubt{text: lane.name + page.ReactionQuestion(q)}
		for _, v := range q.Readings {
			d.readings = append(d.readings, meant{
				fmt.Sprintf("%sreaction %s was meant", lane.name, reactionText(units.Some(v))),
				func(s *slip) { *lane.of(s) = units.Some(v) },
			})
		}
		ds = append(ds, d)
	}
	return ds
}
