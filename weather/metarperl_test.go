package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"slipcase/weather/units"
)

// decoded-perl.csv is what a second independent decoder makes of reports.txt. It
// gives knots and inHg whatever was sent, and the whole degrees of the body.
func TestAgainstASecondDecoder(t *testing.T) {
	const source = "Geo::METAR 1.15"
	rows := table(t, "../testdata/metar/decoded-perl.csv")
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
		if at := fmt.Sprintf("%02d:%02d UTC", r.Hour, r.Minute); r.Station != row["station"] || at != row["time"] {
			t.Errorf("%s: %s %s, want %s %s (%s)", lines[i], r.Station, at, row["station"], row["time"], source)
		}
		degrees := 1e-6
		if strings.Contains(lines[i], " T0") || strings.Contains(lines[i], " T1") {
			degrees = 0.51 * 1.8 // tenths against whole degrees
		}
		cell := func(name string, kind units.Kind, unit string) units.Number {
			text := row[name]
			if text == "" || text == "Variable" || name == "wind_from_deg" && float(t, row["wind_kt"]) == 0 {
				return units.Number{}
			}
			v, err := kind.Parse(text + unit)
			if err != nil {
				t.Fatal(err)
			}
			return units.Some(v)
		}
		for _, c := range []struct {
			what      string
			got, want units.Number
			tolerance float64
		}{
			{"wind", r.Reading.WindMPH, cell("wind_kt", units.Speed, "kt"), 1e-3},
			{"gust", r.GustMPH, cell("gust_kt", units.Speed, "kt"), 1e-3},
			{"wind from", r.Reading.WindFromDeg, cell("wind_from_deg", units.Degrees, ""), 0},
			{"temperature", r.Reading.TempF, cell("temp_c", units.Temperature, "C"), degrees},
			{"dew point", r.Reading.DewPointF, cell("dew_point_c", units.Temperature, "C"), degrees},
			{"altimeter", r.Reading.AltimeterInHg, cell("altimeter_inhg", units.Pressure, "inHg"), 1e-3},
		} {
			if c.got.Known() != c.want.Known() || math.Abs(c.got.Value()-c.want.Value()) > c.tolerance {
				t.Errorf("%s: %s %v, want %v (%s)", lines[i], c.what, c.got, c.want, source)
			}
		}
	}
}
