package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
)

// alsoChanged names what is recorded of two setups that differs, and own columns without a value in
// common: what a change brought is what all of them brought.
func alsoChanged(setups [2]crew.Setup, runs []crew.Told) []string {
	facts := each(crew.FactsApart(setups, runs), func(f crew.SetupFact) string { return setupFacts[f] })
	columns := ownApart(runs, func(r crew.Run) int {
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
	columns := ownApart(runs, func(r crew.Run) int { return slices.Index([]string{"left", "right"}, r.Slip.Lane) })
	if len(columns) == 0 {
		return nil
	}
	return []string{"The lanes differed in more, left then right: " + strings.Join(columns, "; ") + "."}
}

// ownApart are the own columns of which two groups of runs have values, but none in common.
func ownApart(runs []crew.Told, group func(crew.Run) int) (said []string) {
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
		if len(a) == 0 || len(b) == 0 || slices.ContainsFunc(a, func(v string) bool { return slices.Contains(b, v) }) {
			continue
		}
		said = append(said, fmt.Sprintf("%s %s, then %s", brief(plainName(name), 16), values(a), values(b)))
	}
	return said
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
