package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// OwnColumns lists the racer's own columns.
func (p *Page) OwnColumns(list []crew.OwnColumn) error {
	return p.Answer(append([]crew.OwnColumn{}, list...), ownTable(list...), func(w io.Writer) {
		if len(list) == 0 {
			fmt.Fprint(w, "none recorded yet\n  the first   slipcase column add jets --kind number\n")
			return
		}
		ownTable(list...).Render(w, table.Text, p.Width())
	})
}

// OwnColumnAdded tells that a column is recorded, and how it is typed.
func (p *Page) OwnColumnAdded(c crew.OwnColumn) error {
	return p.Answer(c, ownTable(c), func(w io.Writer) {
		value := "68"
		if c.Kind != ownNumber {
			value = "a-word"
		}
		p.Wrap(w, fmt.Sprintf("recorded  column %s, a %s%s", c.ID, c.Kind, inUnit(c)))
		p.Wrap(w, fmt.Sprintf("  on a slip's line   %s=%s", c.ID, value))
		p.Wrap(w, fmt.Sprintf("  afterwards         slipcase slip amend last --own %s=%s", c.ID, value))
	})
}

func inUnit(c crew.OwnColumn) string {
	if c.Unit == "" {
		return ""
	}
	return " in " + c.Unit
}

// OwnColumnStatus tells of a column taken out or put back.
func (p *Page) OwnColumnStatus(c crew.OwnColumn) error {
	return p.status(c, ownTable(c), "column", c.ID, "column", c.Entry)
}

func ownTable(list ...crew.OwnColumn) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "column", Key: "column"},
		{Head: "kind", Key: "kind"},
		{Head: "unit", Key: "unit"},
		{Head: "notes", Key: "notes", Drop: 1},
	}}
	for _, c := range list {
		t.AddCells(table.Cells{"column": c.ID, "kind": c.Kind, "unit": c.Unit, "notes": c.Notes})
	}
	return t
}

// ownNumber is the kind of a column that has figures.
const ownNumber = "number"

// ownKey is the name of a column of the racer's own in CSV.
func ownKey(c crew.OwnColumn) string { return "own_" + c.ID }

// addOwn puts the racer's own columns behind those of a list of runs.
func addOwn(t *table.Table, js []crew.Judged, own []crew.OwnColumn) {
	for _, c := range own {
		t.Columns = append(t.Columns, table.Column{
			Head: c.ID, Key: ownKey(c), Right: c.Kind == ownNumber, Drop: 11,
		})
		for i := range js {
			t.Rows[i] = append(t.Rows[i], js[i].Run.Slip.OwnText(c.ID))
		}
	}
}
