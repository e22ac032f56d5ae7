package crew

import (
	"slices"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Asked is a figure as asked: one, or low, likely and high.
type Asked struct {
	Range
	Text    string // as it was typed
	Given   bool
	Alone   bool // one figure, without a range of its own
	Percent bool
}

// ChangeAsk is a change as it is asked about.
type ChangeAsk struct {
	Gain     Asked  // hp or percent
	PowerAt  string // where that gain counts, "" for where the setup's power does
	Off      Asked  // lb taken off
	Grip     Asked  // percent of grip, or the 60 ft time in s that there will be
	BySheets *SheetGain
	Drive    Drivetrain   // what there is to be of it
	Curve    Curve        // of the engine as it is, nil where none is on file
	TyresMPH units.Number // what they are rated for
}

// Upgraded is what a change makes of the next run.
type Upgraded struct {
	*Prospect
	Ask      ChangeAsk
	Upgrade  predict.Upgrade
	Notes    []ChangeNote
	Cautions ChangeCautions
}

// Upgrade tries a change.
func (p *Prospect) Upgrade(ask ChangeAsk) (u Upgraded, err error) {
	c, notes, err := p.change(ask)
	if err != nil {
		return u, err
	}
	if c == (predict.Change{}) {
		return u, ErrNoChange
	}
	u, err = p.tryChange(c, ask.TyresMPH)
	u.Ask, u.Notes = ask, append(notes, p.takenBack()...)
	return u, err
}

func (p *Prospect) tryChange(c predict.Change, tyresMPH units.Number) (Upgraded, error) {
	u, err := p.car.Try(c)
	if err != nil {
		return Upgraded{}, markImpossible("", err)
	}
	return Upgraded{Prospect: p, Upgrade: u, Cautions: p.cautions(c, u.Quick(), tyresMPH)}, nil
}

// ErrNoChange is that of a change that changes nothing.
var ErrNoChange = impossiblef("", "nothing is changed")

// change makes out what was asked about.
func (p *Prospect) change(ask ChangeAsk) (c predict.Change, notes []ChangeNote, err error) {
	switch {
	case ask.BySheets != nil:
		c.Gain, notes = ask.BySheets.Gain, ask.BySheets.Notes
	case ask.Gain.Given:
		if c.Gain, notes, err = p.gain(ask.Gain, ask.PowerAt); err != nil {
			return c, nil, markImpossible("gain", err)
		}
	}
	c.WeightLb = Times(ask.Off.Range, -1)
	if ask.Drive != (Drivetrain{}) {
		geared, more, err := p.regear(ask.Curve, ask.Drive)
		if err != nil {
			return c, notes, err
		}
		c, notes = c.With(geared), append(notes, more...)
	}
	switch {
	case ask.Grip.Percent:
		c.Grip = Times(ask.Grip.Range, 0.01)
	case ask.Grip.Given:
		launch, err := p.launchFor(ask.Grip.Range, c)
		return c.With(predict.Change{Launch: launch}), notes, markImpossible("grip", err)
	}
	return c, notes, nil
}

// launchFor is the launch for 60 ft times, with the other changes in: the slowest is the least.
func (p *Prospect) launchFor(sixty Range, beside predict.Change) (r Range, err error) {
	for _, of := range []struct {
		launch *float64
		s      float64
	}{{&r.Likely, sixty.Likely}, {&r.Low, sixty.High}, {&r.High, sixty.Low}} {
		if *of.launch, err = p.car.LaunchFor(of.s, beside); err != nil {
			return r, err
		}
	}
	return r, nil
}

// gain turns a gain in hp or percent into a share of today's power.
func (p *Prospect) gain(g Asked, at string) (r Range, notes []ChangeNote, err error) {
	share := percent
	if g.Alone && g.Likely != 0 {
		notes = append(notes, ChangeNote{Kind: GainDoubted})
	}
	if !g.Percent {
		today, implied := p.Stated()
		var crossed bool
		if share, crossed = today.share(at); crossed && implied == nil {
			implied = []ChangeNote{{Kind: LossTaken, Share: today.Loss}}
		}
		notes = append(notes, implied...)
	}
	if r = (Range{Low: share(g.Low), Likely: share(g.Likely), High: share(g.High)}); g.Alone {
		r = predict.ClaimedGain(r.Likely)
	}
	return r, notes, predict.CheckGain(r)
}

// Worthed is what a change of the plan that is not in yet is worth.
type Worthed struct {
	Upgraded
	Part  Planned
	Worth Worth
}

// Worth tries a change of the plan.
func (p *Prospect) Worth(part Planned) (w Worthed, err error) {
	today, notes := p.Stated()
	candidate, crossed, err := candidateOf(part, today)
	if err != nil {
		return w, markImpossible("", err)
	}
	if crossed {
		notes = slices.Insert(notes, 0, ChangeNote{Kind: LossTaken, Share: today.Loss})
	}
	ranked, err := p.car.Rank([]predict.Candidate{candidate}, predict.ByET)
	if err != nil {
		return w, markImpossible("", err)
	}
	u, err := p.tryChange(candidate.Change, units.Number{})
	u.Notes = append(notes, p.takenBack()...)
	return Worthed{u, part, ranked[0]}, err
}

// Targeted is what a time needs.
type Targeted struct {
	*Prospect
	Target   predict.Target
	Today    Stated // the power that its gains are shares of
	Implied  bool   // that power is what the runs imply
	Cautions ChangeCautions
}

// Reach works out what a time at the finish needs.
func (p *Prospect) Reach(et float64, tyresMPH units.Number) (Targeted, error) {
	need, err := p.car.Reach(p.Finish, et)
	if err != nil {
		return Targeted{}, markImpossible("target", err)
	}
	u, err := p.tryChange(need.Way, tyresMPH)
	today, notes := p.Stated()
	return Targeted{p, need, today, notes != nil, u.Cautions}, markImpossible("target", err)
}

// Times is a range with every figure multiplied, its ends kept in order.
func Times(r Range, k float64) Range {
	if k < 0 {
		r.Low, r.High = r.High, r.Low
	}
	return Range{Low: k * r.Low, Likely: k * r.Likely, High: k * r.High}
}
