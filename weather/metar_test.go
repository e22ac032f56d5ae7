package weather

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

func reports(t testing.TB) []string {
	t.Helper()
	text, err := os.ReadFile("../testdata/metar/reports.txt")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			lines = append(lines, line)
		}
	}
	return lines
}

// decoded.csv is what an independent decoder makes of reports.txt.
func TestAgainstAnotherDecoder(t *testing.T) {
	const source = "metar-taf-parser 9.1.3"
	rows := table(t, "../testdata/metar/decoded.csv")
	lines := reports(t)
	if len(rows) != len(lines) || len(rows) < 40 {
		t.Fatalf("%d decoded of %d reports, want 40 or more", len(rows), len(lines))
	}
	for i, row := range rows {
		r, err := ParseMETAR(lines[i])
		if err != nil {
			t.Errorf("%s: %v", lines[i], err)
			continue
		}
		optional := func(kind units.Kind, cell, unit string) units.Number {
			if cell == "" {
				return units.Number{}
			}
			v, err := kind.Parse(cell + unit)
			if err != nil {
				t.Fatal(err)
			}
			return units.Some(v)
		}
		speed := map[string]string{"KT": "kt", "MPS": "m/s"}[row["wind_unit"]]
		for _, c := range []struct {
			what      string
			got, want units.Number
		}{
			{"wind", r.Reading.WindMPH, optional(units.Speed, row["wind"], speed)},
			{"gust", r.GustMPH, optional(units.Speed, row["gust"], speed)},
			{"wind from", r.Reading.WindFromDeg, optional(units.Degrees, row["wind_from_deg"], "")},
			{"temperature", r.Reading.TempF, optional(units.Temperature, row["temp_c"], "C")},
			{"dew point", r.Reading.DewPointF, optional(units.Temperature, row["dew_point_c"], "C")},
			{"altimeter", r.Reading.AltimeterInHg, optional(units.Pressure, row["altimeter"], row["altimeter_unit"])},
		} {
			if c.got.Known() != c.want.Known() || math.Abs(c.got.Value()-c.want.Value()) > 1e-9 {
				t.Errorf("%s: %s %v, want %v (%s)", lines[i], c.what, c.got, c.want, source)
			}
		}
		if r.Station != row["station"] || float64(r.Day) != float(t, row["day"]) ||
			float64(r.Hour) != float(t, row["hour"]) || float64(r.Minute) != float(t, row["minute"]) {
			t.Errorf("%s: %s %d %d:%d, want %v", lines[i], r.Station, r.Day, r.Hour, r.Minute, row)
		}
		if r.Unread != nil {
			t.Errorf("%s: unread %q", lines[i], r.Unread)
		}
		if _, _, err := r.Reading.Air(some(800)); err != nil {
			t.Errorf("%s: %v", lines[i], err)
		}
	}
}

// WMO-No. 306, FM 15, and FMH-1, chapter 12: what each group means.
func TestMETARForms(t *testing.T) {
	wind := func(mph, from, gust units.Number) Report {
		return Report{Reading: Reading{WindMPH: mph, WindFromDeg: from}, GustMPH: gust}
	}
	knots := func(kt float64) units.Number { return some(kt * 1852 / 1609.344) }
	for _, c := range []struct {
		groups string // behind station and time
		want   Report
	}{
		{"/////KT", Report{}},
		{"///05KT", wind(knots(5), absent, absent)},
		{"00000KT", wind(some(0), absent, absent)},
		{"VRB04KT", wind(knots(4), absent, absent)},
		{"360P99KT", wind(knots(99), some(360), absent)},
		{"99005KT", wind(knots(5), absent, absent)},
		{"27036KMH", wind(some(36/1.609344), some(270), absent)},
		{"12010G20KT 100V150", wind(knots(10), some(120), knots(20))},
		{"20/M00", Report{Reading: Reading{TempF: some(68), DewPointF: some(32)}}},
		{"17/", Report{Reading: Reading{TempF: some(62.6)}}},
		{"17/// Q////", Report{Reading: Reading{TempF: some(62.6)}}},
		{"///// ////// //", Report{}},
		{"RMK T10121023", Report{Reading: Reading{TempF: some(29.84), DewPointF: some(27.86)}}},
		{"12/10 RMK T0117", Report{Reading: Reading{TempF: some(53.06), DewPointF: some(50)}}},
		{"TEMPO 30030KT 05/04 Q0990", Report{}},
		{"QFE29 HELLO", Report{Unread: []string{"QFE29", "HELLO"}}},
		{"RMK CUMULUS W", Report{Unread: []string{"CUMULUS", "W"}}},
		{"1 1/2SM 7 A2992", Report{Reading: Reading{AltimeterInHg: some(29.92)}, Unread: []string{"7"}}},
		{"A2992 Q1013", Report{Reading: Reading{AltimeterInHg: some(29.92)}}},
	} {
		c.want.Station, c.want.Day, c.want.Hour, c.want.Minute = "XXAA", 2, 18, 51
		c.want.Raw = "METAR XXAA 021851Z " + c.groups
		got, err := ParseMETAR(c.want.Raw)
		close := cmp.Comparer(func(a, b units.Number) bool {
			return a.Known() == b.Known() && math.Abs(a.Value()-b.Value()) < 1e-9
		})
		if diff := cmp.Diff(c.want, got, close); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", c.groups, err, diff)
		}
	}
}

