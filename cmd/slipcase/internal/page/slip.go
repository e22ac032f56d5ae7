package page

import (
	"cmp"
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// slipParts is a slip as it is read back to the racer, a figure each.
func (p *Page) slipParts(s crew.Slip) []string {
	var parts told
	parts.say("reaction "+ReactionText(s.ReactionS), s.ReactionS.Known())
	for _, at := range s.Splits() {
		text := at.Label + " " + Seconds(at.ETS) + p.atSpeed(at.MPH)
		parts.say(strings.Replace(text, "  ", " ", 1), at.ETS.Known() || at.MPH.Known())
	}
	parts.say("dial "+Hundredths(s.DialS), s.DialS.Known())
	for _, word := range []string{s.Lane, s.Round, s.Result, s.FullPower} {
		parts.say(word, word != "")
	}
	parts.say("full power to "+units.Length.Format(p.Units, s.FullPowerToFt.Value()), s.FullPowerToFt.Known())
	return append(parts, p.besideParts(s)...)
}

// besideParts are what a slip says beside its own times.
func (p *Page) besideParts(s crew.Slip) []string {
	var parts told
	parts.say(s.ClassName, s.ClassName != "")
	parts.say("index "+Hundredths(s.IndexS), s.IndexS.Known())
	parts.say(s.Class, s.Class != "" && !s.IndexS.Known())
	parts.say(treeWord(s), s.Tree.Known())
	parts.say("raced "+units.Length.Format(p.Units, s.RacedFt.Value()), s.RacedFt.Known())
	parts.say("driver "+s.Driver, s.Driver != "")
	parts.say("delay "+Seconds(s.DelayS), s.DelayS.Known())
	parts.say("stop "+stopText(s), s.StopOffS.Known())
	if cells, err := s.OwnCells(); err == nil {
		for _, c := range cells {
			parts.say(c.Name+"="+c.Text, true)
		}
	}
	parts.say("bye", s.Bye != "")
	parts.say("buyback", s.Buyback != "")
	other := p.otherLane(s)
	parts.say("other lane "+other, other != "")
	parts.say("opponent "+s.Opponent, s.Opponent != "")
	return parts
}

// told are the parts of a slip that there is something to say of.
type told []string

func (parts *told) say(text string, some bool) {
	if some {
		*parts = append(*parts, text)
	}
}

// treeWord is the tree of a slip as it is typed.
func treeWord(s crew.Slip) string {
	switch s.Tree.Value() {
	case 0.4:
		return "pro tree"
	case 0.5:
		return "full tree"
	}
	return "tree " + s.Tree.String()
}

// stopText is when a throttle stop was on, as it is typed.
func stopText(s crew.Slip) string {
	off := short(s.StopOffS.Value(), 2)
	if s.StopOnS.Or(0) == 0 {
		return off
	}
	return short(s.StopOnS.Value(), 2) + "-" + off
}

// AsTyped is a line of a paper slip's column as it would be typed, the reaction or a
// mark's time and speed; "" while it is empty.
func (p *Page) AsTyped(s crew.Slip, line int) string {
	if line == 0 {
		return ReactionText(s.ReactionS)
	}
	at := s.Splits()[line-1]
	return Seconds(at.ETS) + strings.ReplaceAll(p.atSpeed(at.MPH), " ", "")
}

// OtherAsTyped is the other lane as it would be typed, absent in the place of what is
// not told.
func (p *Page) OtherAsTyped(s crew.Slip, absent string) string {
	var parts []string
	if s.OpponentETS.Known() || s.OpponentReactionS.Known() {
		et := cmp.Or(Seconds(s.OpponentETS), absent) + strings.ReplaceAll(p.atSpeed(s.OpponentMPH), " ", "")
		parts = append(parts, cmp.Or(ReactionText(s.OpponentReactionS), absent), et)
	}
	if s.OpponentDialS.Known() {
		parts = append(parts, "dial "+Hundredths(s.OpponentDialS))
	}
	parts = append(parts, broke(s)...)
	return strings.Join(append(parts, strings.Fields(s.Result)...), " ")
}

// broke are the words for how the other lane broke.
func broke(s crew.Slip) []string {
	switch s.OpponentBroke {
	case "":
		return nil
	case "staged":
		return []string{"staged broke"}
	}
	return []string{"broke"}
}

// SlipLines are the parts of a slip in lines of at most width columns.
func (p *Page) SlipLines(s crew.Slip, width int) []string { return inLines(p.slipParts(s), width) }

// inLines sets parts side by side in lines of at most width columns.
func inLines(parts []string, width int) (lines []string) {
	for _, part := range parts {
		if n := len(lines); n > 0 && len(lines[n-1])+2+len(part) <= width {
			lines[n-1] += "  " + part
			continue
		}
		lines = append(lines, part)
	}
	return lines
}

func (p *Page) otherLane(s crew.Slip) string {
	var parts []string
	if r := s.OpponentReactionS; r.Known() {
		parts = append(parts, ReactionText(r))
	}
	if et := s.OpponentETS; et.Known() {
		parts = append(parts, Seconds(et)+p.atSpeed(s.OpponentMPH))
	}
	if s.OpponentDialS.Known() {
		parts = append(parts, "dial "+Hundredths(s.OpponentDialS))
	}
	parts = append(parts, broke(s)...)
	return strings.Join(parts, ", ")
}

// ReactionText writes a reaction as the slip prints it: .042, -.012.
func ReactionText(n units.Number) string {
	text, red := strings.CutPrefix(Seconds(n), "-")
	if strings.HasPrefix(text, "0.") {
		text = text[1:]
	}
	if red {
		return "-" + text
	}
	return text
}

// Hundredths is a dial as it is written on a window.
func Hundredths(n units.Number) string {
	if !n.Known() {
		return ""
	}
	text := fmt.Sprintf("%.3f", n.Value())
	return strings.TrimSuffix(text, "0")
}
