package notebook

import (
	"math"
	"reflect"
	"slices"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// Kind is what the cells of a column are.
type Kind string

// The kinds of column.
const (
	Text   Kind = "text"
	Number Kind = "number"
	Moment Kind = "time"
	Truth  Kind = "truth" // yes or no
)

// Cell is a value as its column has it: string, float64, time.Time or bool; nil is absent.
type Cell any

// Column is a column of rows made of T.
type Column[T any] struct {
	Name string // with its unit
	Kind Kind
	Cell func(T) Cell
}

// RunColumns are the columns of the rows of runs; those that take a fit of the vehicle's
// runs, forecasts, standard air and what counts, only when asked for. book names the logbook.
func RunColumns(book string, fitted bool, own []crew.OwnColumn) []Column[told] {
	columns := slices.Concat(
		[]Column[told]{{"logbook", Text, func(told) Cell { return filled(book) }}},
		of(recordColumns[crew.Slip](), "", func(t told) *crew.Slip { return &t.Run.Slip }, "rev", "status", "recorded_at"),
		of(recordColumns[crew.Setup](), "setup_", func(t told) *crew.Setup { return &t.Run.Setup },
			"id", "rev", "status", "recorded_at", "forced", "vehicle", "from"),
		[]Column[told]{{"setup_from", Moment, setupFrom}},
		of(recordColumns[logbook.Sheet](), "sheet_", func(t told) *logbook.Sheet { return t.Sheet },
			"id", "rev", "status", "recorded_at", "forced", "time"),
		[]Column[told]{{"sheet_time", Moment, sheetTime}},
		of(recordColumns[crew.Vehicle](), "vehicle_", func(t told) *crew.Vehicle { return &t.Run.Vehicle },
			"id", "rev", "status", "recorded_at", "forced"),
		ownColumns(own),
		trackColumns(),
		airColumns())
	if fitted {
		columns = slices.Concat(columns, splitColumns("standard_air", standard), forecastColumns())
	}
	columns = append(columns, outcomeColumns()...)
	if fitted {
		columns = append(columns, countColumns()...)
	}
	return columns
}

// recordColumns are the columns of a record of the log, in its order.
func recordColumns[R any]() (columns []Column[*R]) {
	var walk func(t reflect.Type, index []int)
	walk = func(t reflect.Type, index []int) {
		for i := range t.NumField() {
			f, at := t.Field(i), append(index[:len(index):len(index)], i)
			if f.Anonymous {
				walk(f.Type, at)
				continue
			}
			cell := cellOf(f.Type)
			columns = append(columns, Column[*R]{f.Tag.Get("csv"), kindOf(f.Type), func(r *R) Cell {
				return cell(reflect.ValueOf(r).Elem().FieldByIndex(at))
			}})
		}
	}
	walk(reflect.TypeFor[R](), nil)
	return columns
}

func kindOf(t reflect.Type) Kind {
	switch {
	case t == reflect.TypeFor[units.Number]() || t.Kind() == reflect.Int:
		return Number
	case t == reflect.TypeFor[crew.Time]():
		return Moment
	}
	return Text
}

// cellOf tells how a field of a type is read, in its place: of what it holds no copy is made.
func cellOf(t reflect.Type) func(reflect.Value) Cell {
	switch reflect.New(t).Interface().(type) {
	case *units.Number:
		return func(f reflect.Value) Cell { return numberCell(*f.Addr().Interface().(*units.Number)) }
	case *crew.Time:
		return func(f reflect.Value) Cell {
			if v := f.Addr().Interface().(*crew.Time); !v.IsZero() {
				return v.Time
			}
			return nil
		}
	case *int:
		return func(f reflect.Value) Cell { return float64(f.Int()) }
	case interface{ MarshalCSV() (string, error) }:
		return func(f reflect.Value) Cell {
			text, err := f.Addr().Interface().(interface{ MarshalCSV() (string, error) }).MarshalCSV()
			if err != nil {
				return nil
			}
			return filled(text)
		}
	}
	return func(f reflect.Value) Cell { return filled(f.String()) }
}

// setupFrom is from when a setup was in force, sheetTime when its power was measured.
func setupFrom(t told) Cell { return asOf(t, t.Run.Setup.From) }

func sheetTime(t told) Cell {
	if t.Sheet == nil {
		return nil
	}
	return asOf(t, t.Sheet.Time)
}

// asOf is a moment by the offset of the run: a workbook has one for all times of a row.
func asOf(t told, at crew.Time) Cell {
	if at.IsZero() {
		return nil
	}
	name, east := t.Run.Slip.Time.Zone()
	return at.In(time.FixedZone(name, east))
}

func filled(s string) Cell {
	if s == "" {
		return nil
	}
	return s
}

func numberCell(n units.Number) Cell {
	if !n.Known() {
		return nil
	}
	return n.Value()
}

// figure is a number that was worked out, to so many decimals.
func figure(v float64, decimals int) Cell {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}

// figureOf is figure of what may be absent.
func figureOf(n units.Number, decimals int) Cell {
	if !n.Known() {
		return nil
	}
	return figure(n.Value(), decimals)
}

// of makes columns of a part of a run, nil where it has none, out of the part's own, without
// those skipped.
func of[P any](columns []Column[*P], prefix string, part func(told) *P, skip ...string) (out []Column[told]) {
	for _, c := range columns {
		if slices.Contains(skip, c.Name) {
			continue
		}
		out = append(out, Column[told]{prefix + c.Name, c.Kind, func(t told) Cell {
			if p := part(t); p != nil {
				return c.Cell(p)
			}
			return nil
		}})
	}
	return out
}

// stamp is a moment as text, with its offset.
func stamp(t time.Time) string { return t.Format(time.RFC3339) }
