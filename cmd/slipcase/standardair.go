package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

func (a *app) correctCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "correct",
		Short: "all runs as they would be in standard air",
		Long: `Lists all runs as they would be in standard air: sea level, {59 F, 29.92 inHg|15 C, 1013.25 hPa}, dry. Once by
what the vehicle's own runs, the later ones too, have shown of how the air works on it,
with the doubt of the correction; once by the usual formula, the cube root of the power
that the air leaves (SAE J1349, by aspiration).`,
		Example: "  slipcase correct --vehicle heron\n  slipcase correct --format csv",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.correctRuns),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	plotFlag(c)
	return c
}

func (a *app) correctRuns(c *cobra.Command, _ []string, lb *crew.Session) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	out, err := lb.StandardAir(vehicle)
	if err != nil {
		return err
	}
	if err := a.page.StandardAir(out); err != nil {
		return err
	}
	for _, cost := range out.Costs {
		if err := a.plot(c, lb, cost.Vehicle, "trend", anyRun); err != nil {
			return err
		}
	}
	return nil
}
