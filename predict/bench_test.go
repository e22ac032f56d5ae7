package predict_test

import (
	"fmt"
	"testing"
	"time"

	"slipcase/predict"
	"slipcase/predict/season"
)

// years strings seasons of one seed together until there are n runs: the same
// car, its first setup and its upgraded one, year after year.
func years(n int) []predict.Pass {
	var all []predict.Pass
	runs := season.New(1007).Runs
	for year := 0; len(all) < n; year++ {
		for _, r := range runs {
			p := r.Pass
			p.ID = fmt.Sprint(year, p.ID)
			p.Time = p.Time.AddDate(year, 0, 0)
			p.Day = p.Time.Format(time.DateOnly)
			all = append(all, p)
		}
	}
	return all[:n]
}

// BenchmarkForecastManySetups has a new setup every 30 runs.
func BenchmarkForecastManySetups(b *testing.B) {
	runs := years(301)
	for i := range runs {
		runs[i].Machine.Setup = fmt.Sprint("setup ", i/30)
	}
	for b.Loop() {
		if _, err := predict.Expect(runs[:300], runs[300]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkForecast(b *testing.B) {
	for _, n := range []int{0, 5, 20, 100, 300, 1000} {
		runs := years(n + 1)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := predict.Expect(runs[:n], runs[n]); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkBacktest(b *testing.B) {
	for _, n := range []int{75, 300, 1000} {
		runs := years(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := predict.RunBacktest(b.Context(), runs, runs, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkTrend(b *testing.B) {
	runs := years(300)
	for b.Loop() {
		if _, err := predict.NewTrend(runs); err != nil {
			b.Fatal(err)
		}
	}
}
