package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// correctedJSON is a run in standard air; without air both forms are null.
type correctedJSON struct {
	ID                string       `json:"id"`
	Time              crew.Time    `json:"time"`
	Vehicle           string       `json:"vehicle"`
	Setup             string       `json:"setup"`
	FullPower         string       `json:"full_power,omitzero"`
	Measured          *splitsJSON  `json:"measured"`
	StandardAir       *splitsJSON  `json:"standard_air"`
	DoubtS            units.Number `json:"standard_air_doubt_s"` // half the 80 % interval at the farthest time
	ByFormula         *splitsJSON  `json:"standard_air_by_formula"`
	DensityAltitudeFt units.Number `json:"density_altitude_ft"`
	AirHow            string       `json:"air_how"`
	Per1000Ft         []costJSON   `json:"per_1000_ft"` // what they cost this vehicle, at the distances timed
}

// StandardAir lists runs as they would be in standard air.
func (p *Page) StandardAir(s crew.Standardized) error {
	list := []correctedJSON{}
	var doubted []crew.LeftOut
	for _, r := range s.Runs {
		if r.Doubted != nil {
			doubted = append(doubted, *r.Doubted)
		}
		one := newCorrectedJSON(r)
		one.Per1000Ft = newCostsJSON(s.CostOf(r.Run), r.Timed())
		list = append(list, one)
	}
	if n := s.Airless; n > 0 {
		p.Note("%d %s without air near enough in time: not corrected", n, Plural(n, "run", "runs"))
	}
	p.doubted(doubted)
	t := p.standardTable(s.Runs)
	return p.Answer(list, t, func(w io.Writer) {
		if len(list) == 0 {
			fmt.Fprintln(w, "none recorded yet")
			return
		}
		t.Render(w, table.Text, p.Width())
		for _, c := range s.Costs {
			p.Wrap(w, p.Cost(c.Vehicle, c.ThousandFt, c.Mark))
		}
	})
}

func newCorrectedJSON(r crew.StandardRun) correctedJSON {
	s := r.Run.Slip
	out := correctedJSON{
		ID: s.ID, Time: s.Time, Vehicle: s.Vehicle, Setup: r.Run.Setup.Name, FullPower: s.FullPower,
		Measured: newSplitsJSON(r.Measured), DensityAltitudeFt: roundedNumber(crew.DensityAltitude(r.Run), ToFt),
		AirHow: AirHow(r.Run.Air.How),
	}
	if r.InAir {
		own, formula := newSplitsJSON(r.Own), newSplitsJSON(r.Formula)
		out.StandardAir, out.ByFormula, out.DoubtS = own, formula, roundedNumber(r.DoubtS, ToS)
	}
	return out
}

func (p *Page) standardTable(runs []crew.StandardRun) table.Table {
	da, mph := "density_altitude_"+p.Suffix(units.Length), p.Suffix(units.Speed)
	speed := units.Speed.Symbol(p.Units)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 6},
		{Head: "time", Key: "time"},
		{Head: "vehicle", Key: "vehicle", Drop: 5},
		{Head: "setup", Key: "setup", Drop: 4},
		{Head: "density alt", Key: da, Right: true},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 3},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: speed, Key: "speed_" + mph, Right: true, Drop: 2},
		{Head: "std ET", Key: "et_standard_air_s", Right: true},
		{Head: "+/-", Key: "et_standard_air_doubt_s", Right: true},
		{Head: "formula", Key: "et_standard_air_by_formula_s", Right: true, Drop: 1},
		{Head: "std " + speed, Key: "speed_standard_air_" + mph, Right: true, Drop: 2},
		{Head: "full", Key: "full_power", Drop: 7},
	}}
	for _, r := range runs {
		s := r.Run.Slip
		row := table.Cells{
			"id": s.ID, "time": p.Stamp(s.Time.Time), "vehicle": s.Vehicle, "setup": r.Run.Setup.Name,
			da: p.Cell(units.Length, crew.DensityAltitude(r.Run)), "full_power": s.FullPower,
		}
		if r.Doubted != nil {
			row["full_power"] = "doubted"
		}
		if m, timed := r.Measured.Finish(); timed {
			row["distance_ft"] = fmt.Sprintf("%g", m.Ft())
			row["et_s"], row["speed_"+mph] = Seconds(r.Measured.ETs[m]), p.Speed(r.Measured.MPHs[m])
			row["et_standard_air_s"], row["speed_standard_air_"+mph] = Seconds(r.Own.ETs[m]), p.Speed(r.Own.MPHs[m])
			row["et_standard_air_doubt_s"], row["et_standard_air_by_formula_s"] = Seconds(r.DoubtS), Seconds(r.Formula.ETs[m])
		}
		t.AddCells(row)
	}
	return t
}
