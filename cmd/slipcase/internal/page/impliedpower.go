package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// impliedJSON is the power that one formula gives, by the time and by the speed.
type impliedJSON struct {
	Name        string       `json:"name"`
	ClutchByET  units.Number `json:"power_clutch_by_et_hp,omitzero"`
	WheelsByET  units.Number `json:"power_wheels_by_et_hp,omitzero"`
	ClutchByMPH units.Number `json:"power_clutch_by_mph_hp,omitzero"`
	WheelsByMPH units.Number `json:"power_wheels_by_mph_hp,omitzero"`
}

type impliedPowerJSON struct {
	Formulas []impliedJSON `json:"formulas"`
	LossPct  float64       `json:"loss_pct"`
	Says     string        `json:"says,omitzero"`
}

// ImpliedPower tells the power that moved a run.
func (p *Page) ImpliedPower(i crew.ImpliedPower) error {
	out := impliedPowerJSON{LossPct: 100 * i.Ask.Loss, Says: i.Says}
	hp := func(n units.Number) units.Number { return roundedNumber(n, ToHP) }
	for _, f := range i.Formulas {
		out.Formulas = append(out.Formulas, impliedJSON{
			strings.ToLower(f.Name), hp(f.ClutchByET), hp(f.WheelsByET), hp(f.ClutchByMPH), hp(f.WheelsByMPH),
		})
	}
	t := p.impliedTable(i.Formulas)
	return p.Answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "power that moved %s, in the air of the run\n%.0f %% driveline loss taken: --loss\n\n",
			p.Show(units.Weight, units.Some(i.Ask.WeightLb)), out.LossPct)
		t.Render(w, table.Text, p.width())
		fmt.Fprintln(w)
		p.Say(w, "give or take", fmt.Sprintf("%.0f %%: power goes as the cube of the time", 300*crew.FormulaDoubt))
		if out.Says != "" {
			p.Say(w, "by Fox", out.Says)
		}
	})
}

func (p *Page) impliedTable(fs []crew.Implied) table.Table {
	hp := p.Suffix(units.Power)
	key := func(at, by string) string { return "power_" + at + "_by_" + by + "_" + hp }
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "by ET: clutch", Key: key("clutch", "et"), Right: true},
		{Head: "wheels", Key: key("wheels", "et"), Right: true},
		{Head: "by speed: clutch", Key: key("clutch", "mph"), Right: true},
		{Head: "wheels", Key: key("wheels", "mph"), Right: true},
	}}
	for _, f := range fs {
		t.AddCells(table.Cells{
			"formula":            f.Name,
			key("clutch", "et"):  p.Cell(units.Power, f.ClutchByET),
			key("wheels", "et"):  p.Cell(units.Power, f.WheelsByET),
			key("clutch", "mph"): p.Cell(units.Power, f.ClutchByMPH),
			key("wheels", "mph"): p.Cell(units.Power, f.WheelsByMPH),
		})
	}
	return t
}
