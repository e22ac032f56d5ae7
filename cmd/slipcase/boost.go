package main

import (
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) boostCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "boost [PRESSURE]",
		Short: "what boost makes of the power, and how much of a claimed gain it explains",
		Long: `Works out how much denser a blower or turbo makes the air, what driving it costs, and the
power that is left: as a multiple of the power there is now, in the air given, in standard
air without. A turbo's pressure ratio rises where the air is thin, a blower's does not.
With --claim it says how much of a gain boost can explain. Nothing is recorded: plan add
takes the same flags.`,
		Example: `  slipcase boost 6psi --blower roots
  slipcase boost 6psi --blower roots --claim 50%
  slipcase boost --boost-now 6psi --pulley 1.1 --blower roots
  slipcase boost 8psi --blower turbo --held absolute --intercooler 70 --temp 75F --rh 30 --station 24.9inHg`,
		Args: cobra.MaximumNArgs(1), RunE: do(a.showBoost),
	}
	registerBoost(c)
	c.Flags().String("claim", "", "a gain that was claimed, as 50%, to be explained")
	return c
}

func (a *app) showBoost(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		if c.Flags().Changed("boost") {
			return usagef("%s and --boost: want one of them", args[0])
		}
		if err := c.Flags().Set("boost", args[0]); err != nil {
			return usage(err)
		}
	}
	if !anyChanged(c, "boost", "pulley") {
		return usagef("the boost is missing: want it as 6psi or 0.4bar, or --boost-now with --pulley")
	}
	claim, err := numberFlag(c, "claim", units.Percent)
	if err != nil {
		return err
	}
	if claim.Known() && !(claim.Value() > 0 && claim.Value() <= 400) {
		return usagef("--claim %s: want more than 0 and up to 400 percent", claim)
	}
	out, charge, err := a.workBoost(c)
	if err != nil {
		return err
	}
	if claim.Known() {
		out.Explains = page.Explained(charge.Explains(1 + claim.Value()/100))
	}
	a.aside(out.Cautions)
	return a.answer(out, boostTable(*out), func(w io.Writer) {
		a.boostText(w, *out)
		gain := func(ratio float64) float64 { return 100 * (ratio - 1) }
		if math.Abs(gain(out.Power.Likely)) < 0.5 {
			return
		}
		fmt.Fprintf(w, "  next, what that buys   slipcase forecast --vehicle NAME --gain %.0f/%.0f/%.0f%%\n",
			gain(out.Power.Low), gain(out.Power.Likely), gain(out.Power.High))
	})
}

func boostTable(b boostJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "ratio", Key: "ratio"},
		{Head: "likely", Key: "likely", Right: true},
		{Head: "8 in 10 from", Key: "low80", Right: true},
		{Head: "to", Key: "high80", Right: true},
	}}
	for _, r := range []struct {
		of string
		is predict.Range
	}{{"density", b.Density}, {"power", b.Power}} {
		t.Add(r.of, fmt.Sprintf("%.3f", r.is.Likely), fmt.Sprintf("%.3f", r.is.Low), fmt.Sprintf("%.3f", r.is.High))
	}
	return t
}
