package crew

import (
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Doubt is one thing that looks wrong on a slip. Times are in s, speeds in mph.
type Doubt struct {
	Kind      DoubtKind
	Other     bool    // of the other lane
	At        Mark    // of the figure in question
	Speed     bool    // it is the speed there, else the time
	Value     float64 // as typed
	Likely    float64 // what it is held against
	Alone     bool    // Misread: there is no other figure on the slip; DialOff: Likely is the run itself
	Low, High float64 // what is usual
	FromFt    float64 // SpeedLow, TimesLong: where the time before it was taken
	Vehicle   string
	When      time.Time // InFuture; TwiceMade, TwiceFigures, TwiceRound: of the slip that it is a second copy of
	Now       time.Time // InFuture: there
	Free      time.Time // TwiceMade: a minute near, with no slip in it
	TwinID    string    // of that slip, "" for one typed beside it
	Result    string    // ResultAgainst: as typed
	Decided   string    // by the figures of both lanes
	Why       Decision  // of theirs
	Readings  []Meant   // what may have been meant, the likeliest first; may be empty
	Lift      bool      // a lift would explain it too
	Line      int       // Shifted: of the slip, the first that was; 0 the reaction, 1 60 ft and so on
	Down      bool      // Shifted: where the figures belong
	Outlier   Outlier   // Unbelievable
}

// DoubtKind says what is wrong.
type DoubtKind string

// The kinds of doubt.
const (
	InFuture      DoubtKind = "in-future"      // when it was run
	FarOff        DoubtKind = "far-off"        // outside Low to High, all that wheels have done
	Unbelievable  DoubtKind = "unbelievable"   // Outlier, a figure that no other doubt is about
	SpeedLow      DoubtKind = "speed-low"      // below Likely, which the times make since FromFt
	TimesLong     DoubtKind = "times-long"     // the times since FromFt make only Likely
	Misread       DoubtKind = "misread"        // the forecast and the slip's other figures speak against it
	ReactionOdd   DoubtKind = "reaction-odd"   // the driver's others, Likely, or those of all drivers do
	DialOff       DoubtKind = "dial-off"       // the forecast, Likely, does
	UnderDial     DoubtKind = "under-dial"     // a time far under the dial, Likely
	StopUnsaid    DoubtKind = "stop-unsaid"    // the time is that of a run with a throttle stop, as Likely, When
	TwiceMade     DoubtKind = "twice-made"     // within a minute of Twin
	TwiceFigures  DoubtKind = "twice-figures"  // the figures are those of Twin
	TwiceRound    DoubtKind = "twice-round"    // of the same round, most figures are
	Shifted       DoubtKind = "shifted"        // from Line on by a line, Down or up
	ResultAgainst DoubtKind = "result-against" // the figures of both lanes make it Decided
)

// Meant is a way in which a slip may have been meant.
type Meant struct {
	Kind      MeantKind
	Other     bool // of the other lane
	At        Mark // of a figure of its own column
	Speed     bool // it is the speed there
	With      Mark // Exchanged: the mark of the other
	Value     float64
	Line      int          // Moved: from it on
	Down      bool         // Moved: by a line down, else up
	OtherUnit bool         // MeantFigure: a speed that was taken in the wrong unit,
	In        units.System // and meant in this one
	splits    Splits
	whole     *Slip // Moved: its figures
}

// Splits are the times and speeds of a slip read so.
func (m *Meant) Splits() Splits {
	if m.whole != nil {
		return PrintedSplits(*m.whole)
	}
	return m.splits
}

// MeantKind says what of a slip was meant otherwise.
type MeantKind string

// What may have been meant otherwise.
const (
	MeantFigure   MeantKind = "figure" // of its own column, a time or a speed
	Exchanged     MeantKind = "exchanged"
	MeantReaction MeantKind = "reaction"
	MeantDial     MeantKind = "dial"
	MeantET       MeantKind = "et"    // of the other lane
	Moved         MeantKind = "moved" // the figures from a line on, by one line
)

// Apply makes of a slip what was meant.
func (m *Meant) Apply(s *Slip) {
	v := units.Some(m.Value)
	switch {
	case m.Kind == Moved:
		SetSplits(s, m.Splits())
		s.ReactionS, s.OpponentETS, s.OpponentMPH = m.whole.ReactionS, m.whole.OpponentETS, m.whole.OpponentMPH
	case m.Kind == MeantFigure || m.Kind == Exchanged:
		SetSplits(s, m.splits)
	case m.Kind == MeantET:
		s.OpponentETS = v
	case m.Kind == MeantDial && m.Other:
		s.OpponentDialS = v
	case m.Kind == MeantDial:
		s.DialS = v
	case m.Other:
		s.OpponentReactionS = v
	default:
		s.ReactionS = v
	}
}

// meantEach are the values that may have been meant.
func meantEach(kind MeantKind, other bool, values []float64) (all []Meant) {
	for _, v := range values {
		all = append(all, Meant{Kind: kind, Other: other, Value: v})
	}
	return all
}

// TimeCells are the cells of a paper slip's column, in its order, and the first cell
// of each of its lines: the reaction, then the marks.
func TimeCells(s *Slip) (cells []*units.Number, first []int) {
	return []*units.Number{
		&s.ReactionS, &s.ET60S, &s.ET330S, &s.ET660S, &s.MPH660, &s.ET1000S, &s.MPH1000, &s.ET1320S, &s.MPH1320,
	}, []int{0, 1, 2, 3, 5, 7}
}

// SetSplits puts times and speeds into a slip.
func SetSplits(s *Slip, splits predict.Splits) {
	cells, first := TimeCells(s)
	for i, at := range first[1:] {
		m := Mark(i)
		*cells[at] = splits.ETs[m]
		if m >= At660 {
			*cells[at+1] = splits.MPHs[m]
		}
	}
}
