package main

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// dialJSON is the answer; chances are in percent.
type dialJSON struct {
	Vehicle     string       `json:"vehicle"`
	Track       string       `json:"track,omitzero"`
	Time        logbook.Time `json:"time"`
	DistanceFt  float64      `json:"distance_ft"`
	Class       string       `json:"class"`
	DialS       units.Number `json:"dial_s,omitzero"`
	BreakoutPct units.Number `json:"breakout_pct,omitzero"`
	WinPct      units.Number `json:"win_pct,omitzero"`
	RiskPct     float64      `json:"risk_pct"`
	ETS         float64      `json:"et_s"`
	Low80S      float64      `json:"et_low_80_s"`
	High80S     float64      `json:"et_high_80_s"`
	SlowerS     units.Number `json:"slower_for_risk_s,omitzero"` // every run, for the wanted risk at the index
	CarLengthS  units.Number `json:"car_length_s,omitzero"`
	HeadStartS  units.Number `json:"head_start_s,omitzero"` // the other lane leaves that much earlier
	Dials       []oneDial    `json:"dials"`
	Warnings    []string     `json:"warnings"`
}

type oneDial struct {
	DialS       float64      `json:"dial_s"`
	BreakoutPct float64      `json:"breakout_pct"`
	WinPct      units.Number `json:"win_pct,omitzero"`
}

func (a *app) dialTable(out dialJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "breaks out", Key: "breakout_pct", Right: true},
	}}
	wins := len(out.Dials) > 0 && out.Dials[0].WinPct.Known()
	if wins {
		t.Columns = append(t.Columns, table.Column{Head: "wins", Key: "win_pct", Right: true})
	}
	unit := " %"
	if a.format == table.CSV {
		unit = ""
	}
	for _, one := range out.Dials {
		row := []string{fmt.Sprintf("%.2f", one.DialS), fmt.Sprintf("%.0f%s", one.BreakoutPct, unit)}
		if wins {
			row = append(row, fmt.Sprintf("%.0f%s", one.WinPct.Value(), unit))
		}
		t.Add(row...)
	}
	return t
}

func (a *app) dialText(w io.Writer, d *dialling, out dialJSON) {
	switch d.rules.Format {
	case predict.HeadsUp:
		if out.WinPct.Known() {
			fmt.Fprintf(w, "heads-up: wins %.0f times in 100\n", out.WinPct.Value())
		} else {
			fmt.Fprintf(w, "heads-up: no dial; --opponent \"reaction .042 et 12.43\" tells the chance to win\n")
		}
	case predict.Index:
		fmt.Fprintf(w, "index %.2f: breaks out %.0f times in 100", out.DialS.Value(), out.BreakoutPct.Value())
		if out.SlowerS.Value() > 0 {
			fmt.Fprintf(w, "; %.3f s slower makes it %g", out.SlowerS.Value(), out.RiskPct)
		}
		fmt.Fprintln(w)
	default:
		fmt.Fprintf(w, "dial %.2f: breaks out %.0f times in 100", out.DialS.Value(), out.BreakoutPct.Value())
		if out.WinPct.Known() {
			fmt.Fprintf(w, ", wins %.0f", out.WinPct.Value())
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "%s at %s, %s\n\n", d.run.Vehicle.Name(), orDash(d.run.Track.Name()), when(d.run.Slip.Time.Time))
	a.say(w, "forecast", fmt.Sprintf("%.3f at %g ft (%.2f to %.2f, 8 runs in 10)", out.ETS, out.DistanceFt, out.Low80S, out.High80S))
	a.say(w, "air", page.Air(d.run.Air, a.units))
	if out.CarLengthS.Known() {
		a.say(w, "a car length", fmt.Sprintf("%s at the finish is %.3f s", a.show(units.Length, units.Some(d.lengthFt())), out.CarLengthS.Value()))
	}
	if d.rival != nil {
		a.rivalText(w, d, out)
	}
	if len(out.Dials) > 1 {
		fmt.Fprintln(w)
		a.dialTable(out).Render(w, table.Text, a.width())
	}
	if len(d.notes) > 0 {
		fmt.Fprintln(w)
	}
	for _, n := range d.notes {
		a.say(w, "note", n)
	}
}
