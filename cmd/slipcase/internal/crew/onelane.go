package crew

import "slipcase/weather/units"

// WithoutOther is a slip without what is told of the other lane, and without the result,
// which both lanes tell.
func WithoutOther(s Slip) Slip {
	s.OpponentReactionS, s.OpponentETS = units.Number{}, units.Number{}
	s.OpponentMPH, s.OpponentDialS = units.Number{}, units.Number{}
	s.OpponentBroke, s.Result = "", ""
	return s
}

// OtherSide is the lane beside one, "" where that is not known.
func OtherSide(lane string) string {
	switch lane {
	case laneLeft:
		return laneRight
	case laneRight:
		return laneLeft
	}
	return ""
}
