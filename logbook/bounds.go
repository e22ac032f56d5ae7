package logbook

import (
	"math"
	"reflect"

	"slipcase/weather/units"
)

// Bound is what a quantity of a record can be, and what is usual.
type Bound struct {
	Name      string // as it is said
	Kind      units.Kind
	Positive  bool    // it cannot be 0 either
	Min       float64 // below, it cannot be; in the unit of the column, as all here
	Low, High float64 // outside, it is hard to believe
}

// The coldest that anything can be, F: 0 K (SI Brochure, 2.3.1; NIST SP 811, B.8).
const absoluteZeroF = -459.67

// What a slip prints as a speed is believed from a moped's at 660 ft to beyond what wheels have
// done, mph (common practice, no source).
const SlowestMPH, FastestMPH = 25., 350.

// The slowest ET that is believed: a quarter mile as SlowestS has it.
var slowestQuarterS = SlowestS(QuickestS[1320])

// bounds are those of every numeric column of slips, setups and tracks that nothing else
// holds against something nearer. What is usual is wide on purpose: it tells a slipped
// key, not a rare car. Common practice, no source, but for absolute zero.
var bounds = map[string]Bound{
	"launch_rpm":      {"launch", units.RPM, true, 0, 500, 15_000},
	"two_step_rpm":    {"two-step", units.RPM, true, 0, 500, 15_000},
	"stop_rpm":        {"throttle stop", units.RPM, true, 0, 500, 15_000},
	"stall_rpm":       {"converter stall", units.RPM, true, 0, 500, 12_000},
	"shift_rpm":       {"shift", units.RPM, true, 0, 1000, 20_000},
	"delay_s":         {"delay", units.Seconds, false, 0, 0, 5},
	"crossover_s":     {"crossover", units.Seconds, false, 0, 0, 15},
	"stop_on_s":       {"throttle stop on at", units.Seconds, false, 0, 0, 20},
	"stop_off_s":      {"throttle stop off at", units.Seconds, false, 0, 0, 20},
	"tree":            {"perfect light", units.Seconds, false, 0, 0, 0.5},
	"index_s":         {"index", units.Seconds, true, 0, QuickestS[330], slowestQuarterS},
	"dial_s":          {"dial", units.Seconds, true, 0, QuickestS[330], slowestQuarterS},
	"opponent_dial_s": {"other lane's dial", units.Seconds, true, 0, QuickestS[330], slowestQuarterS},
	"opponent_et_s":   {"other lane's ET", units.Seconds, true, 0, QuickestS[330], slowestQuarterS},
	"opponent_mph":    {"other lane's speed", units.Speed, true, 0, SlowestMPH, FastestMPH},
	"tyre_psi":        {"tire pressure", units.TyrePressure, true, 0, 2, 120},
	"water_temp_f":    {"water temperature", units.Temperature, false, absoluteZeroF, -20, 280},
	"track_temp_f":    {"track temperature", units.Temperature, false, absoluteZeroF, 10, 200},
	"raced_ft":        {"raced distance", units.Length, true, 0, 60, 5280},
	"boost_psi":       {"boost", units.TyrePressure, false, 0, 0, 150},
	"final_ratio":     {"final drive", units.Ratio, true, 0, 1, 10},
	"tyre_in":         {"tire diameter", units.Diameter, true, 0, 10, 45},
	"power_temp_f": {
		"temperature at the dyno", units.Temperature, false, absoluteZeroF, -20, 130,
	},
	"power_rh_pct":       {"humidity at the dyno", units.Percent, false, 0, 0, 100},
	"power_station_inhg": {"station pressure at the dyno", units.Pressure, true, 0, 20, 32},
	"cost":               {"cost", units.Money, false, 0, 0, 1_000_000},
	"elevation_ft":       {"elevation", units.Length, false, math.Inf(-1), -300, 9000},
	"lengths_ft":         {"length", units.Length, true, 0, 30, 5280},
}

// Outlier is a value of a record outside a bound.
type Outlier struct {
	Column string
	Bound
	Value float64
}

// HardToBelieve are the values of a record that can be, but hardly.
func HardToBelieve(rec Record) []Outlier {
	return outliers(rec, func(b Bound, v float64) bool { return v < b.Low || v > b.High })
}

// refuseImpossible refuses a value of a record that nothing can have.
func refuseImpossible(rec Record) error {
	out := outliers(rec, func(b Bound, v float64) bool { return v < b.Min || b.Positive && v == 0 })
	if len(out) == 0 {
		return nil
	}
	o := out[0]
	if o.Positive {
		return units.Errorf("%s %v is impossible: want more than 0", o.Name, o.Kind.Of(o.Value))
	}
	return units.Errorf("%s %v is impossible: want %v or more", o.Name, o.Kind.Of(o.Value), o.Kind.Of(o.Min))
}

// outliers are the values of a record that are outside their bounds.
func outliers(rec Record, outside func(b Bound, v float64) bool) (list []Outlier) {
	v := reflect.ValueOf(rec).Elem()
	for _, c := range schemaFor(v.Type()).columns {
		b, bounded := bounds[c.name]
		if !bounded {
			continue
		}
		for _, n := range numbersOf(v.FieldByIndex(c.field).Interface()) {
			if outside(b, n) {
				list = append(list, Outlier{c.name, b, n})
			}
		}
	}
	return list
}

// numbersOf are the numbers that a field has.
func numbersOf(field any) []float64 {
	switch n := field.(type) {
	case units.Number:
		if n.Known() {
			return []float64{n.Value()}
		}
	case Lengths:
		return n
	}
	return nil
}
