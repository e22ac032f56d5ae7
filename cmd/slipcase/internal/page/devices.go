package page

import (
	"time"

	"slipcase/cmd/slipcase/internal/table"
)

// Paired is a phone that was paired.
type Paired struct {
	Name string    `json:"name"`
	At   time.Time `json:"paired_at"`
}

// Devices lists the paired phones.
func (p *Page) Devices(list []Paired) error {
	t := table.Table{Columns: []table.Column{{Head: "phone", Key: "name"}, {Head: "paired", Key: "paired_at"}}}
	for _, d := range list {
		t.Add(d.Name, p.Stamp(d.At))
	}
	return p.Answer(append([]Paired{}, list...), t, nil)
}
