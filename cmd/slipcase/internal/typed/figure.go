package typed

import (
	"fmt"
	"strings"

	"slipcase/weather/units"
)

// Figure is one figure, or low, likely and high.
type Figure struct {
	Low, Likely, High float64
	Text              string // as it was typed
	Alone             bool   // one figure, without a range of its own
	Percent           bool
}

// kindOfUnit is the kind that a unit belongs to: the first where there is none.
func kindOfUnit(unit string, kinds []units.Kind) units.Kind {
	for _, k := range kinds {
		if _, err := k.Parse("1" + unit); err == nil && unit != "" {
			return k
		}
	}
	return kinds[0]
}

// ParseFigure reads one figure or three with strokes between, of one of the kinds; a
// unit behind the last counts for all.
func ParseFigure(bare units.System, text string, kinds ...units.Kind) (f Figure, err error) {
	parts := strings.Split(text, "/")
	last := parts[len(parts)-1]
	unit := strings.TrimLeft(strings.TrimSpace(last), "+-0123456789.,$ ")
	kind := kindOfUnit(unit, kinds)
	f.Percent = kind.Name == units.Percent.Name
	var v [3]float64
	for i, p := range parts {
		if i == len(v) {
			break
		}
		if p = strings.TrimSpace(p); i < len(parts)-1 && strings.TrimLeft(p, "+-0123456789.,$ ") == "" {
			p += unit
		}
		if v[i], err = kind.ParseIn(bare, p); err != nil {
			return f, err
		}
	}
	if f.Text = text; unit == "" {
		f.Text += kind.Symbol(bare)
	}
	switch len(parts) {
	case 1:
		f.Alone, f.Low, f.Likely, f.High = true, v[0], v[0], v[0]
	case 3:
		f.Low, f.Likely, f.High = v[0], v[1], v[2]
		if !(f.Low <= f.Likely && f.Likely <= f.High) {
			return f, fmt.Errorf("%q: want low, likely and high, rising", text)
		}
	default:
		return f, fmt.Errorf("%q: want one figure, or low, likely and high as 70/90/105", text)
	}
	return f, nil
}

// ParsePeak reads a peak of power with or without its engine speed, as 312hp@5600rpm.
func ParsePeak(bare units.System, text string) (hp, rpm units.Number, err error) {
	power, speed, both := strings.Cut(text, "@")
	v, err := units.Power.ParseIn(bare, strings.TrimSpace(power))
	if err != nil {
		return hp, rpm, err
	}
	if hp = units.Some(v); both {
		v, err = units.RPM.ParseIn(bare, strings.TrimSpace(speed))
		rpm = units.Some(v)
	}
	return hp, rpm, err
}
