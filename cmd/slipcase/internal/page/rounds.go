package page

import (
	"fmt"

	"slipcase/predict"
)

// LaneNames are what the lanes of a slip are called.
var LaneNames = [2]string{"this lane", "the other lane"}

// Decision says what decided a round, or why the slip does not tell.
func Decision(d predict.Decision) string {
	text := decided(d)
	if d.AlikeS > 0 {
		text = "both broke out alike; " + text
	}
	return text
}

const undecided = ": the slip does not decide it, the rulebook in force does"

func decided(d predict.Decision) string {
	both, lane := d.Lane == predict.Nobody, ""
	if !both {
		lane = LaneNames[d.Lane]
	}
	switch d.Kind {
	case predict.ByBye:
		return "a bye: no one in the other lane"
	case predict.WorseRed:
		return "both red: the worse loses here"
	case predict.FirstRed:
		return "both red: the first loses here"
	case predict.FirstRedUntold:
		return "both red, and a dial is missing: who left first is not known"
	case predict.TimeUntold:
		return "the time of " + lane + " is not written down" + undecided
	case predict.FinishUntold:
		return "a reaction or a dial is missing: the slip does not tell who was first"
	case predict.BrokeOut:
		return brokeOut(d, lane, both)
	case predict.RedLight:
		if !both {
			return fmt.Sprintf("%s was red by %.3f", lane, d.S)
		}
	case predict.AtFinish:
		if !both {
			return fmt.Sprintf("%s was first at the finish by %.3f", lane, d.S)
		}
	}
	if both {
		return map[predict.DecisionKind]string{
			predict.NeverLeft:   "neither lane left the line",
			predict.CrossedLine: "both lanes crossed the boundary",
			predict.RedLight:    "both lanes were red alike",
			predict.NoFinish:    "neither lane has a time at the finish",
			predict.AtFinish:    "equal to the thousandth",
		}[d.Kind] + undecided
	}
	return lane + map[predict.DecisionKind]string{
		predict.NeverLeft:   " never left the line",
		predict.CrossedLine: " crossed the boundary",
		predict.NoFinish:    " has no time at the finish",
	}[d.Kind]
}

func brokeOut(d predict.Decision, lane string, both bool) string {
	limit := "dial"
	if d.Index {
		limit = "index"
	}
	if both {
		return fmt.Sprintf("both broke out: %.3f under against %.3f", d.S, d.OtherS)
	}
	return fmt.Sprintf("%s broke out, %.3f under its %s", lane, d.S, limit)
}

// RoundNotes say what is to be known beside a result.
func RoundNotes(list []predict.RoundNote) []string {
	return each(list, func(n predict.RoundNote) string {
		switch n.Kind {
		case predict.HadSpare:
			return fmt.Sprintf("%s could have given away %.3f more at the finish", LaneNames[n.Lane], n.SpareS)
		case predict.GaveTooLittle:
			return fmt.Sprintf("%s had %.3f to give away, and %.3f would have saved the breakout", LaneNames[n.Lane], n.SpareS, n.NeedS)
		}
		return "the winner broke out: whether that counts alone at the finish is for the rulebook"
	})
}
