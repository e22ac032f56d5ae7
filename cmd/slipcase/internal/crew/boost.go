package crew

import (
	"errors"
	"math"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// BoostAsk is boost as it is asked about.
type BoostAsk struct {
	Psi         units.Number // that there is to be; not known with a Pulley
	NowPsi      units.Number // that there is; 0 or absent without
	Pulley      units.Number // how many times as fast the blower will turn
	Blower      predict.Blower
	Hold        predict.Hold
	Efficiency  Asked        // percent; as usual for the blower where it is not given
	Intercooler Asked        // percent
	Air         *Estimate    // nil: standard air
	ClaimPct    units.Number // a gain that was claimed, to be explained
}

// Boosted is what boost makes of the power there is now.
type Boosted struct {
	predict.Charge
	To, Now    predict.Boost // the pressure of Now is 0 where there is none
	FromPulley bool
	Explains   *predict.Explained // of a claimed gain, nil where none is claimed
}

// Boost works out what boost makes of the power.
func Boost(ask BoostAsk) (b Boosted, err error) {
	switch claim := ask.ClaimPct; {
	case claim.Known() && !(claim.Value() > 0 && claim.Value() <= mostClaimedPct):
		return b, outside("claim", "want more than 0 and up to %d percent", mostClaimedPct)
	case ask.Efficiency.Given && ask.Efficiency.Low == 0:
		return b, outside("efficiency", "want 30 to 90 percent; left out, it goes by the kind of blower")
	}
	b.To = predict.UsualBoost(predict.Boost{
		Psi: ask.Psi.Or(0), Blower: ask.Blower, Hold: ask.Hold,
		Efficiency: Times(ask.Efficiency.Range, 0.01), Intercooler: Times(ask.Intercooler.Range, 0.01),
	})
	b.Now = b.To
	b.Now.Psi = ask.NowPsi.Or(0)
	if b.FromPulley = ask.Pulley.Known(); b.FromPulley {
		if b.To, err = b.Now.AfterPulley(ask.Pulley.Value()); err != nil {
			return b, markImpossible("", err)
		}
	}
	air := weather.Standard
	if ask.Air != nil {
		air = ask.Air.Air
	}
	if b.Charge, err = b.To.In(air); err == nil && b.Now.Psi != 0 {
		b.Power, err = predict.Raise(b.Now, b.To, air)
	}
	if err == nil && ask.ClaimPct.Known() {
		b.explain(ask.ClaimPct.Value() / 100)
	}
	return b, markImpossible("", err)
}

// mostClaimedPct is beyond what any boost was ever said to bring (common practice, no source).
const mostClaimedPct = 400

// explain tells how much of a claimed gain, as a share of the power, the boost explains.
func (b *Boosted) explain(share float64) {
	e := b.Charge.Explains(1 + share)
	b.Explains = &e
}

// ErrNoClaim is that of a gain beside a boost which is no share of a known power.
var ErrNoClaim = errors.New("the gain is no share of a known power")

// BoostPlanned gives a change of the plan the gain of its boost, or holds the gain that it
// has against it.
func (s *Session) BoostPlanned(p *Planned, v Vehicle, b *Boosted) error {
	if !p.GainHP.Known() && !p.GainPct.Known() {
		percent := func(ratio float64) units.Number { return units.Some(math.Round(1000*(ratio-1)) / 10) }
		p.GainLowPct, p.GainPct, p.GainHighPct = percent(b.Power.Low), percent(b.Power.Likely), percent(b.Power.High)
		return nil
	}
	change, _, err := changeOf(*p, s.statedNow(v))
	switch {
	case err != nil:
		return markImpossible("", err)
	case change.Gain.Likely <= 0:
		return ErrNoClaim
	}
	b.explain(change.Gain.Likely)
	return nil
}
