package crew

import (
	"fmt"
	"math"

	"slipcase/predict"
	"slipcase/weather/units"
)

// DialAsk is all that a dial is chosen by.
type DialAsk struct {
	Next    Next
	Rules   Rules
	Mark    *Mark   // the finish; nil for the farthest that is timed at the track
	RiskPct float64 // wanted, times in 100
	Own     LaneSaid
	Rival   *RivalAsk // nil without
}

// DialChoice is the dial for the next round. Chances are from 0 to 1.
type DialChoice struct {
	Run        Run
	Forecast   Forecast
	Mark       Mark
	Rules      Rules
	RiskPct    float64      // as asked
	LengthFt   float64      // of the vehicle
	CarLengthS units.Number // what it takes for that at the finish
	OneDial                 // the one for that risk, or the index; heads-up only its Win
	SlowerS    units.Number // every run, for that risk at the index
	HeadStartS units.Number // the other lane leaves that much earlier
	Dials      []OneDial
	Reaction   Spread // the racer's, after the perfect light, against a Rival
	Rival      *Rival // nil without
	Notes      []DialNote
}

// OneDial is a dial with its chances.
type OneDial struct {
	DialS, Breakout float64
	Win             units.Number // against a Rival
}

// DialNote tells a figure, s, that was taken of a driver or car for want of a better
// one.
type DialNote struct {
	Kind     DialNoteKind
	Vehicle  string // whose; "" for the racer's own
	Mean, SD float64
}

// DialNoteKind is what was taken.
type DialNoteKind string

// The figures that may have to be taken.
const (
	FewReactions    DialNoteKind = "few-reactions"  // too few in the log: Mean, as the track prints it, and SD
	RivalReaction   DialNoteKind = "rival-reaction" // the same, of the other lane
	RivalReactionSD DialNoteKind = "rival-reaction-sd"
	RivalET         DialNoteKind = "rival-et" // Mean over its dial
	RivalETSD       DialNoteKind = "rival-et-sd"
)

// carFt is the length of a car at the finish, bikeFt of a motorcycle (common
// practice, no source).
const carFt, bikeFt = 15, 7

// Dial finds the dial for the next round, and the chance to win it.
func (s *Session) Dial(ask DialAsk) (DialChoice, error) {
	d := DialChoice{Run: ask.Next.Run, Rules: ask.Rules, RiskPct: ask.RiskPct, LengthFt: carFt}
	if d.Run.Vehicle.Kind == string(predict.Motorcycle) {
		d.LengthFt = bikeFt
	}
	var err error
	if d.Forecast, err = ask.Next.Expect(); err != nil {
		return d, fmt.Errorf("%s: %w", d.Run.Vehicle.ID, err)
	}
	if d.Mark = Farthest(d.Run.Track, &d.Forecast); ask.Mark != nil {
		d.Mark = *ask.Mark
	}
	if over, known := d.Forecast.TimeOver(d.Mark, d.LengthFt); known {
		d.CarLengthS = units.Some(over)
	}
	if ask.Rival != nil {
		if err := s.meet(&d, ask.Own, *ask.Rival); err != nil {
			return d, err
		}
	}
	return d, d.choose()
}

// choose works out the dials with their chances, by the class.
func (d *DialChoice) choose() (err error) {
	wanted := d.Rules.IndexS.Value()
	dials := []float64{wanted}
	switch d.Rules.Format {
	case HeadsUp:
		one, err := d.one(0)
		d.Win = one.Win
		return err
	case Index:
		slower, err := d.Forecast.SlowerFor(d.Mark, wanted, d.RiskPct/100)
		if err != nil {
			return err
		}
		d.SlowerS = units.Some(slower)
	default:
		if wanted, err = d.Forecast.DialFor(d.Mark, d.RiskPct/100); err != nil {
			return err
		}
		dials = d.Forecast.DialsAround(d.Mark, wanted)
		if d.Rival != nil {
			d.HeadStartS = units.Some(d.Rival.DialS - wanted)
		}
	}
	for _, s := range dials {
		one, err := d.one(s)
		if err != nil {
			return err
		}
		d.Dials = append(d.Dials, one)
		if math.Abs(s-wanted) < 1e-6 {
			d.OneDial = one
		}
	}
	return nil
}

func (d *DialChoice) one(dialS float64) (OneDial, error) {
	one := OneDial{DialS: dialS, Breakout: d.Forecast.BreakoutChance(d.Mark, dialS)}
	if d.Rival == nil {
		return one, nil
	}
	other := d.Rival.Opponent
	other.DialS = d.Rules.LimitS(units.Some(other.DialS)).Value()
	win, err := d.Forecast.WinChance(d.Mark, d.Rules.RoundRules, d.Reaction, dialS, other)
	one.Win = units.Some(win)
	return one, err
}
