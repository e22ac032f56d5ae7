package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// comparisonOf10 is a comparison in words with the range that every picture has: 8 of 10.
func comparisonOf10(c crew.Comparison) string {
	d := c.Difference
	d.Low95, d.High95 = d.Low80, d.High80
	return withRange(c, d, "8 of 10 in")
}

// alsoChanged names what is recorded of two setups that differs, and own columns without a value in
// common: what a change brought is what all of them brought.
func alsoChanged(setups [2]crew.Setup, runs []crew.Told) []string {
	facts := factsApart(setups, runs)
	columns := ownApart(runs, func(r crew.Run) int {
		return slices.IndexFunc(setups[:], func(s crew.Setup) bool { return s.ID == r.Setup.ID })
	})
	if len(facts)+len(columns) == 0 {
		return nil
	}
	return []string{"What differs between the two: " + strings.Join(append(facts, columns...), "; ") + "."}
}

// factsApart names what is recorded of two setups, as their runs have them, and differs.
func factsApart(setups [2]crew.Setup, runs []crew.Told) (names []string) {
	for _, t := range runs {
		for i := range setups {
			if setups[i].ID == t.Run.Setup.ID {
				setups[i] = t.Run.Setup // with what it has from those before it
			}
		}
	}
	a, b := setups[0], setups[1]
	for _, f := range []struct {
		name   string
		before units.Number
		after  units.Number
	}{
		{"weight", a.WeightLb, b.WeightLb},
		{"power", a.PowerHP, b.PowerHP},
		{"boost", a.BoostPsi, b.BoostPsi},
		{"final ratio", a.FinalRatio, b.FinalRatio},
		{"tire", a.TyreIn, b.TyreIn},
		{"stall rpm", a.StallRPM, b.StallRPM},
		{"shift rpm", a.ShiftRPM, b.ShiftRPM},
	} {
		if f.before.Known() && f.after.Known() && f.before.Value() != f.after.Value() {
			names = append(names, f.name)
		}
	}
	return names
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
