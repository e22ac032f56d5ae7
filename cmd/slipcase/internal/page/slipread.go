package page

import (
	"fmt"
	"strings"

	"slipcase/weather/units"
)

// Printed says how a figure of a printed slip was read.
func (p *Page) Printed(column, text string, value float64) string {
	word, said := RoleWord(column), fmt.Sprintf("%.3f", value)
	switch {
	case strings.HasSuffix(column, "reaction_s"):
		said = ReactionText(units.Some(value))
	case strings.HasSuffix(column, "dial_s"), column == "index_s":
		said = Hundredths(units.Some(value))
	case strings.Contains(column, "mph"):
		said = p.Speed(units.Some(value))
	}
	if strings.TrimLeft(text, "0+") == strings.TrimLeft(said, "0+") {
		return fmt.Sprintf("%s %s (check the slip)", word, said) // read well, but the rest speaks against it
	}
	return fmt.Sprintf("%s %s, printed as %q", word, said, clip(text, 20))
}

// WhichLane says how one tells which lane is his: by its name, or where the names are not read by
// the number of his car.
func WhichLane(ends [][2]string) string {
	if ends[0][0] == "first" {
		return "--car says it by your number: " + BothLanes(ends)
	}
	return "--lane " + BothLanes(ends)
}

// BothLanes are the lanes of a slip, each with the time at its end.
func BothLanes(ends [][2]string) string {
	words := make([]string, len(ends))
	for i, e := range ends {
		words[i] = fmt.Sprintf("%s (%s)", e[0], e[1])
	}
	return strings.Join(words, " or ")
}