func TestMETARAsPasted(t *testing.T) {
	want, err := ParseMETAR("METAR XXAA 021851Z 24006KT 10SM 31/17 A2992")
	if err != nil {
		t.Fatal(err)
	}
	got, err := ParseMETAR("  metar xxaa 021851z 24006kt\r\n   10sm 31/17 a2992=\n")
	want.Raw += "="
	if diff := cmp.Diff(want, got); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}

func TestMETARBehindAHeading(t *testing.T) {
	got, err := ParseMETAR("2026/05/02 18:51\nXXAA 021851Z 31/17 A2992")
	if diff := cmp.Diff([]string{"2026/05/02", "18:51"}, got.Unread); err != nil || diff != "" || got.Station != "XXAA" {
		t.Errorf("%+v, %v\n%s", got, err, diff)
	}
}

func TestMETARRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "want a METAR"},
		{" = ", "want a METAR"},
		{"METAR", "want station and time first"},
		{"hot and sticky", "want station and time first"},
		{"TAF XXAA 021720Z 0218/0324 24008KT", "forecast (TAF)"},
		{"XXAA 321851Z 24006KT", "time 321851Z"},
		{"XXAA 022460Z 24006KT", "time 022460Z"},
		{"XXAA 021851Z NIL", "NIL"},
		{"XXAA 021851Z 31/17 A2992 XXAB 021853Z 30/17", "one at a time"},
		{strings.Repeat("blah ", 1000), "is not a METAR"},
	} {
		got, err := ParseMETAR(c.text)
		if err == nil {
			t.Errorf("%.60q: %+v, want an error", c.text, got)
			continue
		}
		if !strings.Contains(err.Error(), c.says) || len(err.Error()) > 200 {
			t.Errorf("%.60q: %q, want it short and to say %q", c.text, err, c.says)
		}
	}
}

func TestReportTime(t *testing.T) {
	date := func(month time.Month, day, hour int) time.Time {
		return time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
	}
	for _, c := range []struct {
		day, hour    int
		latest, want time.Time
	}{
		{2, 18, date(5, 2, 20), date(5, 2, 18)},
		{30, 23, date(5, 1, 1), date(4, 30, 23)},
		{1, 0, date(4, 30, 23), date(4, 1, 0)},
		{31, 12, date(3, 2, 1), date(1, 31, 12)},
		{31, 12, date(2, 14, 0), date(1, 31, 12)},
		{30, 12, date(2, 28, 0), date(1, 30, 12)},
		{2, 1, time.Date(2026, 5, 1, 21, 0, 0, 0, zone), date(5, 2, 1)},
	} {
		got := Report{Day: c.day, Hour: c.hour}.Time(c.latest)
		if !got.Equal(c.want) || got.Location() != time.UTC {
			t.Errorf("day %d, %d h, latest %v: %v, want %v", c.day, c.hour, c.latest, got, c.want)
		}
	}
}

func FuzzMETAR(f *testing.F) {
	for _, line := range reports(f) {
		f.Add(line)
	}
	f.Add("XXAA 021851Z")
	f.Add("🔥 021851Z NaN/NaN")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseMETAR(text)
		if err != nil {
			return
		}
		again, err := ParseMETAR(r.Raw)
		if diff := cmp.Diff(r, again); err != nil || diff != "" {
			t.Errorf("%q read again: %v\n%s", r.Raw, err, diff)
		}
		if r.Time(time.Unix(0, 0)).IsZero() {
			t.Errorf("%q has no time", r.Raw)
		}
		_, _, _ = r.Reading.Air(units.Some(0)) // must not panic
	})
}
