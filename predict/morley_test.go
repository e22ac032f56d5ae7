package predict_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// morley are Michelson's measurements as if they were one car's times at the finish: an
// experiment is a day, 100 km/s are half a percent of 12.5 s, so that they scatter as runs
// do. The scale is all that was chosen.
func morley(t *testing.T) (runs []predict.Pass) {
	f, err := os.Open("../testdata/morley.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range rows[1:] {
		day, errDay := strconv.Atoi(row[0])
		nth, errNth := strconv.Atoi(row[1])
		speed, errSpeed := strconv.ParseFloat(row[2], 64)
		if errDay != nil || errNth != nil || errSpeed != nil {
			t.Fatalf("row %d: %v", i, row)
		}
		p := predict.Pass{
			ID: fmt.Sprint(i), Track: "lab", Day: row[0], Effort: predict.FullPower,
			Time: time.Date(2026, 6, 5+7*day, 9, 20*nth, 0, 0, time.UTC),
			Machine: predict.Machine{
				Kind: predict.Car, Aspiration: predict.Natural, Setup: "only", WeightLb: units.Some(3400), PowerHP: units.Some(400),
			},
			Air: weather.Standard, AirKnown: true,
		}
		p.Splits.ETs[predict.At1320] = units.Some(12.5 * math.Exp(5e-5*(speed-850)))
		runs = append(runs, p)
	}
	return runs
}

// plainT tells whether the 50, 80 and 95 % ranges of one more measurement, by the mean and
// the standard deviation of those before (any textbook's prediction interval), hold it.
func plainT(runs []predict.Pass, et float64) (in [3]bool) {
	var logs []float64
	for _, p := range runs {
		logs = append(logs, math.Log(p.Splits.ETs[predict.At1320].Value()))
	}
	mean, sd := stat.MeanStdDev(logs, nil)
	n := float64(len(logs))
	law := distuv.StudentsT{Sigma: 1, Nu: n - 1}
	for k, share := range []float64{0.5, 0.8, 0.95} {
		in[k] = math.Abs(math.Log(et)-mean) < law.Quantile(0.5+share/2)*sd*math.Sqrt(1+1/n)
	}
	return in
}

// Measurements made over days by somebody else, forecast one step ahead. The first experiment
// scatters by 105 km/s, the later ones by 54 to 79, so that ranges learned on it hold more
// than they say: 67/88/97 %, and so do those of the plain t law of all measurements before
// (plainT), which knows neither days nor runs: it is in the data.
// Successive ones hang together as runs of a car do not: the last
// is nearer than any mean, ours is nearer than the mean of three.
func TestForecastOfMichelson(t *testing.T) {
	t.Parallel()
	runs := morley(t)
	var n, miss, last, three float64
	var held, plain [3]float64
	for i := 3; i < len(runs); i++ {
		f, err := predict.Expect(runs[:i], runs[i])
		if err != nil {
			t.Fatal(err)
		}
		b, et := f.ETs[predict.At1320], runs[i].Splits.ETs[predict.At1320].Value()
		for k, in := range plainT(runs[:i], et) {
			if in {
				plain[k]++
			}
		}
		n++
		miss += math.Abs(b.Centre - et)
		hand, some := predict.ByHandTimes(runs[:i], runs[i], predict.At1320)
		if !some {
			t.Fatal("no way by hand")
		}
		last, three = last+math.Abs(hand[0]-et), three+math.Abs(hand[1]-et)
		for k, in := range []bool{
			b.Low50 <= et && et <= b.High50, b.Low80 <= et && et <= b.High80, b.Low95 <= et && et <= b.High95,
		} {
			if in {
				held[k]++
			}
		}
	}
	t.Logf(
		"%.0f forecasts: missed by %.4f s, last %.4f, mean of three %.4f; held %.0f/%.0f/%.0f %%, a plain t law %.0f/%.0f/%.0f",
		n,
		miss/n,
		last/n,
		three/n,
		100*held[0]/n,
		100*held[1]/n,
		100*held[2]/n,
		100*plain[0]/n,
		100*plain[1]/n,
		100*plain[2]/n,
	)
	for k, want := range []float64{0.5, 0.8, 0.95} {
		if se := math.Sqrt(want * (1 - want) / n); held[k]/n < want-2.5*se || held[k]/n > want+0.2 ||
			held[k] > plain[k]+2.5*math.Sqrt(n*want*(1-want)) {
			t.Errorf("the %.0f %% range held %.0f of %.0f", 100*want, held[k], n)
		}
	}
	if miss > three || miss > 1.2*last {
		t.Errorf("missed by %.4f s, by hand %.4f and %.4f", miss/n, last/n, three/n)
	}
}
