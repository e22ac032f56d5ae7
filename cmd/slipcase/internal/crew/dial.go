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
	Mark    *Mark     // the finish; nil for the farthest that is timed at the track
	RiskPct float64   // wanted, times in 100
	ForRisk bool      // a dial for that risk, against a Rival too
	HoldS   float64   // slower than the forecast by so much, given back at the stripe; 0 without
	KeptS   float64   // the hold of the day that this dial does not go by
	Stop    *StopSaid // nil for that of the last run raced so
	Own     LaneSaid
	Rival   *RivalAsk // nil without
}

// StopSaid is a throttle stop, on and off so long after the launch; neither is known of a run
// without.
type StopSaid struct{ OnS, OffS units.Number }

// DialChoice is the dial for the next round. Chances are from 0 to 1.
type DialChoice struct {
	Run        Run
	Forecast   Forecast
	Mark       Mark
	Rules      Rules
	RiskPct    float64      // as asked
	LengthFt   float64      // of the vehicle
	CarLengthS units.Number // what it takes for that at the finish
	OneDial                 // the one chosen, or the index; heads-up only its Win
	Why        DialWhy      // it is that one
	SlowerS    units.Number // every run, for that risk at the index
	Stop       *StopMove    // the throttle stop for that; nil for a run without one
	HoldS      float64      // what is held, as asked
	KeptS      float64      // the hold of the day, where the dial goes by something else
	GiveBackS  units.Number // what is to be given back at the stripe for it
	DeadOn     OneDial      // what the forecast itself would be; zero without a dial to choose
	Safer      []OneDial    // for about the risks of saferRisks, each quicker than the one before
	HeadStartS units.Number // the other lane leaves that much earlier
	Dials      []OneDial
	Reaction   Reactions       // the racer's, after the perfect light, against a Rival
	Rival      *Rival          // nil without
	Box        [2]units.Number // the delay that the driver last set in the left and the right lane
	Notes      []DialNote
}

// DialWhy is why a dial is the one chosen.
type DialWhy string

// The reasons; of a round heads-up there is none.
const (
	ForRisk  DialWhy = "risk"
	MostWins DialWhy = "win"
	Held     DialWhy = "hold"
	OfIndex  DialWhy = "index"
)

// saferRisks are the chances of breaking out that are shown beside the dead-on dial.
var saferRisks = []float64{0.25, 0.10}

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
	d := DialChoice{
		Run:      ask.Next.Run,
		Rules:    ask.Rules,
		RiskPct:  ask.RiskPct,
		HoldS:    ask.HoldS,
		KeptS:    ask.KeptS,
		LengthFt: carFt,
	}
	if d.Run.Vehicle.Kind == string(predict.Motorcycle) {
		d.LengthFt = bikeFt
	}
	var err error
	if said := ask.Stop; said != nil {
		ask.Next.Run.Slip.StopOnS, ask.Next.Run.Slip.StopOffS = said.OnS, said.OffS
	} else {
		ask.Next.stopIn(ask.Rules)
	}
	d.Run = ask.Next.Run
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
	runs, err := s.Runs(d.Run.Slip.Vehicle)
	if err != nil {
		return d, err
	}
	d.Box = boxOf(runs)
	return d, d.choose(ask.ForRisk)
}

// DialAhead is the dial of a run to come, for the usual risk or as it is held that day. It is
// raced as said; where that names no class, as the day's last slip there was.
func (s *Session) DialAhead(ask NextAsk, said Slip) (DialChoice, error) {
	next, rules, err := s.ahead(ask, said)
	if err != nil {
		return DialChoice{}, err
	}
	return s.dialOf(next, rules)
}

// ahead is a run to come as it is raced: as said, else as the day's last slip there was, with
// the throttle stop of that.
func (s *Session) ahead(ask NextAsk, said Slip) (next Next, rules Rules, err error) {
	if next, err = s.Next(ask); err != nil {
		return next, rules, err
	}
	rules = RulesOf(said, next.Run.Track)
	if said.Class == "" || rules.Format == Index {
		rules = s.RulesAhead(next.Run, rules)
	}
	next.stopIn(rules)
	return next, rules, nil
}

