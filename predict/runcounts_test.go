package predict_test

import (
	"slices"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// A run that counts by its own forecast is not left out by the fit of all runs with it among
// them: the plain way, each time. Most runs that count are told so.
func TestCountsByItsForecast(t *testing.T) {
	leftToFullRun(t)
	regimes := slices.DeleteFunc(season.Regimes(), func(g season.NamedRegime) bool {
		return campaignSize(0, 0, 1) == 0 && g.Name != "ordinary" && g.Name != "a fifth of days 2-6 % slower"
	})
	counted, told := 0, 0
	for i, g := range regimes {
		g.Meets = 25
		for seed := range campaignSize(0, 1, 6) {
			runs := season.Make(season.Simulator(i%2), 500+seed, g.Regime).Entered()
			var all []predict.Pass
			for _, r := range runs {
				all = append(all, r.Pass)
			}
			for n := 41; n < len(all); n += int(campaignSize(0, 5, 3)) {
				f, err := predict.Expect(all[:n], all[n])
				if err != nil {
					t.Fatal(err)
				}
				c, err := predict.NewHindsight(all[:n+1])
				if err != nil {
					t.Fatal(err)
				}
				out := slices.ContainsFunc(c.LeftOut(), func(l predict.LeftOut) bool { return l.ID == all[n].ID })
				if !out {
					counted++
				}
				if f.Counts(all[n]) {
					if told++; out {
						t.Errorf("%s, seed %d: run %d counts by its forecast, and is left out among all", g.Name, 500+seed, n)
					}
				}
			}
		}
	}
	t.Logf("%d runs count, %d of them by their forecasts", counted, told)
	if 10*told < 7*counted || told == 0 {
		t.Errorf("of %d runs that count %d are told by their forecasts: want seven of ten", counted, told)
	}
}
