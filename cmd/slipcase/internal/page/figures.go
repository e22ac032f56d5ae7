package page

import (
	"fmt"

	"slipcase/weather/units"
)

// each makes something of every one of a list.
func each[T, U any](list []T, of func(T) U) []U {
	out := make([]U, len(list))
	for i, t := range list {
		out[i] = of(t)
	}
	return out
}

// plain is a figure given in the US unit with so many decimals, and its unit.
func plain(k units.Kind, sys units.System, us float64, decimals int) string {
	return fmt.Sprintf("%.*f %s", decimals, k.In(sys, us), k.Symbol(sys))
}

// lowToHigh is plain of two ends.
func lowToHigh(k units.Kind, sys units.System, low, high float64, decimals int) string {
	return fmt.Sprintf("%.*f to %s", decimals, k.In(sys, low), plain(k, sys, high, decimals))
}

// bare is the shortest figure of a distance, with its unit.
func bare(sys units.System, ft float64) string {
	if sys == units.US {
		return fmt.Sprintf("%g ft", ft)
	}
	return plain(units.Length, sys, ft, 0)
}

// whole is a length with commas between the thousands, without its unit.
func whole(sys units.System, ft float64) string {
	return units.Group(fmt.Sprintf("%.0f", units.Length.In(sys, ft)))
}

// count is so many of a thing, whose plural takes an s.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
