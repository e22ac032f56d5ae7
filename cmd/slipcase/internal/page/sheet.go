package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Sheets lists dyno sheets.
func (p *Page) Sheets(all []crew.Sheet) error { return p.Answer(all, p.sheetTable(all...), nil) }

// SheetAdded tells that a dyno sheet is recorded, and what to type next.
func (p *Page) SheetAdded(s crew.Sheet, pulled *crew.Pulled) error {
	if pulled != nil {
		p.Aside(p.PulledNotes(*pulled))
	}
	return p.Answer(s, p.sheetTable(s), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  dyno sheet %s of %s: %s\n", s.Name, s.Vehicle, p.sheetWords(s))
		if pulled != nil {
			p.sayAll(w, "read", p.PulledNotes(*pulled))
		}
		fmt.Fprintf(w, "  next, in a setup   slipcase setup add --vehicle %s --sheet %s\n", s.Vehicle, s.Name)
	})
}

// SheetAmended tells what an amendment changed.
func (p *Page) SheetAmended(s crew.Sheet, pulled *crew.Pulled, changed []crew.CellChange) error {
	if pulled != nil {
		for _, said := range p.PulledNotes(*pulled) {
			p.Note("read: %s", said)
		}
	}
	head := fmt.Sprintf("recorded  dyno sheet %s of %s, revision %d: %s", s.Name, s.Vehicle, s.Rev, p.sheetWords(s))
	return p.amended(s, p.sheetTable(s), head, changed)
}

// SheetStatus tells of a dyno sheet put away or taken out again.
func (p *Page) SheetStatus(s crew.Sheet) error {
	return p.status(s, p.sheetTable(s), "dyno sheet", s.Name+" of "+s.Vehicle, "power", s.Entry)
}

// sheetWords says a sheet's peak, where it was measured and what it is corrected to.
func (p *Page) sheetWords(s crew.Sheet) string {
	return fmt.Sprintf("peak %s%s at the %s, %s",
		p.Show(units.Power, s.PeakHP), atRPM(s.PeakRPM), s.At, standardWords(s.Standard))
}

func (p *Page) sheetTable(all ...crew.Sheet) table.Table {
	peak := "peak_" + p.Suffix(units.Power)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 4},
		{Head: "sheet", Key: "name"},
		{Head: "vehicle", Key: "vehicle", Drop: 2},
		{Head: "when", Key: "time", Drop: 3},
		{Head: "peak", Key: peak, Right: true},
		{Head: "at rpm", Key: "peak_rpm", Right: true, Drop: 1},
		{Head: "at", Key: "power_at"},
		{Head: "standard", Key: "power_standard"},
		{Head: "points", Key: "points", Right: true, Drop: 2},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, s := range all {
		t.AddCells(table.Cells{
			"id": s.ID, "name": s.Name, "vehicle": s.Vehicle, "time": p.Stamp(s.Time.Time),
			peak: p.Cell(units.Power, s.PeakHP), "peak_rpm": s.PeakRPM.String(),
			"power_at": s.At, "power_standard": s.Standard, "points": fmt.Sprint(len(s.Points)), "notes": s.Notes,
		})
	}
	return t
}

func atRPM(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf(" at %.0f rpm", n.Value())
}

// standardWords names a correction standard to a person.
func standardWords(s string) string {
	switch s {
	case "sae":
		return "SAE J1349"
	case "standard":
		return `SAE J607 ("standard")`
	case "din":
		return "DIN 70020"
	case "none":
		return "as measured"
	}
	return "standard not said"
}
