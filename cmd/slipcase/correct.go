package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) correctCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "correct",
		Short: "all runs as they would be in standard air",
		Long: `Lists all runs as they would be in standard air: sea level, 59 F, 29.92 inHg, dry. Once by
what the vehicle's own runs, the later ones too, have shown of how the air works on it,
with the doubt of the correction; once by the usual formula, the cube root of the power
that the air leaves (SAE J1349, by aspiration).`,
		Example: "  slipcase correct --vehicle heron\n  slipcase correct --format csv",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.correctRuns),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	return c
}

// correctedJSON is a run in standard air; without air both forms are null.
type correctedJSON struct {
	ID                string           `json:"id"`
	Time              logbook.Time     `json:"time"`
	Vehicle           string           `json:"vehicle"`
	Setup             string           `json:"setup"`
	FullPower         string           `json:"full_power,omitzero"`
	Measured          *page.SplitsJSON `json:"measured"`
	StandardAir       *page.SplitsJSON `json:"standard_air"`
	DoubtS            units.Number     `json:"standard_air_doubt_s"` // half the 80 % interval at the farthest time
	ByFormula         *page.SplitsJSON `json:"standard_air_by_formula"`
	DensityAltitudeFt units.Number     `json:"density_altitude_ft"`
	AirHow            string           `json:"air_how"`
}

func (a *app) correctRuns(c *cobra.Command, _ []string, lb *crew.Session) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	runs, err := lb.Runs(vehicle)
	if err != nil {
		return err
	}
	correctors, err := learnAir(runs)
	if err != nil {
		return err
	}
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 6},
		{Head: "time", Key: "time"},
		{Head: "vehicle", Key: "vehicle", Drop: 5},
		{Head: "setup", Key: "setup", Drop: 4},
		{Head: "density alt", Key: "density_altitude_" + a.suffix(units.Length), Right: true},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 3},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + a.suffix(units.Speed), Right: true, Drop: 2},
		{Head: "std ET", Key: "et_standard_air_s", Right: true},
		{Head: "+/-", Key: "et_standard_air_doubt_s", Right: true},
		{Head: "formula", Key: "et_standard_air_by_formula_s", Right: true, Drop: 1},
		{Head: "std " + units.Speed.Symbol(a.units), Key: "speed_standard_air_" + a.suffix(units.Speed), Right: true, Drop: 2},
		{Head: "full", Key: "full_power", Drop: 7},
	}}
	list := []correctedJSON{}
	airless := 0
	for _, r := range runs {
		out, row := a.correctOne(r, correctors[r.Slip.Vehicle])
		j := crew.Judged{Run: r, Pass: crew.PassOf(r)}
		j.LeaveOut(correctors[r.Slip.Vehicle].LeftOut())
		row[len(row)-1] = page.FullWord(&j)
		if out.StandardAir == nil {
			airless++
		}
		list = append(list, out)
		t.Rows = append(t.Rows, row)
	}
	if airless > 0 {
		a.note("%d %s without air near enough in time: not corrected", airless, plural(airless, "run", "runs"))
	}
	return a.answer(list, t, func(w io.Writer) {
		if len(list) == 0 {
			fmt.Fprintln(w, "none recorded yet")
			return
		}
		t.Render(w, table.Text, a.width())
		for _, v := range vehiclesOf(runs) {
			multiple, doubt := correctors[v].Law()
			fmt.Fprintf(w, "the air works on the power of %s %.2f times as the textbook says, give or take %.2f\n", v, multiple, doubt)
		}
	})
}

// learnAir makes the corrector of each vehicle from all its runs.
func learnAir(runs []logbook.Run) (map[string]*predict.Corrector, error) {
	passes := map[string][]predict.Pass{}
	for _, r := range runs {
		passes[r.Slip.Vehicle] = append(passes[r.Slip.Vehicle], crew.PassOf(r))
	}
	correctors := map[string]*predict.Corrector{}
	for v, ps := range passes {
		var err error
		if correctors[v], err = predict.NewCorrector(ps); err != nil {
			return nil, fmt.Errorf("%s: %w", v, err)
		}
	}
	return correctors, nil
}

// vehiclesOf names the vehicles of runs in the order they come.
func vehiclesOf(runs []logbook.Run) []string {
	var names []string
	seen := map[string]bool{}
	for _, r := range runs {
		if !seen[r.Slip.Vehicle] {
			seen[r.Slip.Vehicle] = true
			names = append(names, r.Slip.Vehicle)
		}
	}
	return names
}

// correctOne is one run's JSON and its row.
func (a *app) correctOne(r logbook.Run, by *predict.Corrector) (correctedJSON, []string) {
	p := crew.PassOf(r)
	da := crew.DensityAltitude(r)
	out := correctedJSON{
		ID: r.Slip.ID, Time: r.Slip.Time, Vehicle: r.Slip.Vehicle, Setup: r.Setup.Name, FullPower: r.Slip.FullPower,
		Measured: page.NewSplitsJSON(p.Splits), DensityAltitudeFt: roundedNumber(da, page.ToFt), AirHow: page.AirHow(r.Air.How),
	}
	row := []string{r.Slip.ID, a.stamp(r.Slip.Time.Time), r.Slip.Vehicle, r.Setup.Name, a.cell(units.Length, da), "", "", "", "", "", "", "", r.Slip.FullPower}
	m, timed := p.Splits.Finish()
	if timed {
		row[5] = fmt.Sprintf("%g", m.Ft())
		row[6], row[7] = seconds(p.Splits.ETs[m]), a.speed(p.Splits.MPHs[m])
	}
	corrected, known := by.Correct(p)
	if !known || !r.Air.Known {
		return out, row
	}
	own := crew.InStandardAir(corrected)
	s, f := page.NewSplitsJSON(own), page.NewSplitsJSON(corrected.Formula)
	out.StandardAir, out.ByFormula = s, f
	if timed {
		doubt := units.Some((corrected.ETs[m].High80 - corrected.ETs[m].Low80) / 2)
		out.DoubtS = roundedNumber(doubt, page.ToS)
		row[8], row[9], row[10], row[11] = seconds(own.ETs[m]), seconds(doubt), seconds(corrected.Formula.ETs[m]), a.speed(own.MPHs[m])
	}
	return out, row
}
