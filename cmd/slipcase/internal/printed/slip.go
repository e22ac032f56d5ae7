package printed

import (
	"errors"
	"io"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// Marks are so many distances that a slip times; markFt are they, ft.
const Marks = 5

var markFt = [Marks]float64{60, 330, 660, 1000, 1320}

// How says how sure a figure is.
type How int

// What a figure may be.
const (
	Absent   How = iota
	Plain        // as it stands
	Mended       // letters taken for digits, or a point set, and the other figures bear it out
	Doubtful     // the best guess
)

// Figure is a figure of a lane: a time in s or a speed in mph.
type Figure struct {
	Value float64
	Text  string // as it stands
	How   How
	borne bool // a sum on the slip has it
}

// Number is the value of a figure that is not in doubt, absent else.
func (f Figure) Number() units.Number {
	if f.How == Plain || f.How == Mended {
		return units.Some(f.Value)
	}
	return units.Number{}
}

// Lane is what a slip says of a lane.
type Lane struct {
	Side                  string // left or right, "" where it is not told
	Car                   string // its number, as it stands
	Reaction, Dial, Index Figure
	ETs, MPHs             [Marks]Figure
	Foul                  bool
	Result                string // won or lost, "" where it is not told
	moved                 bool   // times shrink down the strip: figures may stand in others' places
}

// Slip is what was read of a text.
type Slip struct {
	Lanes  []Lane // one, or both
	Day    typed.Day
	Dated  bool
	Clock  string // the time of day as typed.Moment reads it, "" where it is not told
	Round  string
	Class  string
	Run    string   // its number
	Us     string   // won or lost, where the text says it to the racer himself
	Unread []string // figures that stand nowhere
	either bool     // it names both lanes, and of the only one that ran it is not told which it is
}

// Paste is the text of a slip with what was read of it already.
type Paste struct {
	io.Reader
	Slip Slip
}

// MostBytes are more than any slip has.
const MostBytes = 8 << 10

var (
	errTooLong = errors.New("more text than a slip has: want the text of one")
	errNoTimes = errors.New(
		"no times of a run in it: want the text of a slip, as R/T .042, 60' 1.912, 1/8 8.412 83.77",
	)
)

// Read reads the text of a slip.
func Read(text string) (s Slip, err error) {
	if len(text) > MostBytes {
		return s, errTooLong
	}
	w := takeApart(text)
	segs, sides := partAtLabels(w.items)
	w.items, w.both, w.once = forBoth(w.items)
	best, columns, err := lay(&w, segs, sides)
	if err != nil {
		return s, err
	}
	s = Slip{Lanes: best.lanes, Day: w.day, Dated: w.dated, Clock: w.clock, Us: w.us}
	s.either = len(s.Lanes) == 1 && s.Lanes[0].Side == "" && len(sides) == 2
	if s.about(segs); s.Round == "" {
		s.Round = roundAlone(w.items, segs)
	}
	s.Unread = unread(w.items, columns, segs)
	for i := range s.Lanes {
		if s.Lanes[i].timed() > 1 {
			return s, nil
		}
	}
	return s, errNoTimes
}

// timed are so many times and speeds of a lane.
func (l *Lane) timed() (n int) {
	for m := range Marks {
		if l.ETs[m].How != Absent {
			n++
		}
		if l.MPHs[m].How != Absent {
			n++
		}
	}
	return n
}

// about takes what a text says of the whole slip.
func (s *Slip) about(segs []segment) {
	for _, g := range segs {
		words := make([]string, 0, len(g.vals))
		for _, v := range g.vals {
			if v.line == g.line || len(words) == 0 && v.line == g.line+1 {
				words = append(words, v.text)
			}
		}
		said := strings.Join(words, " ")
		switch {
		case said == "":
		case g.f.kind == round && s.Round == "":
			s.Round = words[0]
		case g.f.kind == class && s.Class == "" && !(len(words) == 2 && words[0] != words[1] && len(s.Lanes) == 2):
			if s.Class = said; len(words) == 2 && words[0] == words[1] {
				s.Class = words[0]
			}
		case g.f.kind == runNo && s.Run == "":
			s.Run = words[0]
		case g.f.kind == winner:
			s.wonBy(g.vals[0].text)
		}
	}
	for i := range s.Lanes {
		if l := &s.Lanes[i]; l.Result == "won" && len(s.Lanes) == 2 && s.Lanes[1-i].Result == "" {
			s.Lanes[1-i].Result = "lost"
		}
	}
}

// roundName is how a round is printed where no word says that it is one, as E1 or T2.
var roundName = pattern.Of(`^(?i:[eqrt]|tt)[1-9]$`)

// roundAlone is the one such name in the heading, above all that was measured, that is no
// value of a label: a car's number, say.
func roundAlone(items []item, segs []segment) (name string) {
	top, taken := math.MaxInt, map[string]bool{}
	for _, g := range segs {
		if g.f.measured() {
			top = min(top, g.line)
			continue
		}
		// A class may end in "comp", which is a car's number too.
		if len(g.vals) > 0 && g.vals[0].line == g.line && !strings.EqualFold(g.text, "comp") {
			taken[g.vals[0].text] = true
		}
	}
	for _, it := range items {
		if it.line >= top || !roundName.MatchString(it.text) || taken[it.text] {
			continue
		}
		if name != "" && !strings.EqualFold(name, it.text) {
			return ""
		}
		name = it.text
	}
	return strings.ToUpper(name)
}

// wonBy takes the winner by his lane or the number of his car.
func (s *Slip) wonBy(name string) {
	for i := range s.Lanes {
		if l := &s.Lanes[i]; name != "" && (l.Side == name || l.Car == name) {
			l.Result = "won"
			if len(s.Lanes) == 2 {
				s.Lanes[1-i].Result = "lost"
			}
			return
		}
	}
	if len(s.Lanes) == 1 && (name == "left" || name == "right") && s.Lanes[0].Side != "" {
		s.Lanes[0].Result = "lost"
	}
}

// unread are the figures of runs that no lane has taken.
func unread(items []item, columns []*column, segs []segment) (texts []string) {
	known := map[int]bool{}
	for _, c := range columns {
		for _, id := range c.used {
			known[id] = true
		}
	}
	for _, g := range segs {
		for _, n := range figuresOf(g.vals) {
			if !g.f.measured() {
				known[n.id] = true
			}
		}
	}
	for _, it := range items {
		if it.of == numeral && !known[it.n.id] && !it.n.whole() {
			texts = append(texts, it.text)
		}
	}
	return texts
}
