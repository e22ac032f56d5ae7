package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/counts"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// registerFormula gives forecast the flags of a machine that no log knows.
func registerFormula(c *cobra.Command) {
	quantityFlag(c, "weight", units.Weight, "ready to run, with driver or rider, as {3450lb|1565kg}")
	quantityFlag(c, "power", units.Power, "as {312hp|233kW}")
	keywordFlag(c, "power-at", "wheels", "where it was measured: wheels or clutch", "wheels", "clutch")
	standardFlag(c, "what the power is corrected to: sae, standard, din or none")
	quantityFlag(c, "loss", units.Percent, "driveline loss in percent; by kind and drive when left out")
	keywordFlag(c, "kind", "car", "car or motorcycle", "car", "motorcycle")
	keywordFlag(c, "aspiration", "natural", "natural, supercharged or turbocharged",
		"natural", "supercharged", "turbocharged")
	keywordFlag(c, "drive", "rear", "rear, front or all", "rear", "front", "all")
	quantityFlag(c, "et", units.Seconds, "a quarter-mile time, to get the power from; with the air of the run, corrected")
	quantityFlag(c, "mph", units.Speed, "a quarter-mile speed, to get the power from")
	quantityFlag(c, "elevation", units.Length, "with --weight: of the track, for --altimeter or --sea-level")
}

// formulaMachine reads weight and power flags as one machine, and what its driveline loses.
func formulaMachine(c *cobra.Command) (m predict.Machine, lossPct units.Number, err error) {
	word := func(flag string) string { w, _ := c.Flags().GetString(flag); return w }
	m = predict.Machine{
		WeightLb: quantityOf(c, "weight"), PowerHP: quantityOf(c, "power"),
		PowerAt: predict.Place(word("power-at")), Standard: predict.Standard(word("standard")),
		Kind:       predict.Kind(word("kind")),
		Aspiration: predict.Aspiration(word("aspiration")), Drive: predict.Drive(word("drive")),
	}
	lossPct = quantityOf(c, "loss")
	return m, lossPct, usage(counts.Share("loss", c.Flag("loss").Value.String(), lossPct.Value()))
}

// formulaAir is the air of the flags, and refuses those that want it.
func (a *app) formulaAir(c *cobra.Command) (*crew.Estimate, error) {
	if err := counts.Idle(c, "the air, as --temp, --rh and --station,", airFlags(), "elevation", "aspiration", "standard"); err != nil {
		return nil, usage(err)
	}
	return a.airGiven(c, logbook.Track{ElevationFt: quantityOf(c, "elevation")}, nil)
}

func (a *app) forecastFormula(c *cobra.Command) error {
	m, lossPct, err := formulaMachine(c)
	if err != nil {
		return err
	}
	if !m.PowerHP.Known() {
		return usagef("--power is missing: want power such as {312hp|233kW}, or --et or --mph to get the power from")
	}
	air, err := a.formulaAir(c)
	if err != nil {
		return err
	}
	ask := crew.FormulaAsk{Machine: m, LossPct: lossPct, Air: air, AspirationSaid: c.Flags().Changed("aspiration")}
	f, err := crew.Formulas(ask)
	if err != nil {
		return err
	}
	return a.page.Formulas(f)
}

// impliedPower goes from a time or a speed back to power, by each formula.
func (a *app) impliedPower(c *cobra.Command) error {
	m, lossPct, err := formulaMachine(c)
	if err != nil {
		return err
	}
	air, err := a.formulaAir(c)
	if err != nil {
		return err
	}
	implied, err := crew.Implies(crew.ImpliedAsk{
		Machine: m, LossPct: lossPct, ET: quantityOf(c, "et"), MPH: quantityOf(c, "mph"), Air: air,
	})
	if err != nil {
		return err
	}
	return a.page.ImpliedPower(implied)
}
