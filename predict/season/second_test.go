package season

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/predict"
	"slipcase/weather/units"
)

// The second simulator's seasons are their seeds, with cars, motorcycles and all limits.
func TestSecondSeasons(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	if d := cmp.Diff(Make(Second, 7, Regime{}), Make(Second, 7, Regime{})); d != "" {
		t.Error(d)
	}
	const some = 30
	var limits [Converter + 1]int
	kinds := map[predict.Kind]int{}
	for seed := uint64(5001); seed < 5001+some; seed++ {
		s := Make(Second, seed, Regime{})
		limits[s.Limit]++
		kinds[s.Kind]++
		for i, r := range s.Runs {
			if et := r.Mean[predict.At1320]; !(et > 6 && et < 20) {
				t.Errorf("season %d, run %d: %.2f s on average", seed, i, et)
			}
			if r.Clean && math.Abs(math.Log(r.Pass.Splits.ETs[s.Finish].Value()/r.Today[s.Finish])) > 6*s.NoiseSD {
				t.Errorf(
					"season %d, run %d: %v s, expected %.3f with a noise of %.4f",
					seed,
					i,
					r.Pass.Splits.ETs[s.Finish],
					r.Today[s.Finish],
					s.NoiseSD,
				)
			}
		}
		if s.Elasticity >= -0.02 {
			t.Errorf("season %d: elasticity %.3f", seed, s.Elasticity)
		}
	}
	t.Logf("%v by limit (tires, wheelie, torque, converter), %v", limits, kinds)
	for l, n := range limits {
		if n < 3 {
			t.Errorf("%d of %d seasons are limited by %v", n, some, Limit(l))
		}
	}
	if kinds[predict.Motorcycle] < 4 || kinds[predict.Car] < 15 {
		t.Errorf("%v", kinds)
	}
}

// Both simulators' ways of telling a limit agree where both apply: the launch's answers
// to grip and torque, taken from the second's vehicles as from the first's.
func TestLimitsOfTheFirst(t *testing.T) {
	var n [Converter + 1]int
	for seed := range uint64(60) {
		kind := predict.Car
		if seed%3 == 0 {
			kind = predict.Motorcycle
		}
		n[limitOf(newMachine(rand.New(rand.NewPCG(seed, 3)), kind, 8+float64(seed%8), 1.2))]++
	}
	t.Logf("%v by limit (tires, wheelie, torque, converter)", n)
	if n[Tires] == 0 || n[Wheelie] == 0 || n[Converter] == 0 {
		t.Errorf("%v", n)
	}
}

// A power figure is what it says: stated in its standard, a car's power in standard air
// is higher than in the SAE's (warmer, thinner) reference air; at the clutch it is more
// than at the wheels.
func TestStatedPowerOfTheSecond(t *testing.T) {
	for seed := range uint64(20) {
		g := newGeared(rand.New(rand.NewPCG(seed, 5)), Limit(seed%4), predict.Car)
		watts := func(at predict.Place, standard predict.Standard) float64 {
			h := *g
			h.at, h.standard = at, standard
			return h.facts().watts
		}
		sae, old := watts(predict.AtWheels, predict.SAE), watts(predict.AtWheels, predict.StandardJ607)
		if old/sae < 1 || old/sae > 1.08 {
			t.Errorf("vehicle %d: J607 over SAE %.4f", seed, old/sae)
		}
		if loss := 1 - sae/watts(predict.AtClutch, predict.SAE); loss < 0.06 || loss > 0.3 {
			t.Errorf("vehicle %d: driveline and converter take %.3f", seed, loss)
		}
	}
}

