package predict_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather"
	"slipcase/weather/units"
)

// TestLatestRunsAreEnough: on long seasons of many kinds forecasts by the latest 200 runs miss
// by no more, beyond what chance leaves, than those by the latest 400.
func TestLatestRunsAreEnough(t *testing.T) {
	seasons := campaignSize(0, 0, 6)
	if seasons == 0 {
		t.Skip("left to a campaign: it takes minutes")
	}
	n, sum, squares, most, latest := 0., 0., 0., 0., 0.
	for _, g := range season.Regimes() {
		g.Meets = max(g.Meets, 60)
		for seed := range seasons {
			s := season.Make(season.Simulator(seed%2), 9100+seed, g.Regime)
			runs := s.Entered()
			var all []predict.Pass
			for _, r := range runs {
				all = append(all, r.Pass)
			}
			for i := 250; i < len(all); i += 25 {
				if !runs[i].Clean {
					continue
				}
				ran := all[i].Splits.ETs[s.Finish].Value()
				var miss [2]float64
				for k, expect := range []func([]predict.Pass, predict.Pass) (predict.Forecast, error){
					predict.ExpectByMost, predict.Expect,
				} {
					f, err := expect(all[:i], all[i])
					if err != nil {
						t.Fatal(err)
					}
					miss[k] = math.Abs(ran - f.ETs[s.Finish].Centre)
				}
				d := miss[1] - miss[0]
				n, sum, squares, most, latest = n+1, sum+d, squares+d*d, most+miss[0], latest+miss[1]
			}
		}
	}
	mean := sum / n
	sd := math.Sqrt((squares/n - mean*mean) / n)
	t.Logf("%.0f runs: by 400 they miss by %.4f s, by 200 by %.4f; %+.4f ± %.4f", n, most/n, latest/n, mean, sd)
	if mean > 2*sd || n < 500 {
		t.Errorf("by the latest 200 of %.0f runs forecasts miss by %.4f s more, ± %.4f", n, mean, sd)
	}
}

// A car that is back on what it ran long ago is forecast by what it ran then.
func TestBackOnAnOldSetup(t *testing.T) {
	start := time.Date(2024, 4, 6, 10, 0, 0, 0, time.UTC)
	var all []predict.Pass
	for i := range 291 {
		p := predict.Pass{
			ID: fmt.Sprint(i), Time: start.AddDate(0, 0, 3*(i/5)).Add(time.Duration(i%5) * time.Hour), Track: "home",
			Machine: predict.Machine{Kind: predict.Car, Aspiration: predict.Natural, Setup: "old", WeightLb: units.Some(3400)},
			Air:     weather.Standard, AirKnown: true, AirDoubtFt: 40,
		}
		ran := 1 + 0.003*math.Sin(float64(5*i))
		if i >= 70 && i < 290 {
			p.Machine.Setup = "new"
			ran *= 0.94
		}
		for m, et := range [predict.Marks]float64{1.9, 5.43, 8.41, 10.98, 13.21} {
			p.Splits.ETs[m] = units.Some(et * ran)
		}
		p.Splits.MPHs[predict.At1320] = units.Some(104.7 / ran)
		all = append(all, p)
	}
	f, err := predict.Expect(all[:290], all[290])
	if err != nil {
		t.Fatal(err)
	}
	if b := f.ETs[predict.At1320]; f.Basis.SameSetup < 35 || math.Abs(b.Centre-13.21) > 0.05 || b.High80-b.Low80 > 0.4 {
		t.Errorf("%.3f s, %.3f to %.3f by %d runs of the setup: want 13.21 by the 40 latest of 70",
			b.Centre, b.Low80, b.High80, f.Basis.SameSetup)
	}
}
