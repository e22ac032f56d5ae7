package predict

import (
	"fmt"
	"math"

	"slipcase/weather"
)

// DynoDay is the air of the day at a dyno, as far as it was noted.
type DynoDay struct {
	Air   weather.Air
	Known bool
	SD    float64 // of what is not noted of it, in the log of a correction
}

// Restated is what makes one horsepower of a standard in another.
type Restated struct {
	Times float64
	SD    float64 // in logs: of the air that is not known
}

const (
	// Between two corrections the air matters little: within 2 % from 28 inHg up, 4 % a
	// mile high (TestRestateWithoutTheDay).
	standardsSD = 0.01
	// WeatherShare is what weather alone makes of the power of one engine on two days at
	// one dyno, 8 of 10 within it either way: 50 to 95 °F and 28.9 to 30.1 inHg span twice
	// that by SAE J1349 (TestWeatherAlone).
	WeatherShare = 0.06
	weatherSD    = WeatherShare / z80

	// UntoldStandardSD is the doubt of a figure whose standard is taken as another's: J607
	// and J1349 are 4 % apart. Common practice, no source.
	UntoldStandardSD = 0.02
)

// Restate converts between standards: what was measured is the same, so the one
// correction is undone in the air of the dyno's day and the other made. Where that air is
// not known SAE's own stands in for it, an ordinary day in a dyno's room.
func Restate(from, to Standard, day DynoDay) (Restated, error) {
	if from == "" {
		from = SAE
	}
	if to == "" {
		to = SAE
	}
	out := Restated{Times: 1, SD: day.SD}
	air := day.Air
	if !day.Known {
		air = saeAir
		out.SD = standardsSD
		if from == Uncorrected || to == Uncorrected {
			out.SD = weatherSD
		}
	}
	was, err := from.factor(air)
	if err != nil {
		return out, err
	}
	is, err := to.factor(air)
	out.Times = is / was
	if from == to {
		out = Restated{Times: 1}
	}
	return out, err
}

// Comparable is the standard in which two sheets are compared, where none is asked for:
// the first's, of those that correct for the air. Of two as measured it is SAE's, since
// the airs of two days would pass for a gain.
func Comparable(first, second Standard) Standard {
	for _, s := range []Standard{first, second} {
		if s != Uncorrected && s != "" {
			return s
		}
	}
	return SAE
}

// comparedSD is the doubt, in logs, of the ratio of two figures that were restated: what
// the days of two pulls differ by counts once.
func comparedSD(a, b Restated) float64 { return math.Max(a.SD, b.SD) }

// factor is what multiplies power measured in this air to state it in the standard; 1 for
// Uncorrected.
func (s Standard) factor(air weather.Air) (float64, error) {
	switch s {
	case SAE:
		return air.SAEJ1349(), nil
	case StandardJ607:
		return air.SAEJ607(), nil
	case DIN:
		return air.DIN70020(), nil
	case Uncorrected:
		return 1, nil
	}
	return 0, fmt.Errorf("power standard %q: want %s, %s, %s or %s", s, SAE, StandardJ607, DIN, Uncorrected)
}
