package crew

import (
	"maps"
	"slices"

	"slipcase/weather/units"
)

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

// ColumnApart is an own column of which two groups of runs have values, but none in common.
type ColumnApart struct {
	Name string
	Had  [2][]string // of each group, as first seen
}

// OwnApart are those columns, by name; group says of which a run is, -1 of neither.
func OwnApart(runs []Told, group func(Run) int) (apart []ColumnApart) {
	had := map[string]*[2][]string{}
	for _, t := range runs {
		cells, err := t.Run.Slip.OwnCells()
		of := group(t.Run)
		if err != nil || of < 0 {
			continue
		}
		for _, c := range cells {
			if had[c.Name] == nil {
				had[c.Name] = &[2][]string{}
			}
			if all := &had[c.Name][of]; !slices.Contains(*all, c.Text) {
				*all = append(*all, c.Text)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(had)) {
		a, b := had[name][0], had[name][1]
		if len(a) > 0 && len(b) > 0 && !slices.ContainsFunc(a, func(v string) bool { return slices.Contains(b, v) }) {
			apart = append(apart, ColumnApart{name, *had[name]})
		}
	}
	return apart
}
