package season

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/predict"
)

const tried = 40

// The same seed is the same season; another is another.
func TestSeasonIsItsSeed(t *testing.T) {
	if d := cmp.Diff(New(7), New(7)); d != "" {
		t.Error(d)
	}
	if cmp.Equal(New(7).Runs[0].Pass.Splits, New(8).Runs[0].Pass.Splits) {
		t.Error("two seeds, one season")
	}
}

// What the seasons promise: the spread of cars, tracks, runs and luck.
func TestSeasonsAreWhatTheyClaim(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	var runs, unsound, late, lifted, noted, upgrades int
	quick, slow := math.Inf(1), 0.
	var noise, nominal float64
	for seed := uint64(5001); seed < 5001+tried; seed++ {
		s := New(seed)
		day, round := "", 0
		var ratios []float64
		for i, r := range s.Runs {
			runs++
			if r.Pass.Day != day {
				day, round = r.Pass.Day, 0
				ratios = ratios[:0]
			}
			round++
			if i > 0 && r.Setup > s.Runs[i-1].Setup {
				upgrades++
			}
			if r.CleanFt == 0 {
				unsound++
			}
			if round > 2 {
				late++
				if !r.Clean && r.CleanFt > 0 {
					lifted++
					if r.Pass.Effort != "" {
						noted++
					}
				}
			} else if !r.Clean && r.CleanFt > 0 {
				t.Errorf("season %d: lifted in round %d", seed, round)
			}
			et := r.Pass.Splits.ETs[s.Finish]
			if !et.Known() {
				t.Errorf("season %d run %s: no time at the finish", seed, r.Pass.ID)
			}
			mean := r.Mean[predict.At1320]
			quick, slow = math.Min(quick, mean), math.Max(slow, mean)
			if r.Clean {
				// Differences between clean runs of a day have twice the noise's variance.
				y := math.Log(et.Value() / r.Mean[s.Finish])
				for _, o := range ratios {
					noise += (y - o) * (y - o) / 2 / float64(len(ratios))
					nominal += s.NoiseSD * s.NoiseSD / float64(len(ratios))
				}
				ratios = append(ratios, y)
			}
		}
	}
	near := func(what string, got, want, tolerance float64) {
		t.Helper()
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s: %.3f, want %.3f ± %.3f", what, got, want, tolerance)
		}
	}
	near("spoiled", float64(unsound)/float64(runs), spoiled, 0.02)
	near("lifted of the sound from round 3 on", float64(lifted)/float64(late), liftShare*(1-spoiled), 0.04)
	near("lifts noted", float64(noted)/float64(lifted), 0.5, 0.1)
	near("upgrades", float64(upgrades), tried, 0)
	near("noise over what it should be", math.Sqrt(noise/nominal), 1, 0.1)
	if quick > 8 || slow < 15 || quick < 6 || slow > 20 {
		t.Errorf("quarter miles from %.2f to %.2f s, want about 7 to 17", quick, slow)
	}
}

// The stepped vehicle obeys what any vehicle must.
func TestMachineObeysItsParts(t *testing.T) {
	for seed := uint64(5001); seed < 5011; seed++ {
		r := rand.New(rand.NewPCG(seed, 0))
		m := newMachine(r, predict.Car, 11.5, 1.2)
		base := m.run(standardAir, effects{}).et[predict.At1320]
		if math.Abs(base-11.5) > 0.15 && base < 11.5 {
			t.Errorf("machine %d runs %.3f, want 11.5 or what its tyres allow", seed, base)
		}
		for name, e := range map[string]effects{
			"less power":    {power: -0.05},
			"a worse start": {launch: -0.05},
			"slow shifts":   {shiftS: 0.05},
			"a lift":        {liftFt: 900, left: 0.2},
			"a spin":        {spin: 0.5, spinFt: 60},
		} {
			if et := m.run(standardAir, e).et[predict.At1320]; et <= base {
				t.Errorf("machine %d, %s: %.3f, without %.3f", seed, name, et, base)
			}
		}
		thin := state{305, 84, 1.5}
		if et := m.run(thin, effects{}).et[predict.At1320]; et <= base {
			t.Errorf("machine %d in thin air %.3f, in standard air %.3f", seed, et, base)
		}
	}
}

func BenchmarkSeason(b *testing.B) {
	for b.Loop() {
		New(5001)
	}
}