// Each regime is as large as it says, on both simulators.
func TestRegimesAreWhatTheySay(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	seeds := uint64(2)
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		seeds = 12
	}
	each := func(by Simulator, g Regime, f func(seed uint64, was, is Season)) {
		t.Helper()
		for seed := uint64(7001); seed < 7001+seeds; seed++ {
			plain := g
			plain.SlowDays, plain.Hidden, plain.WearS, plain.HeatRun, plain.AwayGrip, plain.LaneS = 0, Change{}, 0, 0, 0, 0
			plain.Wrong1000, plain.OtherDriver, plain.Said, plain.Came, plain.BadFirst = 0, false, 0, 0, false
			f(seed, Make(by, seed, plain), Make(by, seed, g))
		}
	}
	for _, by := range []Simulator{First, Second} {
		// Later at the finish, s, by truth.
		later := func(was, is Season, i int) float64 {
			return is.Runs[i].Mean[is.Finish] - was.Runs[i].Mean[was.Finish]
		}
		slow, days := 0, map[string]bool{}
		each(by, Regime{SlowDays: 0.5}, func(seed uint64, was, is Season) {
			for i, r := range is.Runs {
				slower := r.Today[is.Finish]/was.Runs[i].Today[is.Finish] - 1
				days[r.Pass.Day+string(rune(seed))] = true
				if r.SlowDay && !(slower > 0.012 && slower < 0.075) || !r.SlowDay && slower != 0 {
					t.Errorf("simulator %d, season %d: slow day %v, %.4f slower", by, seed, r.SlowDay, slower)
				}
				if r.SlowDay && r.Round == 0 {
					slow++
				}
			}
		})
		if share := float64(slow) / float64(len(days)); share < 0.3 || share > 0.7 {
			t.Errorf("simulator %d: %.2f of days slow, want .5", by, share)
		}
		each(by, Regime{LaneS: 0.02}, func(seed uint64, was, is Season) {
			for i, r := range is.Runs {
				want := map[string]float64{"left": 0, "right": 0.02}[r.Pass.Lane]
				if d := later(was, is, i); math.Abs(d-want) > 0.006 {
					t.Errorf("simulator %d, season %d: lane %s %.4f later", by, seed, r.Pass.Lane, d)
				}
			}
		})
		each(by, Regime{WearS: 0.02, NoUpgrade: true}, func(seed uint64, was, is Season) {
			last := len(is.Runs) - 1
			months := is.Runs[last].Pass.Time.Sub(is.Runs[0].Pass.Time).Hours() / 24 / daysPerMonth
			if d := later(was, is, last) / months; math.Abs(d-0.02) > 0.008 {
				t.Errorf("simulator %d, season %d: wears %.4f s a month", by, seed, d)
			}
		})
		each(by, Regime{HeatRun: -0.006}, func(seed uint64, was, is Season) {
			for i, r := range is.Runs {
				if d := later(was, is, i); r.Round == 0 && d != 0 ||
					r.Round > 2 && !(d > 0 && d < 0.5*0.006*float64(r.Round)*r.Mean[is.Finish]) {
					t.Errorf("simulator %d, season %d: run %d of a day %.4f later", by, seed, r.Round, d)
				}
			}
		})
		each(by, Regime{Hidden: Change{Gain: 0.25}, NoUpgrade: true}, func(seed uint64, was, is Season) {
			for i, r := range is.Runs {
				if d := later(was, is, i); r.Hidden != (d < -0.02) || !r.Hidden && d != 0 {
					t.Errorf("simulator %d, season %d: hidden %v, %.4f later", by, seed, r.Hidden, d)
				}
				if r.Pass.Machine != was.Runs[i].Pass.Machine {
					t.Errorf("simulator %d, season %d: the hidden change is entered", by, seed)
				}
			}
		})
		each(by, Regime{Said: 0.25, Came: 0.03}, func(seed uint64, _, is Season) {
			first, last := is.Runs[0], is.Runs[len(is.Runs)-1]
			if !is.Sheet {
				return
			}
			said := last.Pass.Machine.PowerHP.Value() / first.Pass.Machine.PowerHP.Value() / math.Exp(
				is.SheetError[1]-is.SheetError[0],
			)
			if math.Abs(said-1.25) > 0.02 || is.TrueChange[is.Finish] < -0.02 {
				t.Errorf("simulator %d, season %d: %.3f said, %.4f of ET came", by, seed, said, is.TrueChange[is.Finish])
			}
		})
		each(by, Regime{Index: true, NoUpgrade: true}, func(seed uint64, _, is Season) {
			var miss float64
			for _, r := range is.Runs {
				miss += math.Abs(r.Mean[is.Finish]-is.Index) / float64(len(is.Runs))
			}
			if miss > 0.1 || miss < 0.002 {
				t.Errorf("simulator %d, season %d: misses its index of %.1f by %.3f on average", by, seed, is.Index, miss)
			}
		})
		each(by, Regime{OtherDriver: true, OtherLb: 40, OtherEntered: true}, func(seed uint64, was, is Season) {
			for i, r := range is.Runs {
				lb := r.Pass.Machine.WeightLb.Value() - was.Runs[i].Pass.Machine.WeightLb.Value()
				if d := later(was, is, i); (r.Driver == "other") != (d > 0.001) || (lb > 30) != (d > 0.001) {
					t.Errorf("simulator %d, season %d: driver %s, %.0f lb, %.4f later", by, seed, r.Driver, lb, d)
				}
			}
		})
		each(by, Regime{BadFirst: true}, func(seed uint64, _, is Season) {
			if r := is.Runs[0]; r.Clean || r.Pass.Effort != "" || r.Pass.FullFt != (units.Number{}) {
				t.Errorf("simulator %d, season %d: first run %+v", by, seed, r)
			}
		})
		wrong, all := 0, 0
		each(by, Regime{Wrong1000: 0.12}, func(_ uint64, was, is Season) {
			for i, r := range is.Runs {
				a, b := r.Pass.Splits.ETs[predict.At1000], was.Runs[i].Pass.Splits.ETs[predict.At1000]
				if is.Finish == predict.At1320 && a.Known() {
					all++
					if d := math.Abs(a.Value() - b.Value()); d > 0.09 && d < 0.31 {
						wrong++
					} else if d != 0 {
						t.Errorf("1000 ft off by %.3f", d)
					}
				}
			}
		})
		if share := float64(wrong) / float64(all); math.Abs(share-0.12) > 4*math.Sqrt(0.12*0.88/float64(all)) {
			t.Errorf("simulator %d: %.3f of 1000 ft times wrong", by, share)
		}
		lifted, runs, entered := 0, 0, 0
		for seed := uint64(7001); seed < 7001+seeds; seed++ {
			for _, r := range Make(by, seed, Regime{Lifts: 0.7}).Runs {
				runs++
				if !r.Clean && r.CleanFt > 0 {
					lifted++
					if r.Pass.Effort != "" {
						t.Errorf("simulator %d, season %d: a lift noted", by, seed)
					}
				}
			}
			s := Make(by, seed, Regime{OnlyGood: true})
			entered += len(s.Entered())
		}
		if share := float64(lifted) / float64(runs); share < 0.55 || share > 0.75 {
			t.Errorf("simulator %d: %.2f lifted", by, share)
		}
		if share := float64(entered) / float64(runs); share < 0.5 || share > 0.85 {
			t.Errorf("simulator %d: %.2f entered of those to be logged", by, share)
		}
	}
}

// An upgrade by either simulator: more power, less weight and more grip are no slower,
// and the limit is the one asked for.
func TestUpgradesOfBoth(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	for _, by := range []Simulator{First, Second} {
		for seed := uint64(7001); seed < 7013; seed++ {
			limit := Limit(seed % 4)
			for _, c := range []Change{{Gain: 0.3}, {Weight: -0.1}, {Grip: 0.2}} {
				u := NewUpgradeOf(by, seed, limit, c)
				gained := u.After.ET[u.Finish] - u.Before.ET[u.Finish]
				if by == Second && u.Limit != limit || len(u.Runs) == 0 || gained > 0.003 {
					t.Errorf("simulator %d, seed %d, %+v: limit %v, %d runs, %+.3f s", by, seed, c, u.Limit, len(u.Runs), gained)
				}
				if c.Gain > 0 && (gained > -0.03 || math.Abs(u.Stated-c.Gain) > 0.13) {
					t.Errorf("simulator %d, seed %d: power gains %+.3f s, stated %.3f", by, seed, gained, u.Stated)
				}
			}
		}
	}
}

func BenchmarkSecondSeason(b *testing.B) {
	for b.Loop() {
		Make(Second, 5001, Regime{})
	}
}
