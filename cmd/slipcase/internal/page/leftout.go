package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// LeftOut says why a run does not count, or to where it does.
func LeftOut(l crew.LeftOut, sys units.System) string {
	why := ""
	switch {
	case l.Why == crew.NoTime:
		return "no time on the slip"
	case l.Why == crew.OutOfLine && l.CountsFt.Known():
		why = "looks lifted past " + mark(sys, l.CountsFt.Value())
	case l.Why == crew.OutOfLine:
		return "way out of line, nothing noted: not used"
	case !l.FullFt.Known():
		why = string(l.Effort) + ", not noted where"
	default:
		why = "full power to " + mark(sys, l.FullFt.Value())
		if l.Effort != "" {
			why = string(l.Effort) + ", " + why
		}
	}
	if l.CountsFt.Known() {
		why += "; used to " + mark(sys, l.CountsFt.Value())
	}
	return why
}

// mark is a distance: that of a mark by the mark's name.
func mark(sys units.System, ft float64) string {
	for m := crew.At60; m < crew.Marks; m++ {
		if m.Ft() == ft {
			return fmt.Sprintf("%g", ft)
		}
	}
	return bare(sys, ft)
}

// Reasons counts the runs that were left out for each reason.
func Reasons(list []crew.LeftOut, sys units.System) (all []string) {
	n := map[string]int{}
	for _, l := range list {
		n[LeftOut(l, sys)]++
	}
	for _, l := range list {
		why := LeftOut(l, sys)
		if k := n[why]; k > 0 {
			all = append(all, fmt.Sprintf("%s: %s", count(k, "run"), why))
			n[why] = 0
		}
	}
	return all
}

// SetAside says how many runs of a back-test were no fair test, and how many of them
// only the whole log shows: leaving those out flatters the forecast.
func SetAside(list []crew.LeftOut) string {
	found := 0
	for _, l := range list {
		if l.Why == crew.OutOfLine {
			found++
		}
	}
	return fmt.Sprintf("%s: no full pull, or no time (%d found so only in hindsight); --format json says which",
		count(len(list), "run"), found)
}
