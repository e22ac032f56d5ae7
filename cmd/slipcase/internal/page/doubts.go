package page

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Unusual says that a weight or a power is hard to believe.
func Unusual(u predict.Unusual, sys units.System) string {
	of, behind := units.Weight, ", ready to run with driver or rider"
	if u.Quantity == predict.EnginePower {
		of, behind = units.Power, ""
	}
	shown := func(us float64) string {
		if sys == units.US {
			return fmt.Sprintf("%g", us)
		}
		return fmt.Sprintf("%.0f", of.In(sys, us))
	}
	return fmt.Sprintf("%s %s is hard to believe: %s to %s %s%s is usual", u.Quantity, shown(u.Value), shown(u.Low), shown(u.High), of.Symbol(sys), behind)
}

// Question says which figure of a slip looks mistyped, and by what.
func Question(q predict.Question, sys units.System) string {
	by := "the rest of the slip and the forecast say"
	if q.Alone {
		by = "the forecast says"
	}
	f := q.Figure
	if f.Speed {
		return fmt.Sprintf("%s at %g ft where %s %.0f", plain(units.Speed, sys, f.Value, 2), f.Mark.Ft(), by, units.Speed.In(sys, q.Likely))
	}
	return fmt.Sprintf("%g ft in %.3f where %s %.2f", f.Mark.Ft(), f.Value, by, q.Likely)
}

// Meant says what may have been meant: "1320 ft 13.212 was meant".
func Meant(r predict.Reading, sys units.System) string {
	f := r.Figure
	switch exchanged := r.With != (predict.SlipFigure{}); {
	case exchanged && f.Speed:
		return fmt.Sprintf("the speeds at %g and %g ft were exchanged", f.Mark.Ft(), r.With.Mark.Ft())
	case exchanged:
		return fmt.Sprintf("the times at %g and %g ft were exchanged", f.Mark.Ft(), r.With.Mark.Ft())
	case f.Speed:
		return fmt.Sprintf("%s at %g ft was meant", plain(units.Speed, sys, f.Value, 2), f.Mark.Ft())
	}
	return fmt.Sprintf("%g ft %.3f was meant", f.Mark.Ft(), f.Value)
}

// ReactionQuestion says what looks mistyped of a reaction.
func ReactionQuestion(q predict.ReactionQuestion) string {
	if q.High > q.Low {
		return fmt.Sprintf("reaction %.3f, usual is %.3f to %.3f", q.Typed, q.Low, q.High)
	}
	return fmt.Sprintf("reaction %.3f where those before were about %.3f", q.Typed, q.Usual)
}
