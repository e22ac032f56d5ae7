package crew

import (
	"fmt"
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
)

// PlanOutcome is what a change of the plan that is in promised and brought.
type PlanOutcome struct {
	Part    Planned
	Vehicle Vehicle
	Setup   Setup    // with which it came
	Names   []string // of all changes that came with it
	Was     Stated   // the power of the setup before
	Outcome predict.Outcome
	Alone   *Range // what this change promised, where others came with it
}

// PlanOutcome holds a change that is in against the runs made with it; false while
// no setup of its vehicle names it.
func (s *Session) PlanOutcome(p Planned) (o PlanOutcome, in bool, err error) {
	setups, err := s.Setups(p.Vehicle)
	if err != nil {
		return o, false, err
	}
	at := slices.IndexFunc(setups, func(u Setup) bool { return slices.Contains(u.BuiltIn(), p.Name) })
	switch {
	case at < 0:
		return o, false, nil
	case at == 0:
		return o, true, fmt.Errorf("%s is in the first setup of %s: there is none before it to hold it against",
			p.Name, p.Vehicle)
	}
	if o.Vehicle, err = s.Vehicle(p.Vehicle); err != nil {
		return o, true, err
	}
	o.Part, o.Setup, o.Was = p, setups[at], statedBy(o.Vehicle, setups[at-1])
	return o, true, s.holdAgainst(&o)
}

// holdAgainst fills in what the change promised and what came of it.
func (s *Session) holdAgainst(o *PlanOutcome) error {
	before, after, err := s.aroundSetup(o.Setup)
	if err != nil {
		return err
	}
	promised, own, err := s.promise(o)
	if err != nil {
		return err
	}
	if o.Outcome, err = predict.JudgeChange(before, after, promised); err != nil {
		return fmt.Errorf("%s, in since %s: %w", o.Part.Name, o.Setup.From.Format("Mon 2 Jan 2006 15:04"), err)
	}
	if len(o.Names) > 1 {
		alone, err := predict.JudgeChange(before, nil, own)
		if err != nil {
			return err
		}
		o.Alone = &alone.Promised
	}
	return nil
}

// promise joins the parts that the setup has built in, each as it was planned when
// the setup was first recorded with it; own is that of the change itself.
func (s *Session) promise(o *PlanOutcome) (all, own predict.Change, err error) {
	versions, err := s.SetupHistory(o.Setup.ID)
	if err != nil {
		return all, own, err
	}
	for _, name := range o.Setup.BuiltIn() {
		part, err := s.Planned(o.Part.Vehicle, name)
		if err != nil {
			continue // a change that was never on the plan
		}
		history, err := s.PlannedHistory(part.ID)
		if err != nil {
			return all, own, err
		}
		for _, rev := range history {
			if !rev.RecordedAt.After(namedAt(versions, name)) && rev.Status != logbook.Void {
				part = rev
			}
		}
		change, _, err := changeOf(part, o.Was)
		if err != nil {
			return all, own, err
		}
		if name == o.Part.Name {
			own = change
		}
		all, o.Names = all.With(change), append(o.Names, name)
	}
	return all, own, nil
}

// namedAt is when a setup was first recorded with a change built in.
func namedAt(versions []Setup, change string) time.Time {
	at := slices.IndexFunc(versions, func(s Setup) bool { return slices.Contains(s.BuiltIn(), change) })
	return versions[max(at, 0)].RecordedAt.Time
}
