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
	Other  bool   // of the other lane
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

type cell struct {
	column string
	at     *units.Number
}

func cells(s *logbook.Slip) []cell {
	return []cell{
		{"reaction_s", &s.ReactionS},
		{"dial_s", &s.DialS},
		{"index_s", &s.IndexS},
		{"et_60_s", &s.ET60S},
		{"et_330_s", &s.ET330S},
		{"et_660_s", &s.ET660S},
		{"mph_660", &s.MPH660},
		{"et_1000_s", &s.ET1000S},
		{"mph_1000", &s.MPH1000},
		{"et_1320_s", &s.ET1320S},
		{"mph_1320", &s.MPH1320},
		{"opponent_reaction_s", &s.OpponentReactionS},
		{"opponent_dial_s", &s.OpponentDialS},
		{"opponent_et_s", &s.OpponentETS},
		{"opponent_mph", &s.OpponentMPH},
	}
}

// Source is that of a slip that was read of a printed one.
const Source = "printed"

// Fill puts what was read into a slip of the log, ours being the lane; a figure that is there
// stays. What is in doubt comes back. perfectS is what the slip prints for a perfect light.
func (s Slip) Fill(into *logbook.Slip, ours int, perfectS float64) (doubts []Doubt) {
	own := s.Lanes[ours]
	figures := map[string]Figure{
		"reaction_s": own.light(
			perfectS,
		), "dial_s": own.Dial, "index_s": own.Index, "et_60_s": own.ETs[0], "et_330_s": own.ETs[1],
		"et_660_s": own.ETs[2], "mph_660": own.MPHs[2], "et_1000_s": own.ETs[3], "mph_1000": own.MPHs[3], "et_1320_s": own.ETs[4],
		"mph_1320": own.MPHs[4],
	}
	if len(s.Lanes) == 2 {
		his, end := s.Lanes[1-ours], max(s.Lanes[0].lastMark(), s.Lanes[1].lastMark())
		figures["opponent_reaction_s"], figures["opponent_dial_s"] = his.light(perfectS), his.Dial
		if end >= 2 {
			figures["opponent_et_s"], figures["opponent_mph"] = his.ETs[end], his.MPHs[end]
		}
	}
	for i, c := range cells(into) {
		f := figures[c.column]
		if c.at.Known() {
			continue
		}
		if *c.at = f.Number(); f.How == Doubtful {
			const others = 11 // the cells from there on are the other lane's
			doubts = append(doubts, Doubt{c.column, i >= others, f.Text, f.Value})
		}
	}
	s.words(into, own)
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

// End is the time at the last mark of a lane.
func (l *Lane) End() Figure {
	if m := l.lastMark(); m >= 0 {
		return l.ETs[m]
	}
	return Figure{}
}
