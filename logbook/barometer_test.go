package logbook

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"slipcase/weather/units"
)

// TestWithPressure holds what is filled in against a look at every other reading.
func TestWithPressure(t *testing.T) {
	lot := rand.New(rand.NewPCG(9, 2))
	filled := 0
	for range 200 {
		var all []Reading
		for i := range lot.IntN(30) {
			r := Reading{Entry: Entry{ID: fmt.Sprint("a", i)}, Track: []string{"saltgrass", "high-mesa"}[lot.IntN(2)]}
			r.Time.Time = time.Date(2026, 5, 2, 8, 0, 0, 0, time.UTC).Add(time.Duration(lot.IntN(900)) * time.Minute)
			switch lot.IntN(3) {
			case 0:
				r.StationInHg = units.Some(28 + lot.Float64())
			case 1:
				r.AltimeterInHg = units.Some(30)
			}
			all = append(all, r)
		}
		for i, got := range WithPressure(all) {
			r := all[i]
			nearest, want := still+1, r.StationInHg
			for _, o := range all {
				if !hasPressure(r) && o.Track == r.Track && o.StationInHg.Known() {
					nearest = min(nearest, o.Time.Sub(r.Time.Time).Abs())
				}
			}
			ok := got.StationInHg == want
			if nearest <= still {
				filled, ok = filled+1, false
				for _, o := range all { // any of those as near
					ok = ok || o.StationInHg == got.StationInHg && o.Track == r.Track && o.Time.Sub(r.Time.Time).Abs() == nearest
				}
			}
			if !ok {
				t.Fatalf("%+v is given %v", r, got.StationInHg)
			}
		}
	}
	if filled < 100 {
		t.Errorf("only %d filled in", filled)
	}
}
