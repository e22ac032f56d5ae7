package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) vehicleCommand() *cobra.Command {
	c := &cobra.Command{Use: "vehicle", Short: "the cars and motorcycles you race", Example: "  slipcase vehicle list"}
	add := &cobra.Command{
		Use:   "add NAME",
		Short: "record a car or motorcycle",
		Example: `  slipcase vehicle add heron --kind car --aspiration natural
  slipcase vehicle add plover --kind motorcycle --aspiration turbocharged --title "Plover, the blue one"`,
		Args: cobra.ExactArgs(1),
		RunE: a.writes(a.addVehicle),
	}
	register(add, typed.VehicleFields)
	list := &cobra.Command{
		Use: "list", Short: "list the vehicles", Args: cobra.NoArgs, Example: "  slipcase vehicle list",
		RunE: a.reads(a.listVehicles),
	}
	show := &cobra.Command{
		Use: "show NAME", Short: "show one vehicle and its setups", Args: cobra.ExactArgs(1),
		Example: "  slipcase vehicle show heron", RunE: a.reads(a.showVehicle),
	}
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct what is recorded of a vehicle; the old stays as history",
		Args: cobra.ExactArgs(1), Example: "  slipcase vehicle amend heron --body sedan",
		RunE: a.writes(a.amendVehicle),
	}
	register(amend, typed.VehicleFields)
	void, unvoid := voidable[logbook.Vehicle]{
		what: "vehicle", arg: "NAME", example: "heron", entry: func(v *logbook.Vehicle) *logbook.Entry { return &v.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Vehicle, error) { return lb.Vehicle(ref) },
		findVoid: (*logbook.Logbook).VoidVehicle, amend: (*logbook.Logbook).AmendVehicle,
		slips: (*crew.Session).VehicleSlips, moves: "slipcase slip void takes one out, slip amend --vehicle moves it",
		show:   (*page.Page).VehicleStatus,
		called: func(v logbook.Vehicle) string { return v.ID },
	}.commands(a)
	c.AddCommand(add, list, show, amend, void, unvoid)
	return c
}

func (a *app) addVehicle(c *cobra.Command, args []string, lb *crew.Session) error {
	v := logbook.Vehicle{Entry: logbook.Entry{ID: args[0]}, Aspiration: "natural", Kind: "car"}
	if err := apply(c, typed.VehicleFields, &v); err != nil {
		return err
	}
	if err := v.Check(); err != nil {
		return usage(err)
	}
	if err := lb.AddVehicle(&v); err != nil {
		was, _ := lb.Vehicle(v.ID)
		return taken(err, crew.Stands("vehicle", was.Entry))
	}
	return a.page.VehicleAdded(v)
}

func (a *app) listVehicles(_ *cobra.Command, _ []string, lb *crew.Session) error {
	vs, err := lb.Vehicles()
	if err != nil {
		return err
	}
	return a.page.Vehicles(vs)
}

func (a *app) showVehicle(_ *cobra.Command, args []string, lb *crew.Session) error {
	v, err := lb.Vehicle(args[0])
	if err != nil {
		return err
	}
	setups, err := lb.Setups(v.ID)
	if err != nil {
		return err
	}
	return a.page.Vehicle(v, setups)
}

func (a *app) amendVehicle(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	v, err := lb.Vehicle(args[0])
	if err != nil {
		return err
	}
	was := v
	v, err = lb.AmendVehicle(v.ID, func(v *logbook.Vehicle) error {
		if err := apply(c, typed.VehicleFields, v); err != nil {
			return err
		}
		return usage(v.Check())
	})
	if err != nil {
		return err
	}
	return a.page.VehicleAmended(v, logbook.Changes(&was, &v))
}
