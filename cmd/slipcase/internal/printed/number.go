package printed

import (
	"math"
	"strconv"
	"strings"
)

// number is a figure as it stands.
type number struct {
	text   string
	digits string // with what looked like a digit as one, and points
	neg    bool
	mended bool // not as it stands
	id     int  // of all figures of a text
}

// alike are the letters and signs that a phone takes digits for.
var alike = map[rune]rune{
	'O': '0', 'o': '0', 'Q': '0', 'D': '0', 'l': '1', 'I': '1', '|': '1', '!': '1', 'i': '1',
	'S': '5', 's': '5', '$': '5', 'B': '8', 'Z': '2', 'z': '2', 'G': '6', 'b': '6', 'q': '9', 'g': '9',
	'T': '7', '?': '7', 'A': '4', '&': '8',
}

var plainSigns = strings.NewReplacer("−", "-", "–", "-", "—", "-", "·", ".", "‚", ",", "’", "'", "′", "'", "`", "'")

// numberOf reads a word as a figure; false where it is none.
func numberOf(text string) (n number, ok bool) {
	n.text = text
	s := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(text, "*"), "#"), ",")
	for _, unit := range []string{"mph", "MPH", "km/h", "sec"} {
		s = strings.TrimSuffix(s, unit)
	}
	if inner, is := strings.CutPrefix(s, "("); is && strings.HasSuffix(inner, ")") {
		s = "-" + strings.TrimSuffix(inner, ")")
	}
	s, n.neg = strings.CutPrefix(s, "-")
	if s = strings.TrimPrefix(s, "+"); !n.neg {
		s, n.neg = strings.CutPrefix(s, "-")
	}
	// A small s behind three decimals is the unit.
	if at := strings.LastIndexAny(s, ".,"); at >= 0 && len(s)-at == len(".000s") && s[len(s)-1] == 's' {
		s = s[:len(s)-1]
	}
	// A bar behind more decimals than any figure has parts the columns.
	if at := strings.IndexAny(s, ".,"); at >= 0 && len(s)-at > len(".0000") {
		s = strings.TrimSuffix(s, "|")
	}
	real, last := false, ' '
	var out strings.Builder
	for _, c := range s {
		switch d, letter := alike[c]; {
		case c >= '0' && c <= '9':
			out.WriteRune(c)
			real = true
		case c == '.' || c == ',':
			n.mended = n.mended || c == ',' || last == '.' || last == ','
			if last != '.' && last != ',' {
				out.WriteByte('.')
			}
			real = real || out.Len() > 1
		case letter:
			out.WriteRune(d)
			n.mended = true
		default:
			return n, false
		}
		last = c
	}
	n.digits = out.String()
	return n, real && strings.Trim(n.digits, ".") != "" && len(n.digits) < 10
}

// whole reports a figure without a point.
func (n number) whole() bool { return !strings.Contains(n.digits, ".") }

// nothing reports a figure of noughts alone, as 0.000.
func (n number) nothing() bool {
	points := 0
	for i := range len(n.digits) {
		switch n.digits[i] {
		case '0':
		case '.':
			points++
		default:
			return false
		}
	}
	return points == 1
}

// reading is a value that a figure may have.
type reading struct {
	v        float64
	decimals int
	mended   bool
}

// readings are all of them: one, where there is one point.
func (n number) readings() (all []reading) {
	plain := strings.ReplaceAll(n.digits, ".", "")
	add := func(decimals int) {
		v, err := strconv.ParseFloat(plain, 64)
		if err != nil || decimals > len(plain) {
			return
		}
		if v /= math.Pow10(decimals); n.neg {
			v = -v
		}
		v = math.Round(v*1e6) / 1e6
		all = append(all, reading{v, decimals, n.mended || n.points() != 1})
	}
	switch n.points() {
	case 0:
		for d := range 5 {
			add(d)
		}
	default:
		for i, c := range n.digits {
			if c == '.' {
				add(len(strings.ReplaceAll(n.digits[i:], ".", "")))
			}
		}
	}
	return all
}

func (n number) points() int { return strings.Count(n.digits, ".") }

// decimals are those of a figure with a point in its place, -1 of another.
func (n number) decimals() int {
	if n.points() != 1 {
		return -1
	}
	return len(n.digits) - 1 - strings.IndexByte(n.digits, '.')
}
