package logbook

import (
	"maps"
	"slices"
)

// SlipCells are what stands in a column of the slips, also one that only the racer knows,
// by the ids of the slips; columns are all that the file has.
func (lb *Logbook) SlipCells(column string) (cells map[string]string, columns []string, err error) {
	c, err := lb.read(slips, nil)
	if err != nil {
		return nil, nil, err
	}
	cells = map[string]string{}
	for _, r := range c.newest() {
		if text := c.texts(r)[column]; text != "" && !r.void {
			cells[r.id] = text
		}
	}
	return cells, slices.Sorted(maps.Keys(c.at)), nil
}
