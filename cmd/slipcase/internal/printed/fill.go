package printed

import (
	"cmp"
	"fmt"
	"math"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// Doubt is a figure of a slip that is not sure: Value is the best guess.
type Doubt struct {
	Column string // of the log
	Text   string // as it stands
	Value  float64
}

// Set takes the guess.
func (d Doubt) Set(s *logbook.Slip) {
	for _, c := range cells(s) {
		if c.column == d.Column {
			*c.at = units.Some(d.Value)
		}
	}
}

// cell is a column of the log with the figure of a lane that it takes.
type cell struct {
	column string
	f      field
	at     *units.Number
	other  bool // the other lane's
}

func cells(s *logbook.Slip) []cell {
	return []cell{
		{"reaction_s", field{reaction, noMark}, &s.ReactionS, false},
		{"dial_s", field{dial, noMark}, &s.DialS, false},
		{"index_s", field{index, noMark}, &s.IndexS, false},
		{"et_60_s", field{et, 0}, &s.ET60S, false},
		{"et_330_s", field{et, 1}, &s.ET330S, false},
		{"et_660_s", field{et, 2}, &s.ET660S, false},
		{"mph_660", field{speed, 2}, &s.MPH660, false},
		{"et_1000_s", field{et, 3}, &s.ET1000S, false},
		{"mph_1000", field{speed, 3}, &s.MPH1000, false},
		{"et_1320_s", field{et, 4}, &s.ET1320S, false},
		{"mph_1320", field{speed, 4}, &s.MPH1320, false},
		{"opponent_reaction_s", field{reaction, noMark}, &s.OpponentReactionS, true},
		{"opponent_dial_s", field{dial, noMark}, &s.OpponentDialS, true},
		{"opponent_et_s", atEnd, &s.OpponentETS, true},
		{"opponent_mph", field{speed, finish}, &s.OpponentMPH, true},
	}
}

// Source is that of a slip that was read of a printed one.
const Source = "printed"

// Fill puts what was read into a slip of the log, ours being the lane; a figure that is there
// stays. What is in doubt comes back. perfectS is what the slip prints for a perfect light.
func (s Slip) Fill(into *logbook.Slip, ours int, perfectS float64) (doubts []Doubt) {
	lanes, end := []Lane{s.Lanes[ours]}, 0
	for i := range s.Lanes {
		end = max(end, s.Lanes[i].lastMark())
	}
	if len(s.Lanes) == 2 {
		lanes = append(lanes, s.Lanes[1-ours])
	}
	for i := range lanes {
		lanes[i].Reaction = lanes[i].light(perfectS)
	}
	for _, c := range cells(into) {
		lane := 0
		if c.other {
			lane = 1
		}
		if c.at.Known() || lane >= len(lanes) || c.f.mark == finish && end < 2 {
			continue
		}
		f := lanes[lane].figure(c.f.ending(end))
		if *c.at = f.Number(); f.How == Doubtful {
			doubts = append(doubts, Doubt{c.column, f.Text, f.Value})
		}
	}
	s.words(into, s.Lanes[ours])
	return doubts
}

// words puts in what is no figure.
func (s Slip) words(into *logbook.Slip, own Lane) {
	put := func(at *string, word string) {
		if *at == "" {
			*at = word
		}
	}
	put(&into.Lane, own.Side)
	put(&into.Result, cmp.Or(s.Us, own.Result))
	put(&into.Round, s.Round)
	put(&into.ClassName, s.Class)
	if into.IndexS.Known() {
		put(&into.Class, "index")
	}
	if s.Run != "" {
		put(&into.Notes, "run "+s.Run)
	}
	put(&into.Source, Source)
}

// light is the reaction of a lane; one that is called a foul and is none has lost its sign, and
// one that is far from the tree's perfect light is in doubt.
func (l *Lane) light(perfectS float64) Figure {
	f := l.Reaction
	if perfectS > 0 && (f.Value < perfectS+earlyS || f.Value > perfectS+lateS) {
		f.doubt()
	}
	if l.Foul && f.How != Absent && f.Value >= perfectS {
		if f.How = Doubtful; perfectS == 0 {
			f.Value = -f.Value
		}
	}
	return f
}

// lastMark is the last one with a time.
func (l *Lane) lastMark() int {
	for m := Marks - 1; m >= 0; m-- {
		if l.ETs[m].How != Absent {
			return m
		}
	}
	return noMark
}

// Ours is the lane of a slip that is the racer's: the one that he names, by its side or the
// number of his car, the only one, or the one that runs as his car does.
func (s Slip) Ours(lane, car string, usual logbook.Slip) (ours int, told bool) {
	if s.either {
		return 0, lane != ""
	}
	for i, l := range s.Lanes {
		if lane != "" && l.Side == lane || lane == "" && car != "" && fold(l.Car) == fold(car) {
			return i, true
		}
	}
	switch {
	case lane != "" && len(s.Lanes) == 1 && s.Lanes[0].Side == "":
		return 0, true
	case lane != "" || car != "":
		return 0, false
	case len(s.Lanes) == 1:
		return 0, true
	}
	// Half of what two cars of one class differ by, and far more than a car from day to day
	// (common practice, no source).
	const near, clear = 0.04, 0.04
	a, some := s.Lanes[0].apart(usual)
	b, more := s.Lanes[1].apart(usual)
	switch {
	case !some || !more:
		return 0, false
	case a < near && b > a+clear:
		return 0, true
	case b < near && a > b+clear:
		return 1, true
	}
	return 0, false
}

// apart is how far a lane's time is from that of an earlier slip, as a share, at the last mark
// that both have.
func (l *Lane) apart(usual logbook.Slip) (share float64, ok bool) {
	for m, p := range usual.Splits() {
		if v := l.ETs[m].Number(); v.Known() && p.ETS.Known() {
			share, ok = math.Abs(math.Log(v.Value()/p.ETS.Value())), true
		}
	}
	return share, ok
}

// When is the moment of a slip as typed.Moment reads it, "" where the slip has none. Of two
// days that a date can be it is the one just past.
func (s Slip) When(now time.Time) (text string, err error) {
	if !s.Dated {
		return s.Clock, nil
	}
	var days []time.Time
	for _, order := range []string{"mdy", "dmy"} {
		d := s.Day.In(order)
		if d.Month == 0 {
			continue
		}
		year := d.Year
		if year == 0 {
			year = now.Year()
		}
		at := time.Date(year, time.Month(d.Month), d.Day, 0, 0, 0, 0, now.Location())
		if d.Year == 0 && at.After(now) {
			at = at.AddDate(-1, 0, 0)
		}
		if len(days) == 0 || !days[0].Equal(at) {
			days = append(days, at)
		}
	}
	if len(days) > 1 {
		const justPast = 3 * 24 * time.Hour
		just := func(t time.Time) bool { return !t.After(now) && now.Sub(t) < justPast }
		switch {
		case just(days[0]) && !just(days[1]):
			days = days[:1]
		case just(days[1]) && !just(days[0]):
			days = days[1:]
		case days[0].After(now) && !days[1].After(now):
			days = days[1:]
		case days[1].After(now) && !days[0].After(now):
			days = days[:1]
		}
	}
	if len(days) == 2 {
		return "", fmt.Errorf(
			"the date may be %s or %s",
			days[0].Format("2 January 2006"),
			days[1].Format("2 January 2006"),
		)
	}
	text = days[0].Format(time.DateOnly)
	if s.Clock != "" {
		text += " " + s.Clock
	}
	return text, nil
}

// Either reports that one lane ran alone, and the slip, which names both, does not tell which.
func (s Slip) Either() bool { return s.either }

// Choose takes the end that the racer says is his, counted from 0, and gives the place of its lane.
func (s Slip) Choose(end int) (ours int) {
	if !s.either || end < 0 {
		return end
	}
	s.Lanes[0].Side = s.Ends()[end][0]
	return 0
}

// Ends are the names of the lanes, first and second where they are not read, each with the time at
// its end as it stands.
func (s Slip) Ends() (ends [][2]string) {
	for i, l := range s.Lanes {
		name, end := l.Side, ""
		if name == "" {
			name = []string{"first", "second"}[i]
		}
		if m := l.lastMark(); m >= 0 {
			end = l.ETs[m].Text
		}
		if ends = append(ends, [2]string{name, end}); s.either {
			return [][2]string{{"left", end}, {"right", end}}
		}
	}
	return ends
}
