package weather

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"slipcase/weather/units"
)

// A place that was asked for other moments before, in any order and zone, says what one
// says that is asked for the first time.
func TestPlaceKeepsNothingWrong(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	zones := []*time.Location{time.UTC, time.FixedZone("", -5*3600)}
	if zone, err := time.LoadLocation("America/Chicago"); err == nil {
		zones = append(zones, zone)
	}
	start := time.Date(2026, 3, 7, 12, 0, 0, 0, time.UTC) // a day before the clocks change
	same := cmp.Options{
		cmpopts.EquateApprox(0, 1e-9),
		cmp.Comparer(func(a, b error) bool { return fmt.Sprint(a) == fmt.Sprint(b) }),
		cmp.Comparer(func(a, b units.Number) bool {
			return a.Known() == b.Known() && cmp.Equal(a.Value(), b.Value(), cmpopts.EquateApprox(0, 1e-9))
		}),
	}
	rounds := 20
	if testing.Short() {
		rounds = 5
	}
	for range rounds {
		var day []Timed
		for i := range r.IntN(40) {
			x := Timed{ID: fmt.Sprint("a", i), Time: start.Add(time.Duration(r.IntN(100*60)) * time.Minute)}
			x.Reading = Reading{TempF: units.Some(60 + 30*r.Float64()), RHPct: units.Some(30 + 40*r.Float64())}
			switch r.IntN(6) {
			case 0:
				x.Reading = Reading{DensityAltitudeFt: units.Some(3000 * r.Float64())}
			case 1:
				x.Reading.RHPct = units.Some(140)
			case 2, 3:
				x.Reading.StationInHg = units.Some(28.5 + r.Float64())
			}
			day = append(day, x)
		}
		slices.SortStableFunc(day, func(a, b Timed) int { return a.Time.Compare(b.Time) })
		elevation := units.Number{}
		if r.IntN(3) > 0 {
			elevation = units.Some(812)
		}
		kept := NewPlace(day, elevation)
		for range 100 {
			at := start.Add(time.Duration(r.IntN(110*60)) * time.Minute).In(zones[r.IntN(len(zones))])
			got, want := kept.At(at), At(day, at, elevation)
			if r.IntN(2) == 0 {
				now := at.Add(-time.Duration(r.IntN(600)) * time.Minute)
				got, want = kept.Forecast(now, at), NewPlace(day, elevation).Forecast(now, at)
			}
			if d := cmp.Diff(want, got, same); d != "" {
				t.Fatalf("%v of %d readings:\n%s", at, len(day), d)
			}
		}
	}
}
