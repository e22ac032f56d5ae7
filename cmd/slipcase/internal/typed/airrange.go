package typed

import (
	"fmt"
	"strings"

	"slipcase/weather/units"
)

// AirRange reads density altitudes, 1500..2500, either end of which may be left out.
func AirRange(bare units.System, text string) (low, high units.Number, err error) {
	if text == "" {
		return low, high, nil
	}
	from, to, isRange := strings.Cut(text, "..")
	if !isRange || from == "" && to == "" {
		return low, high, units.Errorf("--da %q: want two density altitudes, as {1500..2500|450..750}", Shorten(text))
	}
	for _, end := range []struct {
		text string
		n    *units.Number
	}{{from, &low}, {to, &high}} {
		if end.text == "" {
			continue
		}
		ft, err := units.Length.ParseIn(bare, end.text)
		if err != nil {
			return low, high, fmt.Errorf("--da: %w", err)
		}
		*end.n = units.Some(ft)
	}
	if low.Known() && high.Known() && low.Value() > high.Value() {
		return low, high, fmt.Errorf("--da %q: want the lower one first", Shorten(text))
	}
	return low, high, nil
}
