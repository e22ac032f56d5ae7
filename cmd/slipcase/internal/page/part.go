package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Parts lists the candidate changes.
func (p *Page) Parts(parts []crew.Planned) error { return p.Answer(parts, p.partTable(parts...), nil) }

// PartAdded tells that a candidate change is recorded, what its boost is where it has
// one, and what to type next.
func (p *Page) PartAdded(part crew.Planned, boost *crew.Boosted) error {
	out := struct {
		crew.Planned
		Worked *boostJSON `json:"worked_out,omitempty"`
	}{Planned: part}
	if boost != nil {
		out.Worked = p.newBoostJSON(*boost)
	}
	return p.Answer(out, p.partTable(part), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %s of %s: %s\n", part.Name, part.Vehicle, p.partWords(part))
		if boost != nil {
			fmt.Fprintln(w)
			p.boostText(w, *boost)
		}
		fmt.Fprintf(w, "  next, against the others   slipcase plan rank --vehicle %s\n", part.Vehicle)
	})
}

// PartAmended tells what an amendment changed.
func (p *Page) PartAmended(part crew.Planned, changed []crew.CellChange) error {
	head := fmt.Sprintf("recorded  %s of %s, revision %d: %s", part.Name, part.Vehicle, part.Rev, p.partWords(part))
	return p.amended(part, p.partTable(part), head, changed)
}

// PartStatus tells of a change taken off the plan or put back.
func (p *Page) PartStatus(part crew.Planned) error {
	return p.status(part, p.partTable(part), "change", part.Name+" of "+part.Vehicle, "plan", part.Entry)
}

// partFigure is a figure of a part: its column, and how it is shown.
type partFigure struct {
	key               string
	kind              units.Kind
	low, likely, high units.Number
}

// partFigures are those of a part; of the two gains one is absent.
func partFigures(part crew.Planned) []partFigure {
	return []partFigure{
		{"gain_hp", units.Power, part.GainLowHP, part.GainHP, part.GainHighHP},
		{"gain_pct", units.Percent, part.GainLowPct, part.GainPct, part.GainHighPct},
		{"weight_lb", units.Weight, part.WeightLowLb, part.WeightLb, part.WeightHighLb},
		{"grip_pct", units.Percent, part.GripLowPct, part.GripPct, part.GripHighPct},
		{"cost", units.Money, part.CostLow, part.Cost, part.CostHigh},
		{"hours", units.Hours, part.HoursLow, part.Hours, part.HoursHigh},
	}
}

// partSpans are the figures of a part as shown, by the heading of their column.
func (p *Page) partSpans(part crew.Planned) map[string]string {
	shown := map[string]string{}
	for _, f := range partFigures(part) {
		what, _, _ := strings.Cut(f.key, "_")
		if span := p.span(f); span != "" {
			shown[what] = span
		}
	}
	return shown
}

// span shows a figure of the plan: one, or its low and high.
func (p *Page) span(f partFigure) string {
	if !f.likely.Known() {
		return ""
	}
	text := p.Show(f.kind, f.likely)
	switch {
	case f.kind.Name == units.Money.Name:
		text = p.dollars(f.likely.Value())
	case f.kind.Name == units.Weight.Name && f.likely.Value() > 0:
		text = "+" + text
	}
	if f.low.Known() && f.low != f.high {
		text += fmt.Sprintf(" (%.0f to %.0f)", f.kind.In(p.Units, f.low.Value()), f.kind.In(p.Units, f.high.Value()))
	}
	return text
}

// partWords say what a part does and costs.
func (p *Page) partWords(part crew.Planned) string {
	shown := p.partSpans(part)
	var words []string
	for _, of := range [][2]string{
		{"gain", "power "}, {"weight", "weight "}, {"grip", "grip "}, {"cost", ""}, {"hours", ""},
	} {
		if span := shown[of[0]]; span != "" {
			words = append(words, of[1]+span)
		}
	}
	return strings.Join(words, ", ")
}

func (p *Page) partTable(parts ...crew.Planned) table.Table {
	if p.Format == table.CSV {
		return partCSV(parts)
	}
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 4},
		{Head: "change", Key: "name"},
		{Head: "vehicle", Key: "vehicle", Drop: 2},
		{Head: "power", Key: "gain"},
		{Head: "weight", Key: "weight"},
		{Head: "grip", Key: "grip", Drop: 1},
		{Head: "cost", Key: "cost"},
		{Head: "hours", Key: "hours", Drop: 1},
		{Head: "boost", Key: "boost", Drop: 3},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, part := range parts {
		row := table.Cells(p.partSpans(part))
		row["id"], row["name"], row["vehicle"] = part.ID, part.Name, part.Vehicle
		row["boost"], row["notes"] = part.Boost, part.Notes
		t.AddCells(row)
	}
	return t
}

// partCSV is the plan for another program: every figure bare, in its own column.
func partCSV(parts []crew.Planned) table.Table {
	key := func(f partFigure, end string) string {
		what, unit, _ := strings.Cut(f.key, "_")
		return strings.TrimSuffix(what+end+"_"+unit, "_")
	}
	t := table.Table{Columns: []table.Column{{Key: "id"}, {Key: "name"}, {Key: "vehicle"}}}
	for _, f := range partFigures(crew.Planned{}) {
		for _, end := range []string{"_low", "", "_high"} {
			t.Columns = append(t.Columns, table.Column{Key: key(f, end), Right: true})
		}
	}
	t.Columns = append(t.Columns, table.Column{Key: "boost"}, table.Column{Key: "notes"})
	for _, part := range parts {
		row := table.Cells{
			"id": part.ID, "name": part.Name, "vehicle": part.Vehicle, "boost": part.Boost, "notes": part.Notes,
		}
		for _, f := range partFigures(part) {
			row[key(f, "_low")], row[key(f, "")], row[key(f, "_high")] = f.low.String(), f.likely.String(), f.high.String()
		}
		t.AddCells(row)
	}
	return t
}
