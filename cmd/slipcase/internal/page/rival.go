package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func (p *Page) rivalText(w io.Writer, d crew.DialChoice, out dialJSON) {
	r, perfect := d.Rival, d.Rules.PerfectS
	if head := out.HeadStartS; head.Known() {
		who, by := "the other lane leaves first", head.Value()
		if r.Vehicle.ID != "" {
			who = r.Vehicle.Name() + " leaves first"
		}
		if by < 0 {
			who, by = "you leave first", -by
		}
		p.Say(w, "start", fmt.Sprintf("%s by %.2f s", who, by))
	}
	dial := ""
	if r.DialS != 0 {
		dial = fmt.Sprintf("dial %s, ", Hundredths(units.Some(r.DialS)))
	}
	p.Say(w, "other lane", fmt.Sprintf("%sreaction %.3f sd %.3f, ET %.3f sd %.3f; yours %.3f sd %.3f",
		dial, r.Reaction.Mean+perfect, r.Reaction.SD, r.ET.Mean, r.ET.SD, d.Reaction.Mean+perfect, d.Reaction.SD))
	p.Say(w, "assumed", "neither lane lifts")
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
	switch n.Kind {
	case crew.FewReactions:
		whose := "your"
		if n.Vehicle != "" {
			whose = n.Vehicle + "'s"
		}
		return fmt.Sprintf("%s reaction is taken as %.3f, sd %.3f: fewer than five in the log", whose, n.Mean, n.SD)
	case crew.RivalReaction:
		return fmt.Sprintf("the other reaction is taken as %.3f, sd %.3f", n.Mean, n.SD)
	case crew.RivalReactionSD:
		return fmt.Sprintf("the spread of the other reaction is taken as %.3f", n.SD)
	case crew.RivalET:
		return fmt.Sprintf("the other ET is taken as %.3f over its dial", n.Mean)
	}
	return fmt.Sprintf("the spread of the other ET is taken as %.3f", n.SD)
}
