package crew

import (
	"fmt"
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// Stated is the power of today that a gain in hp is a share of.
type Stated struct {
	HP       units.Number // absent where nothing states it
	At       string       // the wheels or the clutch
	Loss     float64      // between the two, as a share of the clutch's
	WeightLb units.Number
}

// statedBy is the power that a setup of a vehicle states.
func statedBy(v Vehicle, s Setup) Stated {
	at := s.PowerAt
	if at == "" {
		at = string(predict.AtWheels)
	}
	return Stated{s.PowerHP, at, predict.DefaultLoss(predict.Kind(v.Kind), predict.Drive(v.Drive)), s.WeightLb}
}

// statedNow is the power that the vehicle's setup in force states.
func (s *Session) statedNow(v Vehicle) Stated {
	j, err := s.Joiner(v.ID)
	if err != nil {
		return Stated{}
	}
	setup, _ := j.SetupAt(v.ID, "", s.Now())
	return statedBy(v, setup)
}

// share turns a power at a place into a share of today's; crossed says that the
// driveline's loss lies between.
func (t Stated) share(at string) (of func(hp float64) float64, crossed bool) {
	base := t.HP.Value()
	if crossed = at != "" && at != t.At; crossed {
		if t.At == string(predict.AtWheels) {
			base = predict.ToClutch(base, t.Loss)
		} else {
			base = predict.ToWheels(base, t.Loss)
		}
	}
	return func(hp float64) float64 { return hp / base }, crossed
}

// builtIn names the changes that the setups of a vehicle up to a moment have in.
func (s *Session) builtIn(vehicle string, at time.Time) (map[string]bool, error) {
	setups, err := s.Setups(vehicle)
	built := map[string]bool{}
	for _, u := range setups {
		if !u.From.After(at) {
			for _, name := range u.BuiltIn() {
				built[name] = true
			}
		}
	}
	return built, err
}

// Boosted names a change of the vehicle's plan that is in and makes boost, "" without.
func (s *Session) Boosted(vehicle string) (string, error) {
	parts, err := s.Plan(vehicle)
	if err != nil {
		return "", err
	}
	built, err := s.builtIn(vehicle, s.Now())
	if at := slices.IndexFunc(parts, func(p Planned) bool { return p.Boost != "" && built[p.Name] }); at >= 0 {
		return parts[at].Name, err
	}
	return "", err
}

// scaled is a figure of the plan, scaled; its ends are itself where it has none.
func scaled(low, likely, high units.Number, scale func(float64) float64) Range {
	if !likely.Known() {
		return Range{}
	}
	mid := scale(likely.Value())
	if !low.Known() {
		return predict.Exactly(mid)
	}
	return Range{Low: scale(low.Value()), Likely: mid, High: scale(high.Value())}
}

func same(v float64) float64    { return v }
func percent(v float64) float64 { return v / 100 }

// changeOf is what a change of the plan does to a vehicle of that power; crossed says
// that the driveline's loss was taken for it.
func changeOf(p Planned, today Stated) (c predict.Change, crossed bool, err error) {
	switch {
	case p.GainPct.Known():
		c.Gain = scaled(p.GainLowPct, p.GainPct, p.GainHighPct, percent)
	case p.GainHP.Known() && today.HP.Known():
		var share func(float64) float64
		share, crossed = today.share(p.PowerAt)
		c.Gain = scaled(p.GainLowHP, p.GainHP, p.GainHighHP, share)
	}
	if c.Gain.Low == c.Gain.High {
		c.Gain = predict.ClaimedGain(c.Gain.Likely)
	}
	c.WeightLb = scaled(p.WeightLowLb, p.WeightLb, p.WeightHighLb, same)
	c.Grip = scaled(p.GripLowPct, p.GripPct, p.GripHighPct, percent)
	if err := c.Check(today.WeightLb); err != nil {
		return c, crossed, fmt.Errorf("%s: %w", p.Name, err)
	}
	return c, crossed, nil
}

func candidateOf(p Planned, today Stated) (predict.Candidate, bool, error) {
	c, crossed, err := changeOf(p, today)
	return predict.Candidate{
		Name: p.Name, Change: c,
		Cost:  scaled(p.CostLow, p.Cost, p.CostHigh, same),
		Hours: scaled(p.HoursLow, p.Hours, p.HoursHigh, same), Boosted: p.Boost != "",
		Replaces: logbook.Named(p.Replaces), Needs: logbook.Named(p.Needs), Safety: predict.Equipment(p.Safety),
	}, crossed, err
}

// CheckPlanned refuses a change that cannot be, or not to its vehicle as it is now.
func (s *Session) CheckPlanned(p Planned, v Vehicle) error {
	if err := p.Check(); err != nil {
		return markImpossible("", err)
	}
	_, _, err := changeOf(p, s.statedNow(v))
	return markImpossible("", err)
}

// aroundSetup are the vehicle's runs before a setup came in force, and those made
// with it.
func (s *Session) aroundSetup(setup Setup) (before, after []predict.Pass, err error) {
	c, err := s.car(setup.Vehicle)
	if err != nil {
		return nil, nil, err
	}
	for i, r := range c.runs {
		switch {
		case r.Setup.ID == setup.ID:
			after = append(after, c.passes[i])
		case r.Slip.Time.Before(setup.From.Time):
			before = append(before, c.passes[i])
		}
	}
	return before, after, nil
}
