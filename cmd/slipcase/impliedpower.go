package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

// impliedPower goes from a time or a speed back to power, by each formula.
func (a *app) impliedPower(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return usage(err)
	}
	et, err := numberFlag(c, "et", units.Seconds)
	if err != nil {
		return err
	}
	mph, err := numberFlag(c, "mph", units.Speed)
	if err != nil {
		return err
	}
	type implied struct {
		Name        string       `json:"name"`
		ClutchByET  units.Number `json:"power_clutch_by_et_hp,omitzero"`
		WheelsByET  units.Number `json:"power_wheels_by_et_hp,omitzero"`
		ClutchByMPH units.Number `json:"power_clutch_by_mph_hp,omitzero"`
		WheelsByMPH units.Number `json:"power_wheels_by_mph_hp,omitzero"`
	}
	out := struct {
		Formulas []implied `json:"formulas"`
		LossPct  float64   `json:"loss_pct"`
		Says     string    `json:"says,omitzero"`
	}{LossPct: 100 * loss}
	hp := a.suffix(units.Power)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "by ET: clutch", Key: "power_clutch_by_et_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_et_" + hp, Right: true},
		{Head: "by speed: clutch", Key: "power_clutch_by_mph_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_mph_" + hp, Right: true},
	}}
	for _, f := range predict.Formulas {
		one := implied{Name: strings.ToLower(f.Name)}
		if et.Known() {
			p, err := f.PowerFromET(predict.At1320, m.WeightLb.Value(), et.Value())
			if err != nil {
				return usage(err)
			}
			one.ClutchByET, one.WheelsByET = units.Some(p), units.Some(predict.ToWheels(p, loss))
		}
		if mph.Known() {
			p, err := f.PowerFromMPH(predict.At1320, m.WeightLb.Value(), mph.Value())
			if err != nil {
				return usage(err)
			}
			one.ClutchByMPH, one.WheelsByMPH = units.Some(p), units.Some(predict.ToWheels(p, loss))
		}
		out.Formulas = append(out.Formulas, one)
		t.Add(f.Name, a.cell(units.Power, one.ClutchByET), a.cell(units.Power, one.WheelsByET), a.cell(units.Power, one.ClutchByMPH), a.cell(units.Power, one.WheelsByMPH))
	}
	if et.Known() && mph.Known() {
		i, err := predict.ImpliedPower(predict.Fox, predict.At1320, m.WeightLb.Value(), et.Value(), mph.Value())
		if err != nil {
			return usage(err)
		}
		out.Says = i.Says(units.Number{})
	}
	return a.answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "power that moved %s, in the air of the run\n%.0f %% driveline loss taken: --loss\n\n", a.show(units.Weight, m.WeightLb), 100*loss)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "give or take", fmt.Sprintf("%.0f %%: power goes as the cube of the time", 300*predict.Doubt))
		if out.Says != "" {
			a.say(w, "by "+predict.Fox.Name, out.Says)
		}
	})
}
