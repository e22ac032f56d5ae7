package weather

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// moist is air from SI figures.
func moist(t testing.TB, pPa, celsius, rhPct float64) Air {
	t.Helper()
	a, _, err := Reading{
		TempF: units.Some(celsius*1.8 + 32), RHPct: units.Some(rhPct), StationInHg: units.Some(pPa / units.PascalPerInHg),
	}.Air(units.Number{})
	if err != nil {
		t.Fatalf("%v Pa, %v C, %v %%: %v", pPa, celsius, rhPct, err)
	}
	return a
}

func celsius(f float64) float64 { return (f - 32) / 1.8 }

// near fails unless got is within tolerance of want, and names the source of want.
func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.8g, want %.8g within %g (%s)", what, got, want, tolerance, source)
	}
}

// table reads a file of testdata: comment lines, a header, rows.
func table(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, c := range cells {
			row[all[0][i]] = c
		}
		rows = append(rows, row)
	}
	return rows
}

func float(t *testing.T, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// anyAir draws the air of any track on a racing day, and colder.
func anyAir(t *rapid.T) Air {
	a := Air{
		TempF:       rapid.Float64Range(-10, 125).Draw(t, "°F"),
		StationInHg: rapid.Float64Range(20, 31.5).Draw(t, "inHg"),
	}
	rh := rapid.Float64Range(0.01, 1).Draw(t, "RH")
	a.VapourInHg = rh * saturatedVapourPa(a.pressurePa(), a.kelvin()) / units.PascalPerInHg
	return a
}
