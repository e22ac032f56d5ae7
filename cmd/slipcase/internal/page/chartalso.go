package page

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
)

// alsoChanged names what is recorded of two setups that differs, and own columns without a value in
// common: what a change brought is what all of them brought.
func alsoChanged(setups [2]crew.Setup, runs []crew.Told) []string {
	facts := each(crew.FactsApart(setups, runs), func(f crew.SetupFact) string { return setupFacts[f] })
	columns := saidApart(runs, func(r crew.Run) int {
		return slices.IndexFunc(setups[:], func(s crew.Setup) bool { return s.ID == r.Setup.ID })
	})
	if len(facts)+len(columns) == 0 {
		return nil
	}
	return []string{"What differs between the two: " + strings.Join(append(facts, columns...), "; ") + "."}
}

// setupFacts are what a setup's figures are called.
var setupFacts = map[crew.SetupFact]string{
	crew.WeightFact: "weight", crew.PowerFact: "power", crew.BoostFact: "boost", crew.RatioFact: "final ratio",
	crew.TyreFact: "tire", crew.StallFact: "stall rpm", crew.ShiftFact: "shift rpm",
}

// lanesApart names own columns that the lanes had no value of in common.
func lanesApart(runs []crew.Told) []string {
	columns := saidApart(runs, func(r crew.Run) int { return slices.Index([]string{"left", "right"}, r.Slip.Lane) })
	if len(columns) == 0 {
		return nil
	}
	return []string{"The lanes differed in more, left then right: " + strings.Join(columns, "; ") + "."}
}

// saidApart says own columns of which two groups of runs have no value in common.
func saidApart(runs []crew.Told, group func(crew.Run) int) []string {
	return each(crew.OwnApart(runs, group), func(c crew.ColumnApart) string {
		return fmt.Sprintf("%s %s, then %s", brief(plainName(c.Name), 16), values(c.Had[0]), values(c.Had[1]))
	})
}

// values are some values of a column, and that there are more.
func values(all []string) string {
	const most = 3
	s := each(slices.Sorted(slices.Values(all)), func(v string) string { return brief(v, 12) })
	if len(s) > most {
		return strings.Join(s[:most-1], ", ") + fmt.Sprintf(" and %d more", len(s)-most+1)
	}
	return strings.Join(s, ", ")
}

func plainName(column string) string {
	return strings.NewReplacer("tyre", "tire", "_", " ").Replace(column)
}
