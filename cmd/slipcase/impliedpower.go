package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
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

func (i impliedJSON) rounded() impliedJSON {
	for _, n := range []*units.Number{&i.ClutchByET, &i.WheelsByET, &i.ClutchByMPH, &i.WheelsByMPH} {
		*n = roundedNumber(*n, page.ToHP)
	}
	return i
}

// shownRun is a run of which the power is asked.
type shownRun struct {
	weightLb float64
	et, mph  units.Number
	loss     float64 // between clutch and wheels, 0 to 1
}

// impliedPower goes from a time or a speed back to power, by each formula.
func (a *app) impliedPower(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return usage(err)
	}
	run := shownRun{weightLb: m.WeightLb.Value(), loss: loss}
	if run.et, err = numberFlag(c, "et", units.Seconds); err != nil {
		return err
	}
	if run.mph, err = numberFlag(c, "mph", units.Speed); err != nil {
		return err
	}
	out := struct {
		Formulas []impliedJSON `json:"formulas"`
		LossPct  float64       `json:"loss_pct"`
		Says     string        `json:"says,omitzero"`
	}{LossPct: 100 * loss}
	t := a.impliedTable()
	for _, f := range predict.Formulas {
		one, err := run.by(f)
		if err != nil {
			return usage(err)
		}
		out.Formulas = append(out.Formulas, one.rounded())
		t.Add(f.Name, a.cell(units.Power, one.ClutchByET), a.cell(units.Power, one.WheelsByET), a.cell(units.Power, one.ClutchByMPH), a.cell(units.Power, one.WheelsByMPH))
	}
	if run.et.Known() && run.mph.Known() {
		i, err := predict.ImpliedPower(predict.Fox, predict.At1320, run.weightLb, run.et.Value(), run.mph.Value())
		if err != nil {
			return usage(err)
		}
		out.Says = page.Gap(i.Gap(units.Number{}))
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

func (a *app) impliedTable() table.Table {
	hp := a.suffix(units.Power)
	return table.Table{Columns: []table.Column{
		{Head: "", Key: "formula"},
		{Head: "by ET: clutch", Key: "power_clutch_by_et_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_et_" + hp, Right: true},
		{Head: "by speed: clutch", Key: "power_clutch_by_mph_" + hp, Right: true},
		{Head: "wheels", Key: "power_wheels_by_mph_" + hp, Right: true},
	}}
}

// by is the power of the run by one formula.
func (r shownRun) by(f predict.Formula) (impliedJSON, error) {
	out := impliedJSON{Name: strings.ToLower(f.Name)}
	for _, from := range []struct {
		figure         units.Number
		power          func(m predict.Mark, weightLb, figure float64) (float64, error)
		clutch, wheels *units.Number
	}{
		{r.et, f.PowerFromET, &out.ClutchByET, &out.WheelsByET},
		{r.mph, f.PowerFromMPH, &out.ClutchByMPH, &out.WheelsByMPH},
	} {
		if !from.figure.Known() {
			continue
		}
		hp, err := from.power(predict.At1320, r.weightLb, from.figure.Value())
		if err != nil {
			return out, err
		}
		*from.clutch, *from.wheels = units.Some(hp), units.Some(predict.ToWheels(hp, r.loss))
	}
	return out, nil
}
