package crew

import (
	"fmt"
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// A slip is looked at before it is recorded: each figure alone, against the forecast
// and the slip's other figures, and its round against itself.

// Look says what looks wrong on a slip, whose setup and air become whole ids; beside are
// slips that are to be recorded together with it, and tell of it as those of the log do. One that cannot be comes
// back as Impossible, with the doubts where they tell what was likely meant.
func (s *Session) Look(slip *Slip, beside ...*Slip) ([]Doubt, error) {
	cannot := slip.Check()
	if cannot == nil {
		err := s.settleOwn(slip)
		if err == nil {
			err = s.resolve(slip)
		}
		if err == nil {
			err = s.SlipStands(*slip)
		}
		if err != nil {
			return nil, err
		}
	}
	m, err := s.amongBatch(*slip, beside)
	if err != nil {
		return nil, err
	}
	if cannot != nil {
		return m.weigh(s.Now()), markImpossible("", cannot)
	}
	return m.doubts(s.Now()), nil
}

// resolve finds the setup and the reading that a slip names.
func (s *Session) resolve(slip *Slip) error {
	if slip.Setup != "" {
		setup, err := s.Setup(slip.Vehicle, slip.Setup)
		if err != nil {
			return err
		}
		slip.Setup = setup.ID
	}
	if slip.Air != "" {
		r, err := s.Reading(slip.Air)
		if err != nil {
			return err
		}
		if r.Status == logbook.Void {
			return fmt.Errorf("reading %s is void: name another, or none for the air at that minute", r.ID)
		}
		slip.Air = r.ID
	}
	return nil
}

// doubts are those that the vehicle's other slips and its forecast tell of. Where the
// whole of it was shifted its times are not asked about one by one.
func (m *among) doubts(now time.Time) []Doubt {
	d, whole := m.shifted(now)
	if !whole {
		d, whole = m.stopDoubt()
	}
	if whole {
		return m.alone(append([]Doubt{d}, m.twiceDoubt()...))
	}
	return m.with(m.weigh(now), m.reactionDoubts(m.perfectS()), m.twiceDoubt())
}

// with are all doubts of a slip, of which the times, the lights and being a second copy were
// held against others: how depends on whether it comes alone or with many.
func (m *among) with(times, lights, twice []Doubt) []Doubt {
	return m.alone(slices.Concat(times, lights, m.dialDoubt(), otherLaneDoubt(m.run.Slip), twice))
}

// alone adds what the slip's round and its other figures tell by themselves.
func (m *among) alone(ds []Doubt) []Doubt {
	slip := m.run.Slip
	ds = append(ds, resultDoubt(slip, m.run.Track)...)
	return append(ds, unlikelyFields(slip, ds)...)
}

// perfectS is what the slip prints for a perfect light, s.
func (m *among) perfectS() float64 { return RulesOf(m.run.Slip, m.run.Track).PerfectS }

// weigh doubts the times of a slip by the forecast of its run.
func (m *among) weigh(now time.Time) []Doubt {
	var q predict.Question
	var ask bool
	f, err := m.expect()
	if err == nil {
		q, ask, err = f.Proofread(m.pass)
	}
	return weighed(m.run.Slip, now, q, ask, err == nil)
}

// weighed doubts the times of a slip by the question that other runs raise, told where they
// tell anything: else the slip alone must do.
func weighed(slip Slip, now time.Time, q predict.Question, ask, told bool) []Doubt {
	switch {
	case !told:
		return slices.Concat(pastBelief(slip, now), timesTooLong(slip), speedsLow(slip))
	case ask:
		return append([]Doubt{misreadDoubt(slip, q)}, pastBelief(slip, now)...)
	}
	return append(pastBelief(slip, now), timesTooLong(slip)...)
}

// perhaps is a typing error that is not likely enough to ask about before a slip is recorded.
func (m *among) perhaps() *Doubt {
	slip := m.run.Slip
	if len(m.before) < tellFigure || slip.Forced != "" || slip.FullPower != "" || slip.Status == logbook.Void {
		return nil
	}
	f, err := m.expect()
	if err != nil {
		return nil
	}
	q, some := f.Wonder(m.pass)
	if !some {
		return nil
	}
	if d := misreadDoubt(slip, q); len(d.Readings) > 0 {
		return &d
	}
	return nil
}

// misreadDoubt is the doubt of a figure that looks mistyped.
func misreadDoubt(slip Slip, q predict.Question) Doubt {
	of := q.Figure
	d := Doubt{Kind: Misread, At: of.Mark, Speed: of.Speed, Value: of.Value, Likely: q.Likely}
	d.Alone, d.Lift = q.Alone, q.Lift
	for _, r := range q.Readings {
		as := Meant{
			Kind: MeantFigure, At: r.Figure.Mark, Speed: r.Figure.Speed, Value: r.Figure.Value,
			OtherUnit: r.OtherUnit, In: r.In, splits: r.Splits,
		}
		if r.With != (predict.SlipFigure{}) {
			as.Kind, as.With = Exchanged, r.With.Mark
		}
		if possible(slip, as) {
			d.Readings = append(d.Readings, as)
		}
	}
	return d
}

// possible reports that wheels have run a slip as it may have been meant.
func possible(s Slip, m Meant) bool {
	m.Apply(&s)
	return s.Check() == nil && !slices.ContainsFunc(pastBelief(s, s.Time.Time),
		func(d Doubt) bool { return d.Kind == FarOff })
}

// reactionDoubts hold the reactions of both lanes against those that the driver had
// before where something hung on them, and those of any driver.
func (m *among) reactionDoubts(perfectS float64) (ds []Doubt) {
	slip, proofread := m.run.Slip, predict.ProofreadReaction
	if slip.Bye != "" || !Raced(slip) {
		proofread = predict.ProofreadUnraced
	}
	var before []float64
	for _, o := range m.others {
		if o.ReactionS.Known() && o.Bye == "" && Raced(o) && o.Time.Before(slip.Time.Time) && o.Track == slip.Track {
			before = append(before, o.ReactionS.Value())
		}
	}
	for _, lane := range []struct {
		other   bool
		typed   units.Number
		against []float64
	}{{false, slip.ReactionS, before}, {true, slip.OpponentReactionS, nil}} {
		if !lane.typed.Known() {
			continue
		}
		if q, ask := proofread(perfectS, lane.against, lane.typed.Value()); ask {
			ds = append(ds, Doubt{
				Kind: ReactionOdd, Other: lane.other, Value: q.Typed, Likely: q.Usual, Low: q.Low, High: q.High,
				Readings: meantEach(MeantReaction, lane.other, q.Readings),
			})
		}
	}
	return ds
}

const (
	// tellFigure are so many runs before that their forecast alone speaks against a figure or a dial.
	tellFigure = 3
	// tellDial are so many dials, all for one distance, that they tell for which he dials.
	tellDial = 3
)

// dialDoubt finds a dial that the car cannot mean.
func (m *among) dialDoubt() []Doubt {
	dial := m.run.Slip.DialS
	if !dial.Known() {
		return nil
	}
	q, ask := m.proofreadDial(dial)
	if !ask {
		return nil
	}
	return []Doubt{{
		Kind: DialOff, Value: dial.Value(), Likely: q.Forecast.Centre, Alone: len(m.before) < tellFigure,
		Readings: meantEach(MeantDial, false, q.Readings),
	}}
}

func (m *among) proofreadDial(dial units.Number) (q predict.DialDoubt, ask bool) {
	if len(m.before) < tellFigure {
		return predict.ProofreadDialAlone(m.pass, dial)
	}
	f, err := m.expect()
	if err != nil {
		return q, false
	}
	if q, ask = f.ProofreadDial(m.pass, dial); ask {
		return q, true
	}
	if usual, told := m.dialsTo(); told && usual != RacedTo(m.run.Slip, m.run.Track) {
		return f.ProofreadDialAt(usual, m.pass, dial)
	}
	return q, false
}

// dialsTo is the distance that the last dials before, at the slip's track, were for.
func (m *among) dialsTo() (to Mark, told bool) {
	n := 0
	for _, o := range slices.Backward(m.others) {
		if !o.DialS.Known() || o.Track != m.run.Slip.Track || !o.Time.Before(m.run.Slip.Time.Time) {
			continue
		}
		at := RacedTo(o, m.run.Track)
		if n > 0 && at != to {
			return to, false
		}
		if to, n = at, n+1; n == tellDial {
			return to, true
		}
	}
	return to, false
}

// otherLaneDoubt finds a time of the other lane that its dial speaks against.
func otherLaneDoubt(s Slip) []Doubt {
	q, ask := predict.ProofreadOtherLane(s.OpponentETS, s.OpponentDialS)
	if !ask {
		return nil
	}
	return []Doubt{{
		Kind: UnderDial, Other: true, Value: s.OpponentETS.Value(), Likely: s.OpponentDialS.Value(),
		Readings: append(meantEach(MeantET, true, q.ETs), meantEach(MeantDial, true, q.Dials)...),
	}}
}

// enough are so many figures in common that two runs of one day do not have them by
// chance: each is printed to a thousandth and spread over fifty of them or more.
const enough = 2

// twiceDoubt finds the slip that this one is a second copy of, in the log or beside it.
func (m *among) twiceDoubt() []Doubt {
	slip := m.run.Slip
	for _, other := range m.others {
		if d, again := twice(slip, other); again {
			d.Free = freeMinute(slip, m.others)
			return []Doubt{d}
		}
	}
	return nil
}

// freeMinute is the last one up to that of a slip in which its vehicle made no run.
func freeMinute(s Slip, slips []Slip) time.Time {
	at := s.Time.Truncate(time.Minute)
	for slices.ContainsFunc(slips, func(o Slip) bool {
		return o.Vehicle == s.Vehicle && o.Time.Sub(at).Abs() < time.Minute
	}) {
		at = at.Add(-time.Minute)
	}
	return at
}

func twice(s, other Slip) (d Doubt, again bool) {
	d = Doubt{Vehicle: s.Vehicle, When: other.Time.In(s.Time.Location()), TwinID: other.ID}
	switch {
	case other.Vehicle != s.Vehicle:
	case d.When.Sub(s.Time.Time).Abs() < time.Minute:
		d.Kind = TwiceMade
	case d.When.Format(time.DateOnly) != s.Time.Format(time.DateOnly):
	case sameFigures(s, other):
		d.Kind = TwiceFigures
	case s.Round != "" && s.Round == other.Round && s.Track == other.Track && nearlySame(s, other):
		d.Kind = TwiceRound
	}
	return d, d.Kind != ""
}

// SameMoment reports that a slip is at the moment of one beside it, of its vehicle: several
// typed without their time would all be of now.
func SameMoment(beside []*Slip, s Slip) bool {
	return slices.ContainsFunc(beside, func(o *Slip) bool { return o.Vehicle == s.Vehicle && o.Time.Equal(s.Time.Time) })
}

// nearlySame reports that two slips have more figures in common than two runs do: one of them
// was typed again, with one of it otherwise.
func nearlySame(a, b Slip) bool {
	as, _ := TimeCells(&a)
	bs, _ := TimeCells(&b)
	same, other := 0, 0
	for i := range as {
		switch {
		case !as[i].Known() || !bs[i].Known():
		case as[i].Value() == bs[i].Value():
			same++
		default:
			other++
		}
	}
	return same > 2*enough && other == 1
}

// sameFigures reports that the figures which both slips have are equal, and enough.
func sameFigures(a, b Slip) bool {
	as, _ := TimeCells(&a)
	bs, _ := TimeCells(&b)
	n := 0
	for i := range as {
		if !as[i].Known() || !bs[i].Known() {
			continue
		}
		if as[i].Value() != bs[i].Value() {
			return false
		}
		n++
	}
	return n >= enough
}
