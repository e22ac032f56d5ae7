package logbook

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"slipcase/weather/units"
)

// elsewhere are the numeric columns that are held against something nearer than a bound.
var elsewhere = map[string]string{
	"reaction_s": "the driver's others", "opponent_reaction_s": "all drivers'",
	"et_60_s": "its distance", "et_330_s": "its distance", "et_660_s": "its distance", "et_1000_s": "its distance",
	"et_1320_s": "its distance", "mph_660": "the times", "mph_1000": "the times", "mph_1320": "the times",
	"full_power_to_ft": "the track", "weight_lb": "predict.CheckWeight", "power_hp": "predict.CheckPower",
	"heading_deg": "the circle", "perfect_reaction_s": "three values",
}

// numericColumns are those of a record.
func numericColumns(rec Record) (names []string) {
	for _, f := range reflect.VisibleFields(reflect.TypeOf(rec).Elem()) {
		if f.Type == reflect.TypeFor[units.Number]() || f.Type == reflect.TypeFor[Lengths]() {
			names = append(names, f.Tag.Get("csv"))
		}
	}
	return names
}

// A numeric column that is added later has a bound or says what holds it.
func TestEveryNumberHasABound(t *testing.T) {
	var all []string
	for _, rec := range []Record{&Slip{}, &Setup{}, &Track{}} {
		all = append(all, numericColumns(rec)...)
	}
	for _, name := range all {
		_, bounded := bounds[name]
		if _, held := elsewhere[name]; bounded == held {
			t.Errorf("%s: bounded %v, held elsewhere %v", name, bounded, held)
		}
	}
	for name, b := range bounds {
		if !slices.Contains(all, name) || b.Name == "" || b.Low < b.Min || b.High <= b.Low {
			t.Errorf("%s: %+v", name, b)
		}
	}
}

// set gives a column of a record a value.
func set(rec Record, column string, v float64) {
	r := reflect.ValueOf(rec).Elem()
	for _, f := range reflect.VisibleFields(r.Type()) {
		if f.Tag.Get("csv") != column {
			continue
		}
		if f.Type == reflect.TypeFor[Lengths]() {
			r.FieldByIndex(f.Index).Set(reflect.ValueOf(Lengths{v}))
			continue
		}
		r.FieldByIndex(f.Index).Set(reflect.ValueOf(units.Some(v)))
	}
}

// Each bound works on its column: what is usual passes, what is not is told, and what
// cannot be is refused by the record's check.
func TestBounds(t *testing.T) {
	for _, of := range []struct {
		fresh func() Record
		check func(Record) error
	}{
		{func() Record { return slipAt(14, 0, 13.2) }, func(r Record) error { return r.(*Slip).Check() }},
		{func() Record {
			return &Setup{Entry: Entry{Status: Fact}, Vehicle: "heron", From: slipAt(14, 0, 13.2).Time}
		}, func(r Record) error { return r.(*Setup).Check() }},
		{func() Record { return &Track{Entry: Entry{ID: "saltgrass", Status: Fact}} }, func(r Record) error { return r.(*Track).Check() }},
	} {
		if out := HardToBelieve(of.fresh()); len(out) > 0 {
			t.Errorf("an ordinary record: %v", out)
		}
		for _, column := range numericColumns(of.fresh()) {
			b, bounded := bounds[column]
			if !bounded {
				continue
			}
			for _, v := range []float64{b.Low, (b.Low + b.High) / 2, b.High, math.Nextafter(b.High, 1e9), 1e9} {
				rec := of.fresh()
				set(rec, column, v)
				out := HardToBelieve(rec)
				if told := len(out) == 1 && out[0].Column == column; told != (v > b.High) {
					t.Errorf("%s %v: %v", column, v, out)
				}
				if err := of.check(rec); err != nil && column != "elevation_ft" {
					t.Errorf("%s %v: %v", column, v, err)
				}
			}
			rec := of.fresh()
			set(rec, column, -100_000)
			if of.check(rec) == nil {
				t.Errorf("%s of -100000 is possible", column)
			}
		}
	}
}
