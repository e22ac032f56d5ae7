package predict_test

import (
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"slipcase/predict/season"
)

// firstJudgingSeed begins the seasons of the regimes that nothing was set on. (Those from
// 300,001 to 530,000 were looked at before.)
const firstJudgingSeed = 530_001

// TestRegimes prints how the forecast does on seasons out of the ordinary, on both
// simulators, and holds it to regimeBounds:
//
//	SLIPCASE_CAMPAIGN=1 SLIPCASE_SEASONS=400 go test ./predict -run TestRegimes -cpu 1 -timeout 0 -v
//
// 100 seasons each where no number is given; with SLIPCASE_CAMPAIGN=tune on the tuning seeds.
// In an ordinary test run a few of them, loosely. One regime: -run TestRegimes/first/ordinary.
func TestRegimes(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	how := os.Getenv("SLIPCASE_CAMPAIGN")
	first, n := uint64(firstJudgingSeed), campaignSize(1, 3, 100)
	if how == "tune" {
		first, n = firstTuningSeed, 40
	}
	if s, err := strconv.ParseUint(os.Getenv("SLIPCASE_SEASONS"), 10, 64); err == nil {
		n = s
	}
	for by, name := range []string{"first", "second"} {
		t.Run(name, func(t *testing.T) {
			t.Logf("seeds from %d; %s", first, regimeHead)
			all := tables{}
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
					all[g.Name] = rows
					t.Log("\n" + text)
					if how != "tune" {
						hold(t, by, g.Name, rows)
					}
				})
			}
			grant(t, by, all, how != "tune")
		})
	}
}

// bound is what a row of the table is held to, beside what 2.5 standard errors allow: at
// most so many times the ideal's miss or the best way's by hand, and so far from 80 % held;
// 0 where it is not asked.
type bound struct{ ideal, hand, off80 float64 }

// regimeBounds are those of the rows "regime/part", for the first and the second simulator;
// of all other regimes the usual bound. Where what is wanted is not met, the bound is what was
// reached on seeds from 400,001, or from 300,001.
//
// Why not: who knows the car knows what the upgrade brought. A change nobody entered costs its
// first run, which nobody can foresee; the table has what is left to one who is told of it.
var regimeBounds = map[string][2]bound{
	"ordinary/":                 {{1.24, 0, 4}, {1.24, 0, 4}},
	"steady car to 660 ft/":     {{1.65, 0, 9}, {1.9, 0, 12}}, // wanted: 6 off 80
	"bad first run, not noted/": {{1.4, 0, 6}, {1.4, 0, 6}},
	"a fifth of days 2-6 % slower/slow day, from the 3rd": {{0, 1.6, 0}, {0, 1.6, 0}},
	"hidden +8 % power/later":                             {{1.24, 0, 6}, {1.36, 0, 6}},
	"hidden +25 % power/later":                            {{1.24, 0, 6}, {1.24, 0, 6}},
	"hidden -10 % power/later":                            {{1.24, 0, 6}, {1.24, 0, 6}},
	"hidden -3 % weight/":                                 {{1.3, 0, 6}, {1.3, 0, 6}},
	"+25 % said, +3 % came/later":                         {{1.2, 0, 6}, {1.3, 0, 6}},
	"no upgrade/":                                         {{1.24, 0, 4}, {1.24, 0, 4}},
	"wear .02 s a month/":                                 {{1.35, 0, 6}, {1.35, 0, 7}},
	"5 years of runs/":                                    {{1.2, 0, 6}, {1.2, 0, 6}},
	"wear, 5 years of runs/":                              {{1.24, 0, 10}, {1.24, 0, 6}}, // wanted: 6 off 80
	"away track 10 % less grip/":                          {{1.6, 0, 6}, {1.35, 0, 6}},   // wanted: 2nd visit as home
	"away track 10 % less grip/away, first day":           {{0, 1.8, 0}, {0, 1.8, 0}},
	"right lane .02 slower/":                              {{1.4, 0, 6}, {1.35, 0, 6}},
	"steady, lane .02 slower/":                            {{2.4, 0, 15}, {2.5, 0, 15}},
	"heat, -.6 % power a run/":                            {{1.4, 0, 6}, {1.4, 0, 6}},
	"lifts in 70 %, not noted/":                           {{1.6, 1.15, 6}, {1.6, 1.15, 6}},
	"lifts in 90 %, not noted/":                           {{2.3, 1.15, 13}, {1.8, 1.15, 10}},
	"sandbagging in 40 %/":                                {{1.3, 1.15, 6}, {1.45, 1.15, 6}},
	"two drivers/":                                        {{1.45, 0, 6}, {1.45, 0, 6}},
	"rider 40 lb heavier, entered/":                       {{1.35, 0, 6}, {1.35, 0, 6}},
	"rider 40 lb heavier, not/":                           {{1.4, 0, 6}, {1.4, 0, 6}},
	"air every 4th run/":                                  {{1.45, 0, 8}, {1.4, 0, 11}},
	"air in the morning only/":                            {{1.5, 0, 13}, {1.5, 0, 15}},
	"air read an hour late/":                              {{1.4, 0, 7}, {1.35, 0, 9}},
	"only good runs entered/":                             {{1.5, 0, 11}, {1.5, 0, 10}},
	"wrong 1000 ft in 12 %/":                              {{1.35, 0, 6}, {1.35, 0, 6}},
}

var usualBound = bound{off80: 6}

// hold holds the rows of a regime to what was reached, with 2.5 standard errors: those of
// the misses are a sixth at 20 seasons, less by the root of their number.
func hold(t *testing.T, by int, regime string, rows map[string]*tally) {
	for part, y := range rows {
		b, some := regimeBounds[regime+"/"+part]
		want := b[by]
		if !some && part == "" {
			want = usualBound
		}
		if y.n > 0 && math.IsNaN(y.miss/y.ideal) {
			t.Errorf("%s, %s: no figure: a run that never came", regime, part) // it would meet every bound
		}
		slack := 1 + 0.17*math.Sqrt(20/float64(len(y.bySeason)))
		few := 40 / math.Sqrt(y.n) // of runs on their own
		if held, se := y.percent(heldOf(1)); want.off80 > 0 && math.Abs(held-80) > want.off80+2.5*math.Max(se, few) {
			t.Errorf("%s, %s: the 80 %% range held %.1f ± %.1f %%", regime, part, held, se)
		}
		if want.ideal > 0 && y.miss > want.ideal*slack*y.ideal {
			t.Errorf("%s, %s: missed by %.2f times the ideal, want at most %.2f", regime, part, y.miss/y.ideal, want.ideal)
		}
		if best := slices.Min(y.hand[:]); want.hand > 0 && y.miss > want.hand*slack*best {
			t.Errorf(
				"%s, %s: missed by %.2f times the best way by hand, want at most %.2f",
				regime,
				part,
				y.miss/best,
				want.hand,
			)
		}
	}
}
