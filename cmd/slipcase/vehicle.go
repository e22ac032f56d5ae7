package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
)

var vehicleFields = []field[logbook.Vehicle]{
	words("title", "its full name, free to change", func(v *logbook.Vehicle) *string { return &v.Title }),
	choice("kind", "car or motorcycle", func(v *logbook.Vehicle) *string { return &v.Kind }),
	choice("aspiration", "natural, supercharged or turbocharged", func(v *logbook.Vehicle) *string { return &v.Aspiration }),
	choice("drive", "rear, front or all", func(v *logbook.Vehicle) *string { return &v.Drive }),
	choice("body", "as sedan, roadster; open for an open car", func(v *logbook.Vehicle) *string { return &v.Body }),
	words("fuel", "as petrol, methanol", func(v *logbook.Vehicle) *string { return &v.Fuel }),
	words("notes", "anything else", func(v *logbook.Vehicle) *string { return &v.Notes }),
}

func (a *app) vehicleCommand() *cobra.Command {
	c := &cobra.Command{Use: "vehicle", Short: "the cars and motorcycles you race", Example: "  slipcase vehicle list"}
	add := &cobra.Command{
		Use:     "add NAME",
		Short:   "record a car or motorcycle",
		Example: "  slipcase vehicle add heron --kind car --aspiration natural\n  slipcase vehicle add plover --kind motorcycle --aspiration turbocharged --title \"Plover, the blue one\"",
		Args:    cobra.ExactArgs(1),
		RunE:    a.writes(a.addVehicle),
	}
	register(add, vehicleFields)
	list := &cobra.Command{
		Use: "list", Short: "list the vehicles", Args: cobra.NoArgs, Example: "  slipcase vehicle list",
		RunE: a.reads(a.listVehicles),
	}
	show := &cobra.Command{
		Use: "show NAME", Short: "show one vehicle and its setups", Args: cobra.ExactArgs(1), Example: "  slipcase vehicle show heron",
		RunE: a.reads(a.showVehicle),
	}
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct what is recorded of a vehicle; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase vehicle amend heron --body sedan",
		RunE:    a.writes(a.amendVehicle),
	}
	register(amend, vehicleFields)
	c.AddCommand(add, list, show, amend)
	return c
}

func (a *app) addVehicle(c *cobra.Command, args []string, lb *crew.Session) error {
	v := logbook.Vehicle{Entry: logbook.Entry{ID: args[0]}, Aspiration: "natural", Kind: "car"}
	if err := apply(c, vehicleFields, &v); err != nil {
		return err
	}
	if err := v.Check(); err != nil {
		return usage(err)
	}
	if err := lb.AddVehicle(&v); err != nil {
		return err
	}
	return a.answer(v, vehicleTable(v), func(w io.Writer) {
		figures := "--weight 3450lb --power 312hp"
		if v.Kind == string(predict.Motorcycle) {
			figures = "--weight 655lb --power 121hp"
		}
		fmt.Fprintf(w, "recorded  vehicle %s, %s, %s\n  next, what it weighs and makes   slipcase setup add --vehicle %s %s --power-at wheels --standard sae\n",
			v.ID, v.Kind, v.Aspiration, v.ID, figures)
	})
}

func (a *app) listVehicles(_ *cobra.Command, _ []string, lb *crew.Session) error {
	vs, err := lb.Vehicles()
	if err != nil {
		return err
	}
	return a.answer(vs, vehicleTable(vs...), nil)
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
	t := vehicleTable(v)
	shown := struct {
		logbook.Vehicle
		Setups []logbook.Setup `json:"setups"`
	}{v, setups}
	return a.answer(shown, t, func(w io.Writer) {
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.setupTable(setups).Render(w, table.Text, a.width())
	})
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
		if err := apply(c, vehicleFields, v); err != nil {
			return err
		}
		return usage(v.Check())
	})
	if err != nil {
		return err
	}
	return a.answer(v, vehicleTable(v), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  vehicle %s, revision %d\n", v.ID, v.Rev)
		changes(w, &was, &v)
	})
}

func vehicleTable(vs ...logbook.Vehicle) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "vehicle", Key: "id"},
		{Head: "title", Key: "title", Drop: 3},
		{Head: "kind", Key: "kind"},
		{Head: "aspiration", Key: "aspiration"},
		{Head: "drive", Key: "drive", Drop: 2},
		{Head: "body", Key: "body", Drop: 2},
		{Head: "fuel", Key: "fuel", Drop: 3},
		{Head: "notes", Key: "notes", Drop: 4},
	}}
	for _, v := range vs {
		t.Add(v.ID, v.Title, v.Kind, v.Aspiration, v.Drive, v.Body, v.Fuel, v.Notes)
	}
	return t
}
