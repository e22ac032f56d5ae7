package notebook

import (
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

// Column is a column of rows made of T.
type Column[T any] struct {
	Name string // with its unit
	Kind Kind
	Cell func(T) Cell
}

// Part is columns that are filled together, of rows made of T.
type Part[T any] struct {
	Heads []Head
	Fill  func(cells []Cell, t T)
	// ID names the entry of the log that all its cells are of, the same for each row that is
	// of it; nil where they are of more.
	ID func(T) string
}

// RunColumns are the columns of the rows of runs; those that take a fit of the vehicle's
// runs, forecasts, standard air and what counts, only when asked for. book names the logbook.
func RunColumns(book string, fitted bool, own []crew.OwnColumn) []Part[told] {
	parts := slices.Concat(
		[]Part[told]{
			partOf(Column[told]{"logbook", Text, func(told) Cell { return filled(book) }}),
			of(recordPart[crew.Slip]("", "rev", "status", "recorded_at"),
				func(t told) *crew.Slip { return &t.Run.Slip }, nil),
			of(recordPart[crew.Setup]("setup_", "id", "rev", "status", "recorded_at", "forced", "vehicle", "from"),
				func(t told) *crew.Setup { return &t.Run.Setup }, func(t told) string { return t.Run.Setup.ID }),
			partOf(Column[told]{"setup_from", Moment, setupFrom}),
			of(recordPart[logbook.Sheet]("sheet_", "id", "rev", "status", "recorded_at", "forced", "time"),
				func(t told) *logbook.Sheet { return t.Sheet }, nil),
			partOf(Column[told]{"sheet_time", Moment, sheetTime}),
			of(recordPart[crew.Vehicle]("vehicle_", "id", "rev", "status", "recorded_at", "forced"),
				func(t told) *crew.Vehicle { return &t.Run.Vehicle }, func(t told) string { return t.Run.Vehicle.ID }),
			partOf(ownColumns(own)...),
		},
		trackParts(),
		airParts())
	if fitted {
		parts = append(parts, partOf(splitColumns("standard_air", standard)...), partOf(forecastColumns()...))
	}
	parts = append(parts, partOf(outcomeColumns()...))
	if fitted {
		parts = append(parts, partOf(countColumns()...))
	}
	return parts
}

// partOf fills each of some columns.
func partOf[T any](columns ...Column[T]) Part[T] {
	p := Part[T]{Fill: func(cells []Cell, t T) {
		for i := range columns {
			cells[i] = columns[i].Cell(t)
		}
	}}
	for _, c := range columns {
		p.Heads = append(p.Heads, Head{c.Name, c.Kind})
	}
	return p
}

// recordPart is the columns of a record of the log, in its order, without those skipped. Each
// record is put in one place, to whose fields the cells are tied once.
func recordPart[R any](prefix string, skip ...string) (p Part[*R]) {
	place := new(R)
	var tied []func() Cell
	for _, f := range reflect.VisibleFields(reflect.TypeFor[R]()) {
		if name, is := f.Tag.Lookup("csv"); is && !slices.Contains(skip, name) {
			p.Heads = append(p.Heads, Head{prefix + name, kindOf(f.Type)})
			tied = append(tied, cellOf(reflect.ValueOf(place).Elem().FieldByIndex(f.Index)))
		}
	}
	p.Fill = func(cells []Cell, r *R) {
		*place = *r
		for i, cell := range tied {
			cells[i] = cell()
		}
	}
	return p
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

// cellOf tells how a field is read, in its place.
func cellOf(field reflect.Value) func() Cell {
	switch v := field.Addr().Interface().(type) {
	case *units.Number:
		return func() Cell { return numberCell(*v) }
	case *crew.Time:
		return func() Cell { return ofMoment(v.Time) }
	case *int:
		return func() Cell { return ofNumber(float64(*v)) }
	case interface{ MarshalCSV() (string, error) }:
		return func() Cell {
			text, err := v.MarshalCSV()
			if err != nil {
				return Cell{}
			}
			return filled(text)
		}
	}
	return func() Cell { return filled(field.String()) }
}

// setupFrom is from when a setup was in force, sheetTime when its power was measured.
func setupFrom(t told) Cell { return asOf(t, t.Run.Setup.From) }

func sheetTime(t told) Cell {
	if t.Sheet == nil {
		return Cell{}
	}
	return asOf(t, t.Sheet.Time)
}

// asOf is a moment by the offset of the run: a workbook has one for all times of a row.
func asOf(t told, at crew.Time) Cell {
	if at.IsZero() {
		return Cell{}
	}
	name, east := t.Run.Slip.Time.Zone()
	return ofMoment(at.In(time.FixedZone(name, east)))
}

// of makes a part of a run out of a record's, which the run may be without: nil.
func of[R any](p Part[*R], record func(told) *R, id func(told) string) Part[told] {
	return Part[told]{p.Heads, func(cells []Cell, t told) {
		if r := record(t); r != nil {
			p.Fill(cells, r)
		} else {
			clear(cells)
		}
	}, id}
}
