package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func (p *Page) rivalText(w io.Writer, d crew.DialChoice, out dialJSON) {
	r, perfect := d.Rival, d.Rules.PerfectS
	if head := out.HeadStartS; head.Known() {
		start := short(math.Abs(head.Value()), 2) + " head start"
		if head.Value() > 0 {
			start += " for " + rivalName(r)
		}
		p.Say(w, "start", start)
	}
	dial := ""
	if r.DialS != 0 {
		dial = fmt.Sprintf("dial %s, ", Hundredths(units.Some(r.DialS)))
	}
	lights := func(s crew.Spread) string {
		return fmt.Sprintf("lights %s sd %s", short(s.Mean+perfect, 3), short(s.SD, 3))
	}
	p.Say(
		w,
		rivalName(r),
		fmt.Sprintf("%s%s, ET %.3f sd %s", dial, lights(r.Reaction.Spread), r.ET.Mean, short(r.ET.SD, 3)),
	)
	p.Say(w, "you", lights(d.Reaction.Spread))
	p.Say(w, "assumed", "neither lane lifts")
}

// rivalName is the other lane's name where the log has one.
func rivalName(r *crew.Rival) string {
	if r.Vehicle.ID == "" {
		return "other"
	}
	return r.Vehicle.Name()
}

// dialNotes are what to know of a dial.
func (p *Page) dialNotes(d crew.DialChoice) []string {
	notes := p.nextNotes(&d.Run, &d.Forecast)
	for _, n := range d.Notes {
		notes = append(notes, dialNote(n))
	}
	return notes
}

func dialNote(n crew.DialNote) string {
	whose := func(other string) string {
		if n.Vehicle != "" {
			return n.Vehicle + "'s"
		}
		return other
	}
	guess := "guessing " + short(n.Mean, 3)
	if n.SD != 0 {
		guess += " sd " + short(n.SD, 3)
	}
	switch n.Kind {
	case crew.FewReactions:
		return fmt.Sprintf("%s lights: %s, fewer than five in the log", whose("your"), guess)
	case crew.RivalReaction:
		return fmt.Sprintf("%s lights: %s", whose("other's"), guess)
	case crew.RivalReactionSD:
		return fmt.Sprintf("%s lights: guessing sd %s", whose("other's"), short(n.SD, 3))
	case crew.RivalET:
		return fmt.Sprintf("%s ET: %s over the dial", whose("other's"), guess)
	}
	return fmt.Sprintf("%s ET: guessing sd %s", whose("other's"), short(n.SD, 3))
}
