package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Vehicles lists the vehicles.
func (p *Page) Vehicles(vs []crew.Vehicle) error { return p.Answer(vs, vehicleTable(vs...), nil) }

// VehicleAdded tells that a vehicle is recorded, and what to type next.
func (p *Page) VehicleAdded(v crew.Vehicle) error {
	return p.Answer(v, vehicleTable(v), func(w io.Writer) {
		lb, hp := 3450., 312.
		if v.Kind == string(crew.Motorcycle) {
			lb, hp = 655, 121
		}
		fmt.Fprintf(w, "recorded  vehicle %s, %s, %s\n", v.ID, v.Kind, v.Aspiration)
		fmt.Fprintf(w, "  next, what it weighs and makes   "+
			"slipcase setup add --vehicle %s --weight %s --power %s --power-at wheels --standard sae\n",
			v.ID, p.typed(units.Weight, lb), p.typed(units.Power, hp))
	})
}

// VehicleAmended tells what an amendment changed.
func (p *Page) VehicleAmended(v crew.Vehicle, changed []crew.CellChange) error {
	return p.amended(v, vehicleTable(v), fmt.Sprintf("recorded  vehicle %s, revision %d", v.ID, v.Rev), changed)
}

// VehicleStatus tells of a vehicle taken out or put back.
func (p *Page) VehicleStatus(v crew.Vehicle) error {
	return p.status(v, vehicleTable(v), "vehicle", v.ID, "vehicle", v.Entry)
}

// Vehicle shows a vehicle with its setups.
func (p *Page) Vehicle(v crew.Vehicle, setups []crew.Setup) error {
	t := vehicleTable(v)
	shown := struct {
		crew.Vehicle
		Setups []crew.Setup `json:"setups"`
	}{v, setups}
	return p.Answer(shown, t, func(w io.Writer) {
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.setupTable(setups...).Render(w, table.Text, p.Width())
	})
}

func vehicleTable(vs ...crew.Vehicle) table.Table {
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
		t.AddCells(table.Cells{
			"id": v.ID, "title": v.Title, "kind": v.Kind, "aspiration": v.Aspiration,
			"drive": v.Drive, "body": v.Body, "fuel": v.Fuel, "notes": v.Notes,
		})
	}
	return t
}
