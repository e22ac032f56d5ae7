package units

import (
	"math"
	"slices"
	"strings"
)

// marks are where timers stand along a drag strip, ft from its start.
var marks = []float64{60, 330, 660, 1000, 1320}

// ofMile are the marks that racers call by their part of a mile.
var ofMile = map[string]float64{"1/8": 660, "1/4": 1320}

// FtPerSPerMPH is a mile an hour in ft/s: 5280 ft in 3600 s (NIST SP 811, B.8).
const FtPerSPerMPH = 5280. / 3600

// ParseDistance reads a length along a drag strip, ft. Its marks are known by their feet
// everywhere, a bare 660 is the eighth mile where lengths are metric too, as is 1/8; a
// whole number of metres nearest to a mark is that mark: 201 m is 660 ft, not 659.4.
func ParseDistance(bare System, text string) (float64, error) {
	part := strings.ToLower(spacing.Replace(strings.TrimSpace(text)))
	for _, unit := range []string{"miles", "mile", "mi"} {
		part = strings.TrimSuffix(part, unit)
	}
	if ft, ok := ofMile[part]; ok {
		return ft, nil
	}
	if ft, err := Length.Parse(text); err == nil && slices.Contains(marks, ft) {
		return ft, nil
	}
	ft, err := Length.ParseIn(bare, text)
	metres := Length.In(Metric, ft)
	if math.Abs(metres-math.Round(metres)) < 1e-6 {
		for _, mark := range marks {
			if math.Round(Length.In(Metric, mark)) == math.Round(metres) {
				return mark, err
			}
		}
	}
	return ft, err
}
