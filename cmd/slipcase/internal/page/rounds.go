package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
)

// LaneNames are what the lanes of a slip are called.
var LaneNames = [2]string{"this lane", "the other lane"}

// Decision says what decided a round, or why the slip does not tell.
func Decision(d crew.Decision) string {
	text := decided(d)
	if d.AlikeS > 0 {
		text = "both broke out alike; " + text
	}
	return text
}

const undecided = ": the slip does not decide it, the rulebook in force does"

func decided(d crew.Decision) string {
	both, lane := d.Lane == crew.Nobody, ""
	if !both {
		lane = LaneNames[d.Lane]
	}
	switch d.Kind {
	case crew.ByBye:
		return "a bye: no one in the other lane"
	case crew.WorseRed:
		return "both red: the worse loses here"
	case crew.FirstRed:
		return "both red: the first loses here"
	case crew.FirstRedUntold:
		return "both red, and a dial is missing: who left first is not known"
	case crew.TimeUntold:
		return "the time of " + lane + " is not written down" + undecided
	case crew.FinishUntold:
		return "a reaction or a dial is missing: the slip does not tell who was first"
	case crew.BrokeOut:
		return brokeOut(d, lane, both)
	case crew.RedLight:
		if !both {
			return fmt.Sprintf("%s was red by %.3f", lane, d.S)
		}
	case crew.AtFinish:
		if !both {
			return fmt.Sprintf("%s was first at the finish by %.3f", lane, d.S)
		}
	}
	if both {
		return map[crew.DecisionKind]string{
			crew.NeverStaged: "both lanes broke before they staged",
			crew.NeverLeft:   "neither lane left the line",
			crew.CrossedLine: "both lanes crossed the boundary",
			crew.RedLight:    "both lanes were red alike",
			crew.NoFinish:    "neither lane has a time at the finish",
			crew.AtFinish:    "equal to the thousandth",
		}[d.Kind] + undecided
	}
	return lane + map[crew.DecisionKind]string{
		crew.NeverStaged: " broke before it staged",
		crew.NeverLeft:   " never left the line",
		crew.CrossedLine: " crossed the boundary",
		crew.NoFinish:    " has no time at the finish",
	}[d.Kind]
}

func brokeOut(d crew.Decision, lane string, both bool) string {
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
func RoundNotes(list []crew.RoundNote) []string {
	return each(list, func(n crew.RoundNote) string {
		switch n.Kind {
		case crew.HadSpare:
			return fmt.Sprintf("%s could have given away %.3f more at the finish", LaneNames[n.Lane], n.SpareS)
		case crew.GaveTooLittle:
			return fmt.Sprintf("%s had %.3f to give away, and %.3f would have saved the breakout", LaneNames[n.Lane], n.SpareS, n.NeedS)
		}
		return "the winner broke out: whether that counts alone at the finish is for the rulebook"
	})
}
