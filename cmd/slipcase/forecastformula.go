package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// formulaMachine reads weight and power flags as one machine.
func formulaMachine(c *cobra.Command) (m predict.Machine, loss float64, err error) {
	if m.WeightLb, err = numberFlag(c, "weight", units.Weight); err != nil {
		return m, 0, err
	}
	if m.PowerHP, err = numberFlag(c, "power", units.Power); err != nil {
		return m, 0, err
	}
	for _, w := range []struct {
		flag string
		at   *string
		any  []string
	}{
		{"power-at", (*string)(&m.PowerAt), []string{"wheels", "clutch"}},
		{"standard", (*string)(&m.Standard), []string{"sae", "standard", "din", "none", ""}},
		{"kind", (*string)(&m.Kind), []string{"car", "motorcycle"}},
		{"aspiration", (*string)(&m.Aspiration), []string{"natural", "supercharged", "turbocharged"}},
		{"drive", (*string)(&m.Drive), []string{"rear", "front", "all"}},
	} {
		if *w.at, err = oneOf(c, w.flag, w.any...); err != nil {
			return m, 0, err
		}
	}
	loss = predict.DefaultLoss(m.Kind, m.Drive)
	given, err := numberFlag(c, "loss", units.Percent)
	if err != nil {
		return m, 0, err
	}
	if given.Known() {
		if v := given.Value(); v < 0 || v >= 60 {
			return m, 0, usagef("--loss %v: want 0 to under 60 percent", v)
		}
		loss = given.Value() / 100
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return m, 0, usage(err)
	}
	return m, loss, nil
}

func (a *app) forecastFormula(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if !m.PowerHP.Known() {
		return usagef("--power is missing: want power such as 312hp, or --et or --mph to get the power from")
	}
	air, err := a.givenAir(c)
	if err != nil {
		return err
	}
	ask := crew.FormulaAsk{Machine: m, Loss: loss, Air: air, AspirationSaid: c.Flags().Changed("aspiration")}
	f, err := crew.Formulas(ask)
	if err != nil {
		return err
	}
	return a.page.Formulas(f, a.machineDoubts(m))
}

// impliedPower goes from a time or a speed back to power, by each formula.
func (a *app) impliedPower(c *cobra.Command) error {
	m, loss, err := formulaMachine(c)
	if err != nil {
		return err
	}
	run := crew.ImpliedAsk{WeightLb: m.WeightLb.Value(), Loss: loss}
	if run.ET, err = numberFlag(c, "et", units.Seconds); err != nil {
		return err
	}
	if run.MPH, err = numberFlag(c, "mph", units.Speed); err != nil {
		return err
	}
	implied, err := crew.Implies(run)
	if err != nil {
		return err
	}
	return a.page.ImpliedPower(implied)
}

// givenAir is the air of the flags of a command, nil without any.
func (a *app) givenAir(c *cobra.Command) (*weather.Estimate, error) {
	elevation, err := numberFlag(c, "elevation", units.Length)
	if err != nil {
		return nil, err
	}
	return a.airGiven(c, logbook.Track{ElevationFt: elevation})
}
