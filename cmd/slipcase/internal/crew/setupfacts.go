package crew

import "slipcase/weather/units"

// SetupFact is a figure that a setup may have.
type SetupFact string

// The figures.
const (
	WeightFact SetupFact = "weight"
	PowerFact  SetupFact = "power"
	BoostFact  SetupFact = "boost"
	RatioFact  SetupFact = "final-ratio"
	TyreFact   SetupFact = "tyre"
	StallFact  SetupFact = "stall-rpm"
	ShiftFact  SetupFact = "shift-rpm"
)

// FactsApart are the figures recorded of two setups, as their runs have them, that differ.
func FactsApart(setups [2]Setup, runs []Told) (apart []SetupFact) {
	for _, t := range runs {
		for i := range setups {
			if setups[i].ID == t.Run.Setup.ID {
				setups[i] = t.Run.Setup // with what it has from those before it
			}
		}
	}
	a, b := setups[0], setups[1]
	for _, f := range []struct {
		fact          SetupFact
		before, after units.Number
	}{
		{WeightFact, a.WeightLb, b.WeightLb},
		{PowerFact, a.PowerHP, b.PowerHP},
		{BoostFact, a.BoostPsi, b.BoostPsi},
		{RatioFact, a.FinalRatio, b.FinalRatio},
		{TyreFact, a.TyreIn, b.TyreIn},
		{StallFact, a.StallRPM, b.StallRPM},
		{ShiftFact, a.ShiftRPM, b.ShiftRPM},
	} {
		if f.before.Known() && f.after.Known() && f.before != f.after {
			apart = append(apart, f.fact)
		}
	}
	return apart
}
