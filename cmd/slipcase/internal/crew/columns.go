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
	return fmt.Sprintf("the slips have no column %q with figures: want one of %s", e.Name, strings.Join(e.Has, ", "))
}

// SlipColumn are the figures in a column of the slips, ours or the racer's own, by slip.
func (s *Session) SlipColumn(name string) (map[string]units.Number, error) {
	figures, columns, err := s.figuresIn(name)
	if err != nil || len(figures) > 0 {
		return figures, err
	}
	none := &NoColumn{Name: name}
	for _, column := range columns {
		if slices.Contains([]string{"rev", "id", "status"}, column) {
			continue
		}
		if has, _, err := s.figuresIn(column); err == nil && len(has) > 0 {
			none.Has = append(none.Has, column)
		}
	}
	return nil, none
}

func (s *Session) figuresIn(name string) (figures map[string]units.Number, columns []string, err error) {
	cells, columns, err := s.SlipCells(name)
	if err != nil {
		return nil, nil, err
	}
	figures = map[string]units.Number{}
	for id, text := range cells {
		if v, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
			figures[id] = units.Some(v)
		}
	}
	return figures, columns, nil
}

// SlopeOf is the change of y with x, and whether it is shown.
func SlopeOf(x, y []float64) (Figure, bool) { return predict.Slope(x, y) }
