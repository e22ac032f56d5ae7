package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// LaneSaid is what is said of a lane of the next round, s: reactions as its track's
// slips print them, each mean with the standard deviation from run to run.
type LaneSaid struct {
	DialS, ReactionS, ReactionSD, ETS, ETSD units.Number
}

// RivalAsk is the other lane of the next round.
type RivalAsk struct {
	Said LaneSaid
	Next *Next // the run of a vehicle of the log, nil without; what is said goes before it
}

// Rival is the other lane, all of it said, known or assumed.
type Rival struct {
	predict.Opponent
	Vehicle Vehicle // of the log, the zero Vehicle for any other
}

// What is taken of a driver or a car that nothing is known of: common practice, no
// source, and said on the screen.
var (
	usualReaction = predict.Reactions{Spread: predict.RacersReaction}
	usualETSD     = 0.030
	usualOverDial = 0.020
)

// Usual reactions are no further from the perfect light, s; further off another
// track's perfect light is meant (common practice, no source).
const reddestUsual, latestUsual = -0.3, 1.0

// CheckReaction refuses a reaction, s as the slip prints it, that is no usual one: an
// *OffPerfect.
func (r Rules) CheckReaction(s float64) error {
	if off := nearPerfect(s, r.PerfectS, reddestUsual, latestUsual); off != nil {
		return off
	}
	return nil
}

// meet puts the lanes of a round together.
func (s *Session) meet(d *DialChoice, own LaneSaid, ask RivalAsk) error {
	runs, err := s.Runs(d.Run.Vehicle.ID)
	if err != nil {
		return err
	}
	if d.Reaction = d.said(own); d.Reaction.SD == 0 {
		d.Reaction = d.logged("", runs, own)
	}
	r := &Rival{}
	if ask.Next != nil {
		r.Vehicle = ask.Next.Run.Vehicle
		if r.Opponent, err = s.opponent(d, ask.Next); err != nil {
			return err
		}
	}
	d.Rival = r
	return d.settle(r, ask.Said)
}

// said is the reaction that was said of a lane, after the perfect light.
func (d *DialChoice) said(l LaneSaid) Reactions {
	if !l.ReactionS.Known() {
		return Reactions{}
	}
	return Reactions{Spread: Spread{Mean: l.ReactionS.Value() - d.Rules.PerfectS, SD: l.ReactionSD.Or(0)}}
}

// opponent is a vehicle of the log as the other lane.
func (s *Session) opponent(d *DialChoice, next *Next) (o predict.Opponent, err error) {
	v := next.Run.Vehicle.ID
	runs, err := s.Runs(v)
	if err != nil {
		return o, err
	}
	f, err := next.Expect()
	if err != nil {
		return o, fmt.Errorf("%s: %w", v, err)
	}
	o.ET = f.ETSpread(d.Mark)
	o.Reaction = d.logged(v, runs, LaneSaid{})
	for _, r := range runs {
		if r.Slip.DialS.Known() && RacedTo(r.Slip, r.Track) == d.Mark {
			o.DialS = r.Slip.DialS.Value()
		}
	}
	return o, nil
}

// logged is a driver's reaction as the log knows it; a mean that was said without its
// spread is kept. vehicle is "" for the racer's own.
func (d *DialChoice) logged(vehicle string, runs []Run, said LaneSaid) Reactions {
	var late []float64
	for _, r := range ofDriver(runs) {
		late = append(late, list(LateBy(r.Slip, r.Track))...)
	}
	s, some := predict.UsualReaction(late)
	if !some {
		s = usualReaction
	}
	if said.ReactionS.Known() {
		s.Mean, s.Seen = d.said(said).Mean, nil
	}
	if !some {
		d.Notes = append(d.Notes, DialNote{FewReactions, vehicle, s.Mean + d.Rules.PerfectS, s.SD})
	}
	return s
}

// settle puts together what was said of the other lane, what the log knows and
// what has to be assumed.
func (d *DialChoice) settle(r *Rival, said LaneSaid) error {
	r.DialS = said.DialS.Or(r.DialS)
	if d.Rules.Format == Dialled && r.DialS == 0 {
		return impossiblef("opponent", `want its dial, as "dial 12.40"`)
	}
	if said.ETS.Known() {
		r.ET = Spread{Mean: said.ETS.Value(), SD: said.ETSD.Or(0)}
	}
	take := func(kind DialNoteKind, mean, sd float64) {
		d.Notes = append(d.Notes, DialNote{kind, r.Vehicle.ID, mean, sd})
	}
	switch {
	case said.ReactionS.Known():
		r.Reaction = d.said(said)
	case r.Reaction.SD == 0:
		r.Reaction = usualReaction
		take(RivalReaction, usualReaction.Mean+d.Rules.PerfectS, usualReaction.SD)
	}
	if r.Reaction.SD == 0 {
		r.Reaction.SD = usualReaction.SD
		take(RivalReactionSD, 0, usualReaction.SD)
	}
	if r.ET.Mean == 0 {
		if r.DialS == 0 {
			return impossiblef("opponent", `want its ET, as "et 12.43 sd .03"`)
		}
		r.ET = Spread{Mean: r.DialS + usualOverDial}
		take(RivalET, usualOverDial, 0)
	}
	if r.ET.SD == 0 {
		r.ET.SD = usualETSD
		take(RivalETSD, 0, usualETSD)
	}
	return nil
}
