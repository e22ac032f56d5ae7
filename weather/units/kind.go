// Package units reads and writes quantities as people write them (31C,
// 28.94inHg, 1,228ft) and holds the conversion constants: the bottom of the house.
package units

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Kind is one physical quantity and the units it may be written in. A bare
// number means the first unit, which is the one used inside the program, or the
// second where the racer writes metric.
type Kind struct {
	Name  string
	units []unit // [0] is the US unit, [1] the metric one
	// wholes says that nobody writes this with three decimals, so that 3,450 can
	// only be thousands. In a time 13,212 would be a decimal comma.
	wholes bool
}

// unit converts by US = value*scale + offset.
type unit struct {
	symbol  string
	aliases []string
	scale   float64
	offset  float64
	digits  int // decimals that a reading in this unit deserves
}

// System is a choice of units: what is shown, or what bare numbers mean.
type System int

// The two systems.
const (
	US System = iota
	Metric
)

// systems are the names of the systems.
var systems = []string{"us", "metric"}

func (s System) String() string { return systems[s] }

// ParseSystem reads the name of a system.
func ParseSystem(text string) (System, error) {
	if i := slices.Index(systems, text); i >= 0 {
		return System(i), nil
	}
	return US, fmt.Errorf("%q: want us or metric", shorten(text))
}

// The conversion constants: NIST SP 811 (2008), appendix B. All but those of
// mercury are exact by definition, from the international foot and pound (1959)
// and standard gravity.
const (
	MetrePerFoot       = 0.3048
	KgPerLb            = 0.45359237
	PascalPerInHg      = 3386.389 // conventional mercury, 7 figures
	PascalPerPsi       = newtonPerLbf / (0.0254 * 0.0254)
	WattPerHP          = 550 * MetrePerFoot * newtonPerLbf
	MetrePerSecPerMPH  = 1609.344 / 3600
	pascalPerMmHg      = 133.322387415 // conventional mercury
	newtonPerLbf       = 4.4482216152605
	wattPerPS          = 75 * 9.80665
	metrePerSecPerKnot = 1852.0 / 3600
)

// The kinds of quantity that a racer writes.
var (
	Temperature = Kind{"temperature", []unit{
		{"F", []string{"°f", "ºf", "degf", "fahrenheit"}, 1, 0, 1},
		{"C", []string{"°c", "ºc", "degc", "celsius"}, 1.8, 32, 1},
		{"K", nil, 1.8, -459.67, 1},
	}, false}
	Pressure = Kind{"pressure", []unit{
		{"inHg", []string{"in", `"`, "”", "″", "inches"}, 1, 0, 2},
		{"hPa", []string{"mbar", "mb"}, 100 / PascalPerInHg, 0, 1},
		{"kPa", nil, 1000 / PascalPerInHg, 0, 2},
		{"Pa", nil, 1 / PascalPerInHg, 0, 0},
		{"mmHg", []string{"mm", "torr"}, pascalPerMmHg / PascalPerInHg, 0, 1},
		{"psi", nil, PascalPerPsi / PascalPerInHg, 0, 2},
	}, false}
	Length = Kind{"length", []unit{
		{"ft", []string{"'", "’", "′", "feet", "foot"}, 1, 0, 0},
		{"m", []string{"metre", "metres", "meter", "meters"}, 1 / MetrePerFoot, 0, 0},
		{"mi", []string{"mile", "miles"}, 5280, 0, 3},
		{"km", nil, 1000 / MetrePerFoot, 0, 3},
	}, true}
	Weight = Kind{"weight", []unit{
		{"lb", []string{"lbs"}, 1, 0, 0},
		{"kg", nil, 1 / KgPerLb, 0, 0},
	}, true}
	Power = Kind{"power", []unit{
		{"hp", []string{"bhp", "whp"}, 1, 0, 0},
		{"kW", nil, 1000 / WattPerHP, 0, 0},
		{"PS", []string{"cv"}, wattPerPS / WattPerHP, 0, 0},
	}, true}
	Speed = Kind{"speed", []unit{
		{"mph", nil, 1, 0, 2},
		{"km/h", []string{"kph", "kmh"}, 1 / 1.609344, 0, 2},
		{"m/s", []string{"mps"}, 1 / MetrePerSecPerMPH, 0, 2},
		{"kt", []string{"kn", "knots", "knot"}, metrePerSecPerKnot / MetrePerSecPerMPH, 0, 1},
	}, false}
	TyrePressure = Kind{"tire pressure", []unit{
		{"psi", nil, 1, 0, 1},
		{"bar", nil, 1e5 / PascalPerPsi, 0, 2},
		{"kPa", nil, 1000 / PascalPerPsi, 0, 0},
	}, false}
	Seconds = Kind{"time", []unit{{"s", []string{"sec"}, 1, 0, 3}, {"s", nil, 1, 0, 3}, {"ms", nil, 0.001, 0, 0}}, false}
	Percent = Kind{"percentage", []unit{{"%", []string{"pct"}, 1, 0, 0}, {"%", nil, 1, 0, 0}}, false}
	Degrees = Kind{"direction", []unit{{"deg", []string{"°"}, 1, 0, 0}, {"deg", nil, 1, 0, 0}}, false}
	RPM     = Kind{"engine speed", []unit{{"rpm", nil, 1, 0, 0}, {"rpm", nil, 1, 0, 0}}, true}
	Money   = Kind{"cost", []unit{{"$", nil, 1, 0, 2}, {"", nil, 1, 0, 2}}, true} // who measures in kg may pay in anything
)

