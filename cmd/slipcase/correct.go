package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) correctCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "correct",
		Short: "all runs as they would be in standard air",
		Long: `Lists all runs as they would be in standard air: sea level, 59 F, 29.92 inHg, dry. Times
go by the cube root of the power that the air leaves (SAE J1349, by aspiration); the 60 ft
time is grip's and stays.`,
		Example: "  slipcase correct --vehicle heron\n  slipcase correct --format csv",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.correctRuns),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	return c
}

// correctedJSON is a run in standard air; without air its standard_air is null.
type correctedJSON struct {
	ID                string       `json:"id"`
	Time              logbook.Time `json:"time"`
	Vehicle           string       `json:"vehicle"`
	Setup             string       `json:"setup"`
	FullPower         string       `json:"full_power,omitzero"`
	Measured          splitsJSON   `json:"measured"`
	StandardAir       *splitsJSON  `json:"standard_air"`
	DensityAltitudeFt units.Number `json:"density_altitude_ft"`
	AirHow            string       `json:"air_how"`
}

func (a *app) correctRuns(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	runs, err := lb.Runs(vehicle)
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
		{Head: "std " + units.Speed.Symbol(a.units), Key: "speed_standard_air_" + a.suffix(units.Speed), Right: true, Drop: 1},
		{Head: "full", Key: "full_power", Drop: 7},
	}}
	list := []correctedJSON{}
	airless := 0
	for _, r := range runs {
		j := judge(r, nil)
		out := correctedJSON{r.Slip.ID, r.Slip.Time, r.Slip.Vehicle, r.Setup.Name, r.Slip.FullPower, newSplitsJSON(j.pass.Splits), nil, j.standard, r.Air.How}
		row := []string{r.Slip.ID, a.stamp(r.Slip.Time.Time), r.Slip.Vehicle, r.Setup.Name, a.cell(units.Length, j.standard), "", "", "", "", "", r.Slip.FullPower}
		m, timed := j.pass.Splits.Finish()
		if timed {
			row[5] = fmt.Sprintf("%g", m.Ft())
			row[6], row[7] = seconds(j.pass.Splits.ETs[m]), a.speed(j.pass.Splits.MPHs[m])
		}
		if j.inAir {
			s := newSplitsJSON(j.corrected)
			out.StandardAir = &s
			if timed {
				row[8], row[9] = seconds(j.corrected.ETs[m]), a.speed(j.corrected.MPHs[m])
			}
		} else {
			airless++
		}
		list = append(list, out)
		t.Rows = append(t.Rows, row)
	}
	if airless > 0 {
		a.note("%d %s without air near enough in time: not corrected", airless, plural(airless, "run", "runs"))
	}
	return a.answer(list, t, nil)
}
