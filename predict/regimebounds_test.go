package predict_test

import (
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"slipcase/predict/season"
)

// firstJudgingSeed begins the seasons of the regimes that nothing was set on.
const firstJudgingSeed = 200_001

// TestRegimes prints how the forecast does on seasons out of the ordinary, on both
// simulators, and holds it to regimeBounds:
//
//	SLIPCASE_CAMPAIGN=1 SLIPCASE_SEASONS=400 go test ./predict -run TestRegimes -cpu 1 -timeout 0 -v
//
// 40 seasons each where no number is given; with SLIPCASE_CAMPAIGN=tune on the tuning seeds.
// In an ordinary test run a few of them, loosely. One regime: -run TestRegimes/first/ordinary.
func TestRegimes(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	how := os.Getenv("SLIPCASE_CAMPAIGN")
	first, n := uint64(firstJudgingSeed), campaignSize(1, 3, 40)
	if how == "tune" {
		first, n = firstTuningSeed, 40
	}
	if s, err := strconv.ParseUint(os.Getenv("SLIPCASE_SEASONS"), 10, 64); err == nil {
		n = s
	}
	for by, name := range []string{"first", "second"} {
		t.Run(name, func(t *testing.T) {
			t.Logf("seeds from %d; %s", first, regimeHead)
			for i, g := range season.Regimes() {
				seasons := n
				switch {
				case g.Meets > 0 && how == "":
					continue // years of runs
				case g.Meets > 0:
					seasons = (n + 4) / 5
				case how == "" && i%5 != by: // a few of them
					continue
				}
				t.Run(g.Name, func(t *testing.T) {
					text, rows := regimeTable(t, season.Simulator(by), g, first, seasons)
					t.Log("\n" + text)
					if how != "tune" {
						hold(t, by, g.Name, rows)
					}
				})
			}
		})
	}
}

// bound is what a row of the table is held to, beside what its standard error allows: at
// most so many times the ideal's miss or the best way's by hand, and so far from 80 % held;
// 0 where it is not asked.
type bound struct{ ideal, hand, off80 float64 }

// regimeBounds are those of the rows "regime/part", for the first and the second simulator;
// of all other regimes the usual bound.
var regimeBounds = map[string][2]bound{}

var usualBound = bound{off80: 6}

// hold holds the rows of a regime to what was reached, with 2.5 standard errors: of the
// misses a tenth at 20 seasons, less by the root of their number.
func hold(t *testing.T, by int, regime string, rows map[string]*tally) {
	for part, y := range rows {
		b, some := regimeBounds[regime+"/"+part]
		want := b[by]
		if !some && part == "" {
			want = usualBound
		}
		slack := 1 + 0.1*math.Sqrt(20/float64(len(y.bySeason)))
		if held := y.percent(y.held[1]); want.off80 > 0 && math.Abs(held-80) > want.off80+2.5*y.se() {
			t.Errorf("%s, %s: the 80 %% range held %.1f ± %.1f %%", regime, part, held, y.se())
		}
		if want.ideal > 0 && y.miss > want.ideal*slack*y.ideal {
			t.Errorf("%s, %s: missed by %.2f times the ideal, want at most %.2f", regime, part, y.miss/y.ideal, want.ideal)
		}
		if best := slices.Min(y.hand[:]); want.hand > 0 && y.miss > want.hand*slack*best {
			t.Errorf("%s, %s: missed by %.2f times the best way by hand, want at most %.2f", regime, part, y.miss/best, want.hand)
		}
	}
}
