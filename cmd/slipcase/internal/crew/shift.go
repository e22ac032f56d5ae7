package crew

import (
	"slices"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// A slip typed a line too high or too low: each figure looks mistyped, and none is.

// leastMoved are so many times that moved together; one alone is a figure mistyped.
const leastMoved = 2

// Shifted finds how a slip that looks wrong was shifted by one line; false where no move
// makes it look right.
func (s *Session) Shifted(slip Slip) (Doubt, bool) {
	m, err := s.among(slip)
	if err != nil {
		return Doubt{}, false
	}
	return m.shifted(s.Now())
}

func (m *among) shifted(now time.Time) (Doubt, bool) {
	f, err := m.expect()
	if err != nil {
		return Doubt{}, false
	}
	var best *Meant
	odds := 0.
	for _, move := range moves(m.run.Slip) {
		if move.whole.Check() != nil || m.beyond(*move.whole) {
			continue
		}
		as := m.as(*move.whole)
		if o := f.LikelierShifted(m.column(), as.column(), m.perfectS()); o > odds && !as.strange(now) {
			odds, best = o, &move
		}
	}
	if best == nil {
		return Doubt{}, false
	}
	return Doubt{Kind: Shifted, Line: best.Line, Down: best.Down, Readings: []Meant{*best}}, true
}

// beyond reports that a slip has a time where its track takes none.
func (m *among) beyond(slip Slip) bool {
	end, timed := slip.Finish()
	lengths := m.run.Track.LengthsFt
	return timed && len(lengths) > 0 && end.Ft > slices.Max(lengths)
}

// column is the slip as typed, for telling one shift from another.
func (m *among) column() predict.Column {
	s := m.run.Slip
	c := predict.Column{Pass: m.pass, ReactionS: s.ReactionS}
	if otherAlone(s) {
		c.Other[0], c.Other[1] = s.OpponentETS, s.OpponentMPH
	}
	return c
}

// otherAlone reports that nothing but a time and its speed is told of the other lane.
func otherAlone(s Slip) bool {
	return !s.OpponentReactionS.Known() && !s.OpponentDialS.Known() && s.OpponentBroke == ""
}

// as is a slip in the place of the one at hand.
func (m *among) as(slip Slip) *among {
	other := *m
	other.run.Slip, other.pass.Splits = slip, PrintedSplits(slip)
	return &other
}

// strange reports that something of the own times and the reaction looks wrong.
func (m *among) strange(now time.Time) bool {
	slip := m.run.Slip
	slip.OpponentReactionS = units.Number{}
	return len(m.weigh(now)) > 0 || len(m.as(slip).reactionDoubts(m.perfectS())) > 0
}

// moves are the ways to move the figures of a slip by a line, more of them first: down to
// its end or to the first line that was left out, and up to one that was.
func moves(s Slip) (all []Meant) {
	lines := linesOf(s)
	end := len(lines)
	for from := range end {
		blank := slices.IndexFunc(lines[from:], func(l line) bool { return !l.ets.Known() }) + from
		for _, to := range []int{end - 1, blank} {
			if to > from && to < end && !lines[to].ets.Known() {
				moved := slices.Insert(slices.Delete(slices.Clone(lines), to, to+1), from, line{})
				all = addMove(all, s, Meant{Kind: Moved, Down: true, Line: from}, lines[from:to], moved)
			}
		}
	}
	for from := range end {
		if lines[from].ets.Known() {
			continue
		}
		// What came last was typed for the other lane.
		last, rest := line{}, s
		if otherAlone(s) {
			last = line{s.OpponentETS, s.OpponentMPH}
			rest.OpponentETS, rest.OpponentMPH = units.Number{}, units.Number{}
		}
		moved := append(slices.Delete(slices.Clone(lines), from, from+1), last)
		all = addMove(all, rest, Meant{Kind: Moved, Line: from}, append(slices.Clone(lines[from:]), last), moved)
	}
	return all
}

// addMove adds a move of a slip where enough moves, and every figure has a cell.
func addMove(all []Meant, s Slip, m Meant, moving, moved []line) []Meant {
	n := 0
	for _, l := range moving {
		if l.ets.Known() {
			n++
		}
	}
	cells, first := TimeCells(&s)
	for i, l := range moved {
		*cells[first[i]] = l.ets
		if i > int(At330)+1 {
			*cells[first[i]+1] = l.mph
		} else if l.mph.Known() {
			return all
		}
	}
	if n < leastMoved {
		return all
	}
	m.whole = &s
	return append(all, m)
}

// line is a line of a paper slip: the reaction, or a time and its speed.
type line struct{ ets, mph units.Number }

func linesOf(s Slip) []line {
	lines := []line{{ets: s.ReactionS}}
	for _, p := range s.Splits() {
		lines = append(lines, line{p.ETS, p.MPH})
	}
	return lines
}
