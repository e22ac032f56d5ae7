package crew

import (
	"math"
	"slices"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Built is what a setup has from the plan, beside what the racer gave.
type Built struct {
	PowerHP, WeightLb Stepped  // as the plan has it
	Strange           []string // what of its change is not on the plan
	// What an amendment let stand as recorded, since it is not the plan's.
	KeptPower, KeptWeight bool
	Hidden, Holds         *Setup // begin at the same moment, and the second of them holds; nil without
}

// Stepped is a figure of the setup before and of this one; absent where the plan has
// no part in it.
type Stepped struct{ Was, Is units.Number }

// BuildSetup fills what was not given of a new setup from the one before it: a new
// carburettor does not change what the car weighs unless the racer or his plan says so.
// The changes of the plan that it has newly built in go on top.
func (s *Session) BuildSetup(v Vehicle, u *Setup) (Built, error) {
	givenPower, givenWeight := u.PowerHP.Known(), u.WeightLb.Known()
	j, err := s.Joiner(u.Vehicle)
	if err != nil {
		return Built{}, err
	}
	before, ok := j.SetupAt(u.Vehicle, "", u.From.Time)
	if ok {
		inherit(u, before)
	}
	return s.planned(v, before, u, givenPower, givenWeight)
}

// Hides notes of a recorded setup the one that begins at the same moment: of the two the one
// recorded first is in force for no run.
func (s *Session) Hides(u Setup, b *Built) error {
	all, err := s.Setups(u.Vehicle)
	for i := 1; i < len(all); i++ {
		if hidden, holds := all[i-1], all[i]; hidden.From.Equal(holds.From.Time) && (hidden.ID == u.ID || holds.ID == u.ID) {
			b.Hidden, b.Holds = &hidden, &holds
		}
	}
	return err
}

// RanWithout counts the slips of a setup's day from before it that would have it, had it
// been in since the morning: those without a setup of their own or a newer one. morning
// is when the day begins.
func (s *Session) RanWithout(u Setup) (morning time.Time, ran int, err error) {
	y, m, d := u.From.Date()
	morning = time.Date(y, m, d, 0, 0, 0, 0, u.From.Location())
	runs, err := s.Runs(u.Vehicle)
	for _, r := range runs {
		at := r.Slip.Time
		if r.Slip.Setup == "" && !r.Setup.From.After(morning) && !at.Before(morning) && at.Before(u.From.Time) {
			ran++
		}
	}
	return morning, ran, err
}

func inherit(u *Setup, before Setup) {
	if !u.WeightLb.Known() {
		u.WeightLb = before.WeightLb
	}
	if !u.PowerHP.Known() {
		u.PowerHP, u.PowerAt, u.PowerStandard = before.PowerHP, before.PowerAt, before.PowerStandard
		u.PowerTempF, u.PowerRHPct, u.PowerStationInHg = before.PowerTempF, before.PowerRHPct, before.PowerStationInHg
	}
	if u.PowerAt == "" {
		u.PowerAt = before.PowerAt
	}
	if u.PowerStandard == "" {
		u.PowerStandard = before.PowerStandard
	}
	if u.BoostHeld == "" {
		u.BoostHeld = before.BoostHeld
	}
	for _, n := range []struct {
		is  *units.Number
		was units.Number
	}{
		{&u.BoostPsi, before.BoostPsi},
		{&u.FinalRatio, before.FinalRatio},
		{&u.TyreIn, before.TyreIn},
		{&u.StallRPM, before.StallRPM},
		{&u.ShiftRPM, before.ShiftRPM},
	} {
		if !n.is.Known() {
			*n.is = n.was
		}
	}
}

// planned puts the likely figures of the changes of the plan that a setup has newly
// built in on top of what it was before, where its power or weight was not given: a
// change that is in but forecast without would give a dial that breaks out.
func (s *Session) planned(v Vehicle, before Setup, u *Setup, givenPower, givenWeight bool) (b Built, err error) {
	parts, err := s.Plan(v.ID)
	if err != nil {
		return b, err
	}
	built, err := s.builtIn(v.ID, u.From.Add(-1)) // without this setup's own
	if err != nil {
		return b, err
	}
	var all predict.Change
	for _, name := range u.BuiltIn() {
		at := slices.IndexFunc(parts, func(p Planned) bool { return p.Name == name })
		switch {
		case built[name]:
		case at >= 0:
			change, _, err := changeOf(parts[at], statedBy(v, before))
			if err != nil {
				return b, markImpossible("", err)
			}
			all = all.With(change)
		case name != u.Name && len(parts) > 0:
			b.Strange = append(b.Strange, name)
		}
	}
	tenth := func(n units.Number) units.Number { return units.Some(math.Round(n.Value()*10) / 10) }
	hp, weight := all.Applied(before.PowerHP, before.WeightLb)
	if !givenPower && hp != before.PowerHP {
		u.PowerHP = tenth(hp)
		b.PowerHP = Stepped{before.PowerHP, u.PowerHP}
	}
	if !givenWeight && weight != before.WeightLb {
		u.WeightLb = tenth(weight)
		b.WeightLb = Stepped{before.WeightLb, u.WeightLb}
	}
	return b, nil
}

// RebuildSetup is BuildSetup for a setup whose list of changes was amended: from the
// setup before it, since its own figures have those of the old list in them, unless
// they are not the plan's.
func (s *Session) RebuildSetup(v Vehicle, was Setup, u *Setup, givenPower, givenWeight bool) (Built, error) {
	j, err := s.Joiner(v.ID)
	if err != nil {
		return Built{}, err
	}
	before, ok := j.SetupAt(v.ID, "", u.From.Add(-1))
	if !ok {
		return Built{}, nil
	}
	old := was
	old.PowerHP, old.WeightLb = before.PowerHP, before.WeightLb
	if _, err := s.planned(v, before, &old, false, false); err != nil {
		return Built{}, err
	}
	keptPower := !givenPower && was.PowerHP != old.PowerHP
	keptWeight := !givenWeight && was.WeightLb != old.WeightLb
	if !givenPower && !keptPower {
		u.PowerHP = before.PowerHP
	}
	if !givenWeight && !keptWeight {
		u.WeightLb = before.WeightLb
	}
	b, err := s.planned(v, before, u, givenPower || keptPower, givenWeight || keptWeight)
	b.KeptPower, b.KeptWeight = keptPower, keptWeight
	return b, err
}
