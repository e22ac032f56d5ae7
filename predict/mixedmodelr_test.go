package predict

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// table reads a CSV of testdata/mixedmodel, header left out.
func table(t *testing.T, name string) [][]string {
	f, err := os.Open("../testdata/mixedmodel/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// R's own mixed model (nlme, REML; testdata/mixedmodel/season.R) on a season of
// 150 runs with one time each: so many that the prior is little beside them.
func TestForecastAgainstMixedModelOfR(t *testing.T) {
	defer func(heat float64, walk, even level) {
		lawSD[lawOfHeat], drift, wear = heat, walk, even
	}(lawSD[lawOfHeat], drift, wear)
	none := level{launch: 1e-12, engine: 1e-12} // R's model has none of them
	lawSD[lawOfHeat], drift, wear = 1e-7, none, none
	want := map[string]float64{}
	for _, r := range table(t, "answers.csv") {
		want[r[0]] = number(t, r[1])
	}
	start := time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)
	machine := Machine{Kind: Car, Aspiration: Natural, Setup: "only", WeightLb: units.Some(3400), PowerHP: units.Some(345)}
	var runs []Pass
	for i, r := range table(t, "season.csv") {
		p := Pass{
			ID: fmt.Sprint(i), Day: r[0], Machine: machine, Effort: FullPower,
			Time: start.Add(time.Duration(i) * time.Hour),
			Air:  weather.Air{TempF: number(t, r[1]), StationInHg: number(t, r[2])}, AirKnown: true,
		}
		p.Splits.ETs[At1320] = units.Some(number(t, r[3]))
		runs = append(runs, p)
	}
	ask := func(day string) Forecast {
		f, err := Expect(runs, Pass{
			Time: start.AddDate(1, 0, 0), Day: day, Machine: machine,
			Air: weather.Air{TempF: 75, StationInHg: 29}, AirKnown: true,
		})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	seen, fresh := ask("25"), ask("99")
	ft := fresh.fit
	daySD := 0.
	for i, p := range ft.posteriors {
		daySD += ft.chance[i] * math.Sqrt(p.luck.launch+p.luck.engine)
	}
	c := timeAt[At1320]
	law, _ := ft.law()
	for _, x := range []struct {
		what           string
		got, tolerance float64
	}{
		{"et_seen_day", seen.ETs[At1320].Centre, 0.006},
		{"et_new_day", fresh.ETs[At1320].Centre, 0.006},
		{"noise_sd", math.Sqrt(ft.noise[0][c][c]), 0.0003},
		{"day_sd", daySD, 0.001},                             // the grid's steps and prior
		{"slope", law * ft.eras[0].air[c], want["slope_se"]}, // the prior law pulls a little
	} {
		if math.Abs(x.got-want[x.what]) > x.tolerance {
			t.Errorf("%s: %.5f, R %.5f ± %.5f", x.what, x.got, want[x.what], x.tolerance)
		}
		t.Logf("%s: %.5f, R %.5f", x.what, x.got, want[x.what])
	}
}
