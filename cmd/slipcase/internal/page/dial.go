package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// dialJSON is the answer; chances are in percent.
type dialJSON struct {
	Vehicle     string        `json:"vehicle"`
	Track       string        `json:"track,omitzero"`
	Time        crew.Time     `json:"time"`
	DistanceFt  float64       `json:"distance_ft"`
	Class       string        `json:"class"`
	DialS       units.Number  `json:"dial_s,omitzero"`
	BreakoutPct units.Number  `json:"breakout_pct,omitzero"`
	WinPct      units.Number  `json:"win_pct,omitzero"`
	RiskPct     float64       `json:"risk_pct"`
	ETS         float64       `json:"et_s"`
	Low80S      float64       `json:"et_low80_s"`
	High80S     float64       `json:"et_high80_s"`
	SlowerS     units.Number  `json:"slower_for_risk_s,omitzero"` // every run, for the wanted risk at the index
	CarLengthS  units.Number  `json:"car_length_s,omitzero"`
	HeadStartS  units.Number  `json:"head_start_s,omitzero"` // the other lane leaves that much earlier
	Dials       []oneDialJSON `json:"dials"`
	Warnings    []string      `json:"warnings"`
}

type oneDialJSON struct {
	DialS       float64      `json:"dial_s"`
	BreakoutPct float64      `json:"breakout_pct"`
	WinPct      units.Number `json:"win_pct,omitzero"`
}

func (p *Page) newDialJSON(d crew.DialChoice) dialJSON {
	band, chosen := d.Forecast.ETs[d.Mark], newOneDialJSON(d.OneDial)
	out := dialJSON{
		Vehicle: d.Run.Vehicle.ID, Track: d.Run.Track.ID, Time: d.Run.Slip.Time, DistanceFt: d.Mark.Ft(),
		Class: string(d.Rules.Format), WinPct: chosen.WinPct, RiskPct: d.RiskPct,
		ETS: rounded(band.Centre, ToS), Low80S: rounded(band.Low80, ToS), High80S: rounded(band.High80, ToS),
		SlowerS: roundedNumber(d.SlowerS, ToS), CarLengthS: roundedNumber(d.CarLengthS, ToS),
		HeadStartS: roundedNumber(d.HeadStartS, ToS), Dials: []oneDialJSON{}, Warnings: append([]string{}, p.dialNotes(d)...),
	}
	if d.DialS > 0 {
		out.DialS, out.BreakoutPct = units.Some(d.DialS), units.Some(chosen.BreakoutPct)
	}
	for _, one := range d.Dials {
		out.Dials = append(out.Dials, newOneDialJSON(one))
	}
	return out
}

func newOneDialJSON(one crew.OneDial) oneDialJSON {
	win := one.Win
	if win.Known() {
		win = someRounded(100*win.Value(), ToPct)
	}
	return oneDialJSON{one.DialS, rounded(100*one.Breakout, ToPct), win}
}

// Dial tells the dial for the next round.
func (p *Page) Dial(d crew.DialChoice) error {
	out := p.newDialJSON(d)
	t := p.dialTable(out)
	return p.Answer(out, t, func(w io.Writer) { p.dialText(w, d, out, t) })
}

func (p *Page) dialTable(out dialJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "breaks out", Key: "breakout_pct", Right: true},
	}}
	wins := len(out.Dials) > 0 && out.Dials[0].WinPct.Known()
	if wins {
		t.Columns = append(t.Columns, table.Column{Head: "wins", Key: "win_pct", Right: true})
	}
	unit := " %"
	if p.Format == table.CSV {
		unit = ""
	}
	for _, one := range out.Dials {
		row := table.Cells{"dial_s": fmt.Sprintf("%.2f", one.DialS), "breakout_pct": fmt.Sprintf("%.0f%s", one.BreakoutPct, unit)}
		if wins {
			row["win_pct"] = fmt.Sprintf("%.0f%s", one.WinPct.Value(), unit)
		}
		t.AddCells(row)
	}
	return t
}

func (p *Page) dialText(w io.Writer, d crew.DialChoice, out dialJSON, t table.Table) {
	fmt.Fprintln(w, dialHead(d, out))
	fmt.Fprintf(w, "%s at %s, %s\n\n", d.Run.Vehicle.Name(), OrDash(d.Run.Track.Name()), When(d.Run.Slip.Time.Time))
	p.Say(w, "forecast", fmt.Sprintf("%.3f at %g ft (%.2f to %.2f, 8 runs in 10)", out.ETS, out.DistanceFt, out.Low80S, out.High80S))
	p.Say(w, "air", Air(d.Run.Air, p.Units))
	if out.CarLengthS.Known() {
		p.Say(w, "a car length", fmt.Sprintf("%s at the finish is %.3f s", p.Show(units.Length, units.Some(d.LengthFt)), out.CarLengthS.Value()))
	}
	if d.Rival != nil {
		p.rivalText(w, d, out)
	}
	if len(out.Dials) > 1 {
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
	}
	if len(out.Warnings) > 0 {
		fmt.Fprintln(w)
	}
	for _, n := range out.Warnings {
		p.Say(w, "note", n)
	}
}

func dialHead(d crew.DialChoice, out dialJSON) string {
	switch breaks := fmt.Sprintf("%.2f: breaks out %.0f times in 100", out.DialS.Value(), out.BreakoutPct.Value()); {
	case d.Rules.Format == crew.HeadsUp && out.WinPct.Known():
		return fmt.Sprintf("heads-up: wins %.0f times in 100", out.WinPct.Value())
	case d.Rules.Format == crew.HeadsUp:
		return `heads-up: no dial; --opponent "reaction .042 et 12.43" tells the chance to win`
	case d.Rules.Format == crew.Index && out.SlowerS.Value() > 0:
		return fmt.Sprintf("index %s; %.3f s slower makes it %g", breaks, out.SlowerS.Value(), out.RiskPct)
	case d.Rules.Format == crew.Index:
		return "index " + breaks
	case out.WinPct.Known():
		return fmt.Sprintf("dial %s, wins %.0f", breaks, out.WinPct.Value())
	default:
		return "dial " + breaks
	}
}
