package crew

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipcase/predict"
	"slipcase/weather/units"
)

// NoColumn is the error of a column that the slips have not, or that has no figures.
type NoColumn struct {
	Name string
	Has  []string // those with figures
}

func (e *NoColumn) Error() string {
	if len(e.Has) == 0 {
		return fmt.Sprintf("the slips have no column %q with figures, and no other with any yet", e.Name)
	}
	return fmt.Sprintf("the slips have no column %q with figures: want one of %s", e.Name, strings.Join(e.Has, ", "))
}

// Column is one of the slips' columns that has figures.
type Column struct {
	Name    string
	Unit    string // as the racer calls that of his own column
	Figures map[string]units.Number
}

// SlipColumn is a column of the slips that has figures: ours, one that stands in the file
// alone, or one that the racer has added.
func (s *Session) SlipColumn(name string) (Column, error) {
	own, err := s.OwnColumns()
	if err != nil {
		return Column{}, err
	}
	column, others, err := s.figuresIn(name, own)
	if err != nil || len(column.Figures) > 0 {
		return column, err
	}
	none := &NoColumn{Name: name}
	for _, c := range own {
		others = append(others, c.ID)
	}
	for _, other := range slices.DeleteFunc(others, func(c string) bool {
		return slices.Contains([]string{"rev", "id", "status", "own"}, c)
	}) {
		if has, _, err := s.figuresIn(other, own); err == nil && len(has.Figures) > 0 {
			none.Has = append(none.Has, other)
		}
	}
	return Column{}, none
}

// figuresIn reads a column of the file, and where it has no such the own one of that name.
func (s *Session) figuresIn(name string, own []OwnColumn) (c Column, columns []string, err error) {
	cells, columns, err := s.SlipCells(name)
	if err != nil {
		return c, nil, err
	}
	c = Column{Name: name, Figures: map[string]units.Number{}}
	at := slices.IndexFunc(own, func(o OwnColumn) bool { return strings.EqualFold(o.ID, name) })
	if at >= 0 && len(cells) == 0 {
		c.Name, c.Unit = own[at].ID, own[at].Unit
		if cells, _, err = s.SlipCells("own"); err != nil {
			return c, nil, err
		}
		for id, text := range cells {
			cells[id] = Slip{Own: text}.OwnText(c.Name)
		}
	}
	for id, text := range cells {
		if v, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil && v-v == 0 {
			c.Figures[id] = units.Some(v)
		}
	}
	return c, columns, nil
}

// SlopeOf is the change of y with x, and whether it is shown.
func SlopeOf(x, y []float64) (Figure, bool) { return predict.Slope(x, y) }
