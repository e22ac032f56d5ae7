package notebook

import (
	"math"
	"strconv"
	"strings"
	"time"

	"slipcase/weather/units"
)

// Cell is a value as its column has it; the zero one is absent. A table has very many, one
// after the other in the same room: none of them is made for itself alone.
type Cell struct {
	kind   Kind
	text   string
	number float64 // of a truth 1, where it is so
	at     time.Time
}

// filled is a text, absent where it is empty.
func filled(s string) Cell {
	if s == "" {
		return Cell{}
	}
	return Cell{kind: Text, text: s}
}

func ofNumber(v float64) Cell { return Cell{kind: Number, number: v} }

// numberCell is a number that may be absent.
func numberCell(n units.Number) Cell {
	if !n.Known() {
		return Cell{}
	}
	return ofNumber(n.Value())
}

// figure is a number that was worked out, to so many decimals.
func figure(v float64, decimals int) Cell {
	scale := math.Pow10(decimals)
	return ofNumber(math.Round(v*scale)/scale + 0)
}

// figureOf is figure of what may be absent.
func figureOf(n units.Number, decimals int) Cell {
	if !n.Known() {
		return Cell{}
	}
	return figure(n.Value(), decimals)
}

// ofMoment is a time, absent where it is zero.
func ofMoment(t time.Time) Cell {
	if t.IsZero() {
		return Cell{}
	}
	return Cell{kind: Moment, at: t}
}

func ofTruth(is bool) Cell {
	if is {
		return Cell{kind: Truth, number: 1}
	}
	return Cell{kind: Truth}
}

// appendPlain appends the cell as text, a formula's beginning made harmless.
func (c *Cell) appendPlain(to []byte) []byte {
	switch c.kind {
	case Text:
		return append(to, Defused(c.text)...)
	case Number:
		return strconv.AppendFloat(to, c.number, 'f', -1, 64)
	case Moment:
		return c.at.AppendFormat(to, time.RFC3339)
	case Truth:
		return strconv.AppendBool(to, c.number == 1)
	}
	return to
}

// value is the cell for JSON: a moment is text, with its offset.
func (c *Cell) value() any {
	switch c.kind {
	case Text:
		return c.text
	case Number:
		return c.number
	case Moment:
		return c.at.Format(time.RFC3339)
	case Truth:
		return c.number == 1
	}
	return nil
}

// texts are the cells of a row as text, in room of one line: one text is made of all.
type texts struct {
	line []string
	ends []int
	all  []byte
}

// of gives them, good until the next row.
func (t *texts) of(row []Cell) []string {
	t.line, t.ends, t.all = t.line[:0], t.ends[:0], t.all[:0]
	for i := range row {
		t.all = row[i].appendPlain(t.all)
		t.ends = append(t.ends, len(t.all))
	}
	all, from := string(t.all), 0
	for _, end := range t.ends {
		t.line, from = append(t.line, all[from:end]), end
	}
	return t.line
}

// Defused puts a quote mark before text that a spreadsheet would take for a formula, and
// before one that has such a mark already, so that Fused gets each back.
func Defused(s string) string {
	rest := s
	for rest != "" && rest[0] == '\'' {
		rest = rest[1:]
	}
	if rest != "" && strings.IndexByte("=+-@\t\r", rest[0]) >= 0 {
		return "'" + s
	}
	return s
}

// Fused undoes Defused.
func Fused(s string) string {
	if rest, marked := strings.CutPrefix(s, "'"); marked && Defused(rest) == s {
		return rest
	}
	return s
}
