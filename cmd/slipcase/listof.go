package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
)

// listOf makes a command that lists entries of a kind, of one vehicle or of all.
func listOf[T any](a *app, short, example string, of func(lb *crew.Session, vehicle string) ([]T, error),
	show func(p *page.Page, all []T) error,
) *cobra.Command {
	c := &cobra.Command{
		Use: "list", Short: short, Args: cobra.NoArgs, Example: example,
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			vehicle, err := vehicleFlag(c, lb)
			if err != nil {
				return err
			}
			all, err := of(lb, vehicle)
			if err != nil {
				return err
			}
			return show(a.page, all)
		}),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	return c
}
