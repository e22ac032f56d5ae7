package notebook

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/weather/units"
)

var (
	figureText = pattern.Of(`^([-+]?)\s*([0-9]*[.,]?[0-9][0-9.,]*)\s*([a-zA-Z°/%'"”″]*[a-zA-Z]?\.?)$`)
	grouped    = pattern.Of(`^\d{1,3}(,\d{3})+(\.\d+)?$`)
	splitText  = pattern.Of(
		`^([-+0-9.,]+)\s*(?:s|sec)?\s*(?:[@/|]|\bat\b|\s)\s*\(?\s*([0-9.,]+)\s*(?:mph|km/?h|kph)?\s*\)?$`,
	)
	redText = pattern.Of(
		`(?i)^(?:(r|red)\s*[-: ]?\s*([0-9.,]+)|[-−]?([0-9.,]+)\s*[* ]?\s*(r|red|foul)|\(([0-9.,]+)\))$`,
	)
)

// signedText is a reaction among words or marks: foul -0.018 s, -0.012 RL, *-.058, rot -0,002.
var signedText = pattern.Of(
	`(?i)^([\pL .:*!(]*?)\s*([-+]?)\s*([0-9]*[.,]?[0-9]+)\s*(?:s|sec)?\s*([\pL .*!)]*)$`,
)

// redWords are what people call a red light, as plainLetters leaves it.
var redWords = strings.Fields("r red foul rl rot rouge rojo rosso rood rod rott early soon toosoon fehlstart")

// footnotes are marks behind a figure that point to a remark.
const footnotes = "*†‡^ "

var minusSigns = strings.NewReplacer("−", "-", "–", "-", "$", "")

// amount is a number as read, with the unit that it says.
type amount struct {
	v    float64
	unit string
	// other is the number with its comma read the other way, absent where there is but one.
	other units.Number
}

// amountOf reads a number in a cell.
func (g *Grid) amountOf(f Field) (a amount, ok bool) {
	if f.Number.Known() {
		return amount{v: f.Number.Value()}, true
	}
	if f.Fault != "" || !f.When.IsZero() {
		return a, false
	}
	if v, err := strconv.ParseFloat(f.Text, 64); err == nil && strings.Trim(f.Text, "+-.0123456789") == "" {
		return amount{v: v}, true
	}
	return readAmount(f.Text, g.CommaDecimal)
}

func readAmount(text string, comma bool) (a amount, ok bool) {
	text = strings.TrimRight(minusSigns.Replace(strings.TrimSpace(text)), footnotes)
	m := figureText.FindStringSubmatch(text)
	if m == nil {
		return a, false
	}
	digits := m[2]
	a.unit = strings.TrimSuffix(m[3], ".")
	point, err := plainFigure(m[1], decimalComma(digits))
	whole, err2 := plainFigure(m[1], strings.ReplaceAll(digits, ",", ""))
	switch {
	case !strings.Contains(digits, ","):
		a.v, err = plainFigure(m[1], digits)
		return a, err == nil
	case grouped.MatchString(digits) && !comma:
		if a.v = whole; err == nil && !strings.Contains(digits, ".") {
			a.other = units.Some(point)
		}
		return a, err2 == nil
	case err != nil:
		return a, false
	case grouped.MatchString(digits) && err2 == nil && !strings.Contains(digits, "."):
		a.other = units.Some(whole)
	}
	a.v = point
	return a, true
}

// decimalComma is a number written with one as it is with a point.
func decimalComma(digits string) string {
	return strings.Replace(strings.ReplaceAll(digits, ".", ""), ",", ".", 1)
}

func plainFigure(sign, digits string) (float64, error) { return strconv.ParseFloat(sign+digits, 64) }

// read is an amount as a field of the log has it, in the US unit: the unit that the cell
// says, else the column's.
func (f roleField) read(a amount, unit string) (v float64, ok bool) {
	if a.unit != "" {
		unit = a.unit
	}
	convert := func(v float64) (float64, bool) {
		if f.kind == nil {
			return v, a.unit == "" || a.unit == "s" || a.unit == "sec" || a.unit == "rpm"
		}
		out, err := f.kind.Parse(strconv.FormatFloat(v, 'f', -1, 64) + unit)
		return out, err == nil
	}
	if v, ok = convert(a.v); !ok {
		return v, false
	}
	if a.other.Known() && !f.within(v) {
		if other, ok := convert(a.other.Value()); ok && f.within(other) {
			return other, true
		}
	}
	return v, true
}

func (f roleField) within(v float64) bool { return v >= f.low && v <= f.high }

// splitOf reads a time and its speed in one cell.
func (g *Grid) splitOf(f Field) (et, mph Field, ok bool) {
	m := splitText.FindStringSubmatch(f.Text)
	if f.Number.Known() || !f.When.IsZero() || m == nil {
		return et, mph, false
	}
	a, ok1 := readAmount(m[1], g.CommaDecimal)
	b, ok2 := readAmount(m[2], g.CommaDecimal)
	if a.other.Known() && a.v > 100 {
		a.v = a.other.Value()
	}
	if !ok1 || !ok2 || a.v < 3 || a.v > 35 || b.v < 25 || b.v > 560 {
		return et, mph, false
	}
	return Field{Text: m[1], Number: units.Some(a.v)}, Field{Text: m[2], Number: units.Some(b.v)}, true
}

// reactionOf reads a reaction in whatever way a red light is written.
func (g *Grid) reactionOf(f Field) (s float64, ok bool) {
	m := redText.FindStringSubmatch(f.Text)
	if a, is := g.amountOf(f); is && (m == nil || f.Number.Known()) {
		if v, ok := fieldOf("reaction_s").read(a, ""); ok {
			return v, ok
		}
	}
	if m == nil {
		return g.signedReaction(f.Text)
	}
	digits := m[2] + m[3] + m[5]
	a, ok := readAmount(digits, g.CommaDecimal)
	if len(digits) == 3 && strings.Trim(digits, "0123456789") == "" {
		a.v /= 1000 // r012: lights are printed to thousandths
	}
	return -a.v, ok
}

// laneLight is a reaction with its lane: .042 R, .051 (L).
var laneLight = pattern.Of(`(?i)^([-+−]?[0-9]*[.,][0-9]+)\s*s?\s*\(?\s*(l|r|left|right)\s*\)?$`)

// besideLane reads a reaction with its lane, in a column of which a row says the left one: where
// none does an R is a red light.
func (c *Mapped) besideLane(f Field) (light Field, lane string, ok bool) {
	m := laneLight.FindStringSubmatch(f.Text)
	if m == nil || !c.lanes {
		return f, "", false
	}
	lane = "left"
	if strings.ContainsAny(m[2][:1], "rR") {
		lane = "right"
	}
	return Field{Text: m[1]}, lane, true
}

// signedReaction reads a reaction among words: with its sign, or a red light by its word.
func (g *Grid) signedReaction(text string) (s float64, ok bool) {
	m := signedText.FindStringSubmatch(minusSigns.Replace(strings.TrimSpace(text)))
	const mostWords = 3
	if m == nil || !strings.ContainsAny(m[3], ".,") || len(strings.Fields(m[1]+" "+m[4])) > mostWords {
		return 0, false
	}
	a, ok := readAmount(m[3], g.CommaDecimal)
	words := strings.FieldsFunc(plainLetters(m[1]+" "+m[4]), func(c rune) bool { return !unicode.IsLetter(c) })
	red := slices.ContainsFunc(words, func(w string) bool { return slices.Contains(redWords, w) })
	switch {
	case m[2] == "-" || red:
		return -a.v, ok
	}
	return 0, false // what stands beside it is not known
}
