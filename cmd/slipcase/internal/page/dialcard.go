package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// DialBox is a figure with what it is, to be set large.
type DialBox struct{ What, Figure string }

// DialBoxes are the dials for the next run side by side: the one held, else dead on and the
// safer ones; what it should run where there is none to choose.
func (p *Page) DialBoxes(d crew.DialChoice) []DialBox {
	next := DialBox{"next", fmt.Sprintf("%.2f", d.Forecast.ETs[d.Mark].Centre)}
	switch {
	case d.Why == crew.Held:
		return []DialBox{next, {"dial, holding " + short(d.HoldS, 2), fmt.Sprintf("%.2f", d.DialS)}}
	case d.Why == crew.OfIndex:
		return []DialBox{next, {"index, " + p.Share(d.Breakout) + " under", fmt.Sprintf("%.2f", d.DialS)}}
	case d.DeadOn.DialS == 0:
		return []DialBox{next}
	}
	boxes := []DialBox{{"dead on", fmt.Sprintf("%.2f", d.DeadOn.DialS)}}
	for _, one := range d.Safer {
		boxes = append(boxes, DialBox{p.Share(one.Breakout) + " risk", fmt.Sprintf("%.2f", one.DialS)})
	}
	return boxes
}

// NextSays says what the next run should be, and the dials for it; of a day that is over, what
// one more would have been.
func (p *Page) NextSays(d crew.DialChoice, today bool) string {
	at := d.Run.Slip.Time
	lead := fmt.Sprintf("Next, at %s:", at.Format("15:04"))
	if !today {
		lead = fmt.Sprintf("A next run on %s at %s:", at.Format(DayForm), at.Format("15:04"))
	}
	b := d.Forecast.ETs[d.Mark]
	text := fmt.Sprintf("%s %.2f, %s", lead, b.Centre, eightOf10(b))
	if p.noAir(d) != "" {
		text += ", the air guessed"
	}
	if dials := p.DialsSay(d); dials != "" {
		text += ". " + dials
	}
	return sentence(text)
}

// DialsSay says what there is to dial, "" where there is nothing.
func (p *Page) DialsSay(d crew.DialChoice) string {
	if d.Why == crew.OfIndex {
		return fmt.Sprintf("Index %.2f: %s", d.DialS,
			p.atIndex(d.OneDial, d.Forecast.ETs[d.Mark].Centre, d.SlowerS.Value(), d.RiskPct, d.Stop))
	}
	var dials []string
	for _, box := range p.DialBoxes(d) {
		switch {
		case box.What == "next":
		case box.What == "dead on" && d.DeadOn.DialS != 0:
			dials = append(dials, fmt.Sprintf("dead on %s, %s risk", box.Figure, p.Share(d.DeadOn.Breakout)))
		default:
			dials = append(dials, box.Figure+" for "+box.What)
		}
	}
	if len(dials) == 0 {
		return ""
	}
	return "To dial: " + strings.Join(dials, "; ")
}

// NextLine is the forecast behind the dials, in a line.
func (p *Page) NextLine(d crew.DialChoice) string {
	text := fmt.Sprintf("%s at %g ft", eightOf10(d.Forecast.ETs[d.Mark]), d.Mark.Ft())
	if p.noAir(d) == "" {
		text += ", " + Air(d.Run.Air, p.Units)
	}
	return text
}

// NoAirFor says that a dial goes by guessed air, "" where it does not.
func (p *Page) NoAirFor(d crew.DialChoice) string { return p.noAir(d) }

// CardByTime is a dial card by the time of the run.
func (p *Page) CardByTime(c crew.DialCard) table.Table {
	t := table.Table{Columns: append([]table.Column{
		{Head: "at", Key: "time"}, {Head: "DA", Key: "density_altitude_" + p.Suffix(units.Length), Right: true},
	}, laneColumns...)}
	for _, r := range c.ByTime {
		row := p.cardCells(r)
		row["time"] = r.At.Format("15:04")
		row["density_altitude_"+p.Suffix(units.Length)] = tens(p.Units, r.Air.Air.DensityAltitudeFt())
		t.AddCells(row)
	}
	return t
}

// CardByAir is a dial card by the density altitude, whatever the time.
func (p *Page) CardByAir(c crew.DialCard) table.Table {
	da := "density_altitude_" + p.Suffix(units.Length)
	t := table.Table{Columns: append([]table.Column{{Head: "DA", Key: da, Right: true}}, laneColumns...)}
	for _, r := range c.ByAir {
		row := p.cardCells(r)
		row[da] = tens(p.Units, r.Air.Air.DensityAltitudeFt())
		t.AddCells(row)
	}
	return t
}

var laneColumns = []table.Column{
	{Head: "left", Key: "left_s", Right: true},
	{Head: "safer", Key: "left_safer_s", Right: true},
	{Head: "right", Key: "right_s", Right: true},
	{Head: "safer", Key: "right_safer_s", Right: true},
}

func (p *Page) cardCells(r crew.CardRow) table.Cells {
	row := table.Cells{}
	for i, lane := range []string{"left", "right"} {
		d := r.Lanes[i]
		row[lane+"_s"] = fmt.Sprintf("%.2f", d.Forecast.ETs[d.Mark].Centre)
		switch n := len(d.Safer); {
		case d.Why == crew.Held:
			row[lane+"_s"] = fmt.Sprintf("%.2f", d.DialS)
		case n > 0:
			row[lane+"_s"], row[lane+"_safer_s"] = fmt.Sprintf("%.2f", d.DeadOn.DialS), fmt.Sprintf("%.2f", d.Safer[n-1].DialS)
		case d.DeadOn.DialS > 0:
			row[lane+"_s"] = fmt.Sprintf("%.2f", d.DeadOn.DialS)
		}
	}
	return row
}