// dialOf is the dial of a run to come, for the usual risk or as it is held that day.
func (s *Session) dialOf(next Next, rules Rules) (DialChoice, error) {
	if rules.Format == Index && !rules.IndexS.Known() {
		return DialChoice{Run: next.Run, Rules: rules}, impossiblef("index", "a class by index wants it, as 8.90")
	}
	dial := DialAsk{Next: next, Rules: rules, RiskPct: 100 * UsualRisk}
	if rules.Format == Dialled {
		dial.HoldS = s.Hold(next.Run)
	}
	return s.Dial(dial)
}

// choose works out the dials with their chances, by the class.
func (d *DialChoice) choose(forRisk bool) (err error) {
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
		d.Why, d.SlowerS = OfIndex, units.Some(slower)
		if d.Stop, err = stopFor(&d.Forecast, d.Mark, d.Run.Slip, wanted, d.RiskPct/100); err != nil {
			return err
		}
	default:
		if wanted, err = d.wanted(forRisk); err != nil {
			return err
		}
		if err = d.sideBySide(); err != nil {
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

// wanted is the dial to choose: the one held, the one that wins most, or that of a risk.
func (d *DialChoice) wanted(forRisk bool) (float64, error) {
	usual, err := d.Forecast.DialFor(d.Mark, d.RiskPct/100)
	switch {
	case err != nil:
		return 0, err
	case d.HoldS > 0:
		held, back := heldDial(&d.Forecast, d.Mark, d.HoldS)
		d.Why, d.GiveBackS = Held, units.Some(back)
		return held, nil
	case d.Rival != nil && !forRisk:
		d.Why = MostWins
		return d.Forecast.BestDial(d.Mark, usual, func(dialS float64) (float64, error) {
			one, err := d.one(dialS)
			return one.Win.Value(), err
		})
	}
	d.Why = ForRisk
	return usual, nil
}

// heldDial is the dial, in whole hundredths, that is slower than the forecast by a hold, s,
// and what is to be given back at the stripe for it.
func heldDial(f *Forecast, m Mark, holdS float64) (dialS, backS float64) {
	centre := f.ETs[m].Centre
	dialS = math.Round((centre+holdS)*100) / 100
	return dialS, dialS - centre
}

// NextDial is the dial for a run to come, without more being asked: the one that is held,
// else that for the usual risk; the index of its class. It is zero where there is no run to
// come, and heads-up.
type NextDial struct {
	OneDial
	Mark             Mark
	Index            bool
	SlowerS          float64   // for the usual risk at the index
	Stop             *StopMove // for that; nil for a run without one
	HoldS, GiveBackS float64   // 0 without a hold
}

func dialToCome(f *Forecast, m Mark, next Slip, rules Rules, holdS float64) (d NextDial, err error) {
	switch {
	case rules.Format == HeadsUp, rules.Format == Index && !rules.IndexS.Known():
		return d, nil
	case rules.Format == Index:
		d.Index, d.DialS = true, rules.IndexS.Value()
		if d.SlowerS, err = f.SlowerFor(m, d.DialS, UsualRisk); err == nil {
			d.Stop, err = stopFor(f, m, next, d.DialS, UsualRisk)
		}
	case holdS > 0:
		d.HoldS = holdS
		d.DialS, d.GiveBackS = heldDial(f, m, holdS)
	default:
		d.DialS, err = f.DialFor(m, UsualRisk)
	}
	if err != nil {
		return NextDial{}, err
	}
	d.Breakout = f.BreakoutChance(m, d.DialS)
	return d, nil
}

// sideBySide works out the dead-on dial and the safer ones.
func (d *DialChoice) sideBySide() (err error) {
	if d.DeadOn, err = d.one(d.Forecast.DeadOn(d.Mark)); err != nil {
		return err
	}
	last := d.DeadOn
	for _, risk := range saferRisks {
		s, err := d.Forecast.DialFor(d.Mark, risk)
		if err != nil {
			return err
		}
		if s > last.DialS-0.005 {
			continue // a hundredth is more than the risks lie apart
		}
		if last, err = d.one(s); err != nil {
			return err
		}
		d.Safer = append(d.Safer, last)
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
