package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) compareCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "two setups of a vehicle in the same air: did the change work",
		Long: `Compares two setups by their runs alone, both in the same air: what B is quicker by, how
sure that is, and what it would take to tell. "~" means that noise explains it. Days are
the unit: the luck of a day does not average away within it.`,
		Example: `  slipcase compare stock bigger-carb --vehicle heron
  slipcase compare stock bigger-carb --vehicle heron --by 0.05`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("%d setups named: want two, as slipcase compare stock bigger-carb", len(args))
			}
			return nil
		},
		RunE: a.reads(a.compare),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	quantityFlag(c, "by", units.Seconds, "an amount, as 0.05s: how likely is B quicker by that much")
	return c
}

func (a *app) compare(c *cobra.Command, args []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	by := quantityOf(c, "by")
	if by.Value() < 0 {
		return usagef("--by %v: want seconds, 0 or more", by)
	}
	setups, err := twoSetups(lb, v, args)
	if err != nil {
		return err
	}
	told, err := lb.Compare(setups, by)
	if err != nil {
		return err
	}
	return a.page.Compare(told)
}

// twoSetups are the setups named, both of the vehicle.
func twoSetups(lb *crew.Session, v logbook.Vehicle, refs []string) (setups [2]logbook.Setup, err error) {
	for i, ref := range refs {
		if setups[i], err = lb.Setup(v.ID, ref); err != nil {
			return setups, err
		}
		if setups[i].Vehicle != v.ID {
			return setups, fmt.Errorf("setup %q is of %s, not of %s", ref, setups[i].Vehicle, v.ID)
		}
	}
	if setups[0].ID == setups[1].ID {
		return setups, usagef("setup %q against itself: want two setups", refs[0])
	}
	return setups, nil
}
