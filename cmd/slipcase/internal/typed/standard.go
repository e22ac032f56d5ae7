package typed

import (
	"slices"
	"strings"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Standards are the words for what a power is corrected to.
var Standards = []string{"sae", "standard", "din", "none"}

var standardNames = map[string]string{
	"j1349": "sae", "sae j1349": "sae", "sae-j1349": "sae", "net": "sae",
	"std": "standard", "stp": "standard", "j607": "standard", "sae j607": "standard",
	"din 70020": "din", "70020": "din",
	"uncorrected": "none", "measured": "none", "actual": "none", "raw": "none",
}

// Standard is the word for a standard however it is written; another text stays as it is.
func Standard(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	if is, ok := standardNames[text]; ok {
		return is
	}
	return text
}

// SheetIs is what is said of a dyno sheet in one line: where it was measured, what it is
// corrected to, and the air there; "" and absent where it is not said.
type SheetIs struct {
	text                      string
	At, Standard              string
	TempF, RHPct, StationInHg units.Number
}

func (s *SheetIs) String() string { return s.text }

// Type is what help calls its value.
func (s *SheetIs) Type() string { return "string" }

// Set reads it.
func (s *SheetIs) Set(text string) (err error) {
	*s, err = ParseSheetIs(units.US, text)
	s.text = text
	return err
}

// ParseSheetIs reads "wheels din 60F 40% 30.1inHg", in any order.
func ParseSheetIs(bare units.System, text string) (s SheetIs, err error) {
	var air []string
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		switch is := Standard(w); {
		case slices.Contains(Standards, is):
			s.Standard = is
		case is == "wheels" || is == "clutch":
			s.At = is
		default:
			air = append(air, w)
		}
	}
	if len(air) == 0 {
		return s, nil
	}
	read, err := ParseAir(bare, strings.Join(air, " "), nil)
	if err == nil {
		err = read[0].Err
	}
	if err != nil {
		return s, units.Errorf("%w: want words such as wheels, din or {60F 40%% 30.1inHg|16C 40%% 1019hPa}", err)
	}
	r := read[0].Reading
	s.TempF, s.RHPct, s.StationInHg = r.TempF, r.RHPct, r.StationInHg
	known := weather.Reading{TempF: r.TempF, RHPct: r.RHPct, StationInHg: r.StationInHg}
	if !r.TempF.Known() || !r.StationInHg.Known() || r != known {
		return s, units.Errorf("%q: want temperature, humidity and station pressure, as {60F 40%% 30.1inHg|16C 40%% 1019hPa}", text)
	}
	return s, nil
}

// StandardField is a field for what a power is corrected to.
func StandardField[T any](help string, at func(*T) *string) Field[T] {
	f := ChoiceField("standard", help, at, Standards...)
	set := f.Set
	f.Set = func(row *T, bare units.System, text string) error { return set(row, bare, Standard(text)) }
	return f
}