// Accepted lists the units that Parse takes, for messages: "F, C, K".
func (k Kind) Accepted() string {
	var names []string
	for i, u := range k.units {
		if i == 0 || u.symbol != "" && u.symbol != k.units[0].symbol {
			names = append(names, u.symbol)
		}
	}
	return strings.Join(names, ", ")
}

// largest is more than any quantity here can be, so that a slipped key or an
// exponent does not travel on.
const largest = 1e9

var numberAndUnit = regexp.MustCompile(`^([+-]?[0-9.,]*(?:[eE][+-]?[0-9]+)?)\s*(.*)$`)

// Parse is ParseIn where a bare number means the US unit.
func (k Kind) Parse(text string) (float64, error) { return k.ParseIn(US, text) }

// ParseIn reads a number with an optional unit suffix, a bare one in the unit of the
// system, and returns it in the US unit. Commas are read only between groups of three
// digits (1,228ft), and only where three decimals make no sense. The result is finite,
// at most 1e9.
func (k Kind) ParseIn(bare System, text string) (float64, error) {
	s := strings.Replace(strings.TrimSpace(text), "−", "-", 1) // the minus sign of typesetters
	if k.units[0].symbol == "$" {
		s = strings.TrimPrefix(s, "$")
	}
	m := numberAndUnit.FindStringSubmatch(s)
	if m == nil || !strings.ContainsAny(m[1], "0123456789") {
		return 0, fmt.Errorf("%s %q is not a number: want one in %s, or with its unit: %s",
			k.Name, shorten(text), cmp.Or(k.units[bare].symbol, k.units[0].symbol), k.Accepted())
	}
	digits := m[1]
	if k.wholes {
		digits = ungroup(digits)
	}
	if strings.Contains(digits, ",") {
		return 0, fmt.Errorf("%s %q has a comma: want a decimal point", k.Name, shorten(text))
	}
	v, err := plainNumber(digits)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", k.Name, err)
	}
	u, ok := k.find(m[2])
	if m[2] == "" {
		u = k.units[bare]
	}
	if !ok {
		return 0, fmt.Errorf("%s %q: unknown unit %q, want %s", k.Name, shorten(text), shorten(m[2]), k.Accepted())
	}
	v = v*u.scale + u.offset
	if math.Abs(v) > largest {
		return 0, fmt.Errorf("%s %q is too large", k.Name, shorten(text))
	}
	return v, nil
}

// spacing makes "in. Hg" the same as inHg.
var spacing = strings.NewReplacer(" ", "", ".", "")

func (k Kind) find(suffix string) (unit, bool) {
	suffix = spacing.Replace(suffix)
	if suffix == "" {
		return k.units[0], true
	}
	for _, u := range k.units {
		if strings.EqualFold(suffix, u.symbol) {
			return u, true
		}
		for _, a := range u.aliases {
			if strings.EqualFold(suffix, a) {
				return u, true
			}
		}
	}
	return unit{}, false
}

// In converts a value in the US unit to the unit shown in the system.
func (k Kind) In(s System, us float64) float64 {
	u := k.units[s]
	return (us - u.offset) / u.scale
}

// Symbol is the unit shown in the system.
func (k Kind) Symbol(s System) string { return k.units[s].symbol }

// Format writes a value given in the US unit as the system shows it, with its
// unit: "2,310 ft", "704 m". It reads back with Parse.
func (k Kind) Format(s System, us float64) string {
	number := strconv.FormatFloat(k.In(s, us), 'f', k.units[s].digits, 64)
	if strings.Trim(number, "-0.") == "" {
		number = strings.TrimPrefix(number, "-") // never "-0.0"
	}
	switch symbol := k.Symbol(s); symbol {
	case "$", "":
		return symbol + Group(number)
	default:
		return Group(number) + " " + symbol
	}
}

// Group puts commas between the thousands of a number formatted without exponent.
func Group(number string) string {
	digits := strings.TrimLeft(number, "+-")
	sign := number[:len(number)-len(digits)]
	whole, frac, point := strings.Cut(digits, ".")
	if strings.Trim(whole, "0123456789") != "" {
		return number // Inf and NaN
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if point {
		whole += "." + frac
	}
	return sign + whole
}

// ungroup takes commas out where they part groups of three; any other comma is
// left in, so that the number is refused.
func ungroup(s string) string {
	whole, frac, point := strings.Cut(s, ".")
	parts := strings.Split(whole, ",")
	for i, p := range parts {
		if i > 0 && len(p) != 3 || i == 0 && len(parts) > 1 && len(strings.TrimLeft(p, "+-")) > 3 {
			return s
		}
	}
	whole = strings.Join(parts, "")
	if point {
		whole += "." + frac
	}
	return whole
}

// shorten keeps a pasted paragraph out of an error message.
func shorten(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
