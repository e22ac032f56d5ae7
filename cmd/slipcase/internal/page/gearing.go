package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Striped is where the speed of a gearing is from: the end of a vehicle's next run.
type Striped struct {
	Vehicle string
	At      crew.Mark
	LastRow float64 // rpm, of its dyno sheet; 0 without one
}

// gearingJSON is all of the gearing, the given and the found.
type gearingJSON struct {
	RPM       float64 `json:"rpm"`
	MPH       float64 `json:"mph"`
	TyreIn    float64 `json:"tyre_in"`
	Rear      float64 `json:"rear_ratio"`
	Top       float64 `json:"top_ratio"`
	SlipPct   float64 `json:"slip_pct"`
	Found     string  `json:"found"`
	SpeedFrom string  `json:"speed_from,omitempty"`
	Note      string  `json:"note,omitempty"`
	Caution   string  `json:"caution"`
}

// newGearingJSON rounds what was worked out; the given stays as it was given.
func newGearingJSON(g crew.Geared) gearingJSON {
	out := gearingJSON{
		RPM: g.RPM, TyreIn: g.TyreIn, Rear: g.Rear, Top: g.Top, Found: string(g.Found), Note: gearingNote(g),
		MPH: rounded(g.MPH, ToMPH), SlipPct: rounded(g.SlipPct, ToPct), // the speed may be a forecast, the slip a share
		Caution: "no faster than the engine's limit and the tire's rating: their makers say them",
	}
	switch g.Found {
	case crew.EngineSpeed:
		out.RPM = rounded(g.RPM, ToRPM)
	case crew.TyreSize:
		out.TyreIn = rounded(g.TyreIn, ToInch)
	case crew.RearGear:
		out.Rear = rounded(g.Rear, ToRatio)
	}
	return out
}

// Gearing tells a gearing, and what was found of it; from is nil for a speed that was
// given.
func (p *Page) Gearing(g crew.Geared, from *Striped) error {
	out := newGearingJSON(g)
	if from != nil {
		out.SpeedFrom = fmt.Sprintf("%s at %g ft of its next run, the mean of the last %s",
			from.Vehicle, from.At.Ft(), p.Show(units.Length, units.Some(66)))
		if from.LastRow > 0 && g.RPM > from.LastRow {
			past := fmt.Sprintf("%.0f rpm is past the last row of the dyno sheet, %.0f: what the engine makes there is not known",
				g.RPM, from.LastRow)
			out.Note = strings.TrimPrefix(out.Note+"; "+past, "; ")
		}
	}
	t := p.gearingTable(g)
	return p.Answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "%s\n\n", p.foundText(g))
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		if out.SpeedFrom != "" {
			p.Say(w, "speed", out.SpeedFrom)
		}
		if out.Note != "" {
			p.Say(w, "note", out.Note)
		}
		p.Say(w, "caution", out.Caution)
	})
}

func (p *Page) foundText(g crew.Geared) string {
	switch g.Found {
	case crew.EngineSpeed:
		return fmt.Sprintf("%.0f rpm", g.RPM)
	case crew.StripeSpeed:
		return p.Show(units.Speed, units.Some(g.MPH))
	case crew.TyreSize:
		return "a tire of " + p.Show(units.Diameter, units.Some(g.TyreIn))
	case crew.RearGear:
		return fmt.Sprintf("a rear gear of %.2f", g.Rear)
	}
	return fmt.Sprintf("%.1f %% slip", g.SlipPct)
}

func gearingNote(g crew.Geared) string {
	switch {
	case g.Found == crew.Slippage && g.SlipPct < 0:
		return "the car went farther than its tire turned: the tire has grown at speed, or a figure is wrong"
	case g.Found == crew.Slippage:
		return "converter, clutch and tire together; a tire that grows at speed hides some of it"
	case g.SlipPct == 0:
		return "no slip assumed: a converter loses 2 to 10 % at the stripe (common practice, no source); --slip sets it"
	}
	return ""
}

func (p *Page) gearingTable(g crew.Geared) table.Table {
	speed, tyre := "speed_"+p.Suffix(units.Speed), "tyre_"+p.Suffix(units.Diameter)
	t := table.Table{Columns: []table.Column{
		{Head: "rpm", Key: "rpm", Right: true},
		{Head: "speed", Key: speed, Right: true},
		{Head: "tire", Key: tyre, Right: true},
		{Head: "rear gear", Key: "rear_ratio", Right: true},
		{Head: "top gear", Key: "top_ratio", Right: true},
		{Head: "slip %", Key: "slip_pct", Right: true},
	}}
	t.AddCells(table.Cells{
		"rpm": fmt.Sprintf("%.0f", g.RPM), speed: p.Cell(units.Speed, units.Some(g.MPH)),
		tyre: p.Cell(units.Diameter, units.Some(g.TyreIn)), "rear_ratio": fmt.Sprintf("%.2f", g.Rear),
		"top_ratio": fmt.Sprintf("%.2f", g.Top), "slip_pct": fmt.Sprintf("%.1f", g.SlipPct),
	})
	return t
}
