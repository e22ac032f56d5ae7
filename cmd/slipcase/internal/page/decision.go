package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
)

// LaneNames are what the lanes of a slip are called.
var LaneNames = [2]string{"you", "the other lane"}

// LanesOf are they as what belongs to them begins: your dial.
var LanesOf = [2]string{"your", "the other lane's"}

// Decision says what decided a round, or why the slip does not tell.
func Decision(d crew.Decision) string {
	text := decided(d)
	if d.AlikeS > 0 {
		text = "both broke out alike; " + text
	}
	return text
}

// ofLane begins what one lane did: the racer's ofLane goes without saying.
func ofLane(lane int) string {
	if lane == 0 {
		return ""
	}
	return LaneNames[lane] + " "
}

const undecided = ": the slip does not decide it, the rulebook in force does"

func decided(d crew.Decision) string {
	both := d.Lane == crew.Nobody
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
		return LanesOf[d.Lane] + " time is not written down" + undecided
	case crew.FinishUntold:
		return "a reaction or a dial is missing: the slip does not tell who was first"
	case crew.BrokeOut:
		return brokeOut(d, both)
	case crew.RedLight:
		if !both {
			return ofLane(d.Lane) + "red " + short(-d.S, 3)
		}
	case crew.AtFinish:
		if !both {
			return "by " + short(d.S, 3) + " at the finish"
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
	if d.Lane == 0 {
		return map[crew.DecisionKind]string{
			crew.NeverStaged: "you broke before you staged",
			crew.NeverLeft:   "you never left the line",
			crew.CrossedLine: "you crossed the boundary",
			crew.NoFinish:    "you have no time at the finish",
		}[d.Kind]
	}
	return LaneNames[d.Lane] + map[crew.DecisionKind]string{
		crew.NeverStaged: " broke before it staged",
		crew.NeverLeft:   " never left the line",
		crew.CrossedLine: " crossed the boundary",
		crew.NoFinish:    " has no time at the finish",
	}[d.Kind]
}

func brokeOut(d crew.Decision, both bool) string {
	limit := "dial"
	if d.Index {
		limit = "index"
	}
	if both {
		return fmt.Sprintf("double breakout: %s under beats %s", short(d.S, 3), short(d.OtherS, 3))
	}
	return fmt.Sprintf("%sbroke out, %s under the %s", ofLane(d.Lane), short(d.S, 3), limit)
}

// RoundNotes say what is to be known beside a result.
func RoundNotes(list []crew.RoundNote) []string {
	return each(list, func(n crew.RoundNote) string {
		switch n.Kind {
		case crew.HadSpare:
			return ofLane(n.Lane) + "had " + short(n.SpareS, 3) + " to spare at the stripe"
		case crew.GaveTooLittle:
			return fmt.Sprintf("%shad %s in hand: %s of it killed would have won", ofLane(n.Lane), short(n.SpareS, 3), short(n.NeedS, 3))
		}
		return "the winner broke out: whether that counts alone at the finish is for the rulebook"
	})
}
