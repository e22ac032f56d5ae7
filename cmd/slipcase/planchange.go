package main

import (
	"fmt"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// stated is the power of today that a gain in hp is a share of.
type stated struct {
	hp     float64
	at     string
	loss   float64
	stated bool // false: no setup states it
	lb     units.Number
}

// powerOf is the power of the setup in force.
func powerOf(lb *crew.Session, v logbook.Vehicle, now time.Time) stated {
	loss := predict.DefaultLoss(predict.Kind(v.Kind), predict.Drive(v.Drive))
	j, err := lb.Joiner(v.ID)
	if err != nil {
		return stated{}
	}
	s, ok := j.SetupAt(v.ID, "", now)
	if !ok {
		return stated{}
	}
	return statedOf(s, loss)
}

func statedOf(s logbook.Setup, loss float64) stated {
	at := s.PowerAt
	if at == "" {
		at = "wheels"
	}
	return stated{s.PowerHP.Value(), at, loss, s.PowerHP.Known(), s.WeightLb}
}

// stated is the power that gains are shares of: the setup's, or without one
// what the runs imply.
func (s *subject) stated() (p stated, note string) {
	loss := predict.DefaultLoss(predict.Kind(s.next.Vehicle.Kind), predict.Drive(s.next.Vehicle.Drive))
	if s.next.Setup.PowerHP.Known() {
		return statedOf(s.next.Setup, loss), ""
	}
	hp := s.prospect.PowerHP()
	if s.prospect.Before.RunsUsed == 0 {
		return stated{hp, "wheels", loss, true, s.next.Setup.WeightLb}, fmt.Sprintf("no power is stated for this setup and it has no run: gains are taken against the %.0f hp at the wheels that is ordinary for its kind", hp)
	}
	return stated{hp, "wheels", loss, true, s.next.Setup.WeightLb}, fmt.Sprintf("no power is stated for this setup: gains are taken against the %.0f hp at the wheels that its runs imply", hp)
}

// shareOf turns a power figure at a place into a share of today's.
func (p stated) shareOf(at string) (share func(hp float64) float64, note string) {
	base := p.hp
	if at != "" && at != p.at {
		if p.at == "wheels" {
			base = predict.ToClutch(base, p.loss)
		} else {
			base = predict.ToWheels(base, p.loss)
		}
		note = fmt.Sprintf("%.0f %% driveline loss taken between wheels and clutch", 100*p.loss)
	}
	return func(hp float64) float64 { return hp / base }, note
}

// rangeOf is a figure of the plan, scaled; its ends are itself where it has none.
func rangeOf(low, likely, high units.Number, scale func(float64) float64) predict.Range {
	if !likely.Known() {
		return predict.Range{}
	}
	mid := scale(likely.Value())
	if !low.Known() {
		return predict.Exactly(mid)
	}
	return predict.Range{Low: scale(low.Value()), Likely: mid, High: scale(high.Value())}
}

// changeOfPart is what a part of the plan does to a vehicle of that power.
func changeOfPart(p logbook.Part, today stated) (c predict.Change, note string, err error) {
	same := func(v float64) float64 { return v }
	percent := func(v float64) float64 { return v / 100 }
	switch {
	case p.GainPct.Known():
		c.Gain = rangeOf(p.GainLowPct, p.GainPct, p.GainHighPct, percent)
	case p.GainHP.Known() && today.stated:
		var share func(float64) float64
		share, note = today.shareOf(p.PowerAt)
		c.Gain = rangeOf(p.GainLowHP, p.GainHP, p.GainHighHP, share)
	}
	if c.Gain.Low == c.Gain.High {
		c.Gain = predict.ClaimedGain(c.Gain.Likely)
	}
	c.WeightLb = rangeOf(p.WeightLowLb, p.WeightLb, p.WeightHighLb, same)
	c.Grip = rangeOf(p.GripLowPct, p.GripPct, p.GripHighPct, percent)
	if err := c.Check(today.lb); err != nil {
		return c, note, fmt.Errorf("%s: %w", p.Name, err)
	}
	return c, note, nil
}

func candidateOf(p logbook.Part, today stated) (predict.Candidate, string, error) {
	same := func(v float64) float64 { return v }
	c, note, err := changeOfPart(p, today)
	return predict.Candidate{
		Name: p.Name, Change: c,
		Cost:  rangeOf(p.CostLow, p.Cost, p.CostHigh, same),
		Hours: rangeOf(p.HoursLow, p.Hours, p.HoursHigh, same), Boosted: p.Boost != "",
	}, note, err
}
