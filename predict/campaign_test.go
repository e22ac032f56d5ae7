package predict_test

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// trial is one forecast of a clean run and what came of it.
type trial struct {
	runs     int // runs before it
	nth      int // of those, in this setup
	setup    int
	et       float64
	got      predict.Band
	hand     [4]float64
	floor    float64
	floorSD  float64
	possible float64 // after the upgrade: with the sheets' error
	newTrack bool
	sheet    bool
	bike     bool
}

// drive forecasts every clean run of a season from the runs before it.
func drive(t testing.TB, s season.Season) []trial {
	var out []trial
	var all, clean []predict.Pass
	plain, sheets := newFloor(s, false), newFloor(s, true)
	for _, r := range s.Runs {
		plain.open(r.Pass.Day)
		sheets.open(r.Pass.Day)
		at := s.Finish
		if r.Clean {
			f, err := predict.Expect(all, r.Pass)
			if err != nil {
				t.Fatalf("season %d run %s: %v", s.Seed, r.Pass.ID, err)
			}
			x := trial{
				runs: len(all), nth: r.Nth, setup: r.Setup, et: r.Pass.Splits.ETs[at].Value(), got: f.ETs[at],
				newTrack: r.NewTrack, sheet: s.Sheet, bike: s.Kind == predict.Motorcycle,
			}
			x.hand, _ = predict.ByHand(clean, r.Pass, at)
			m, sd := plain.forecast()
			x.floor, x.floorSD = r.Mean[at]*math.Exp(m), r.Mean[at]*sd
			m, _ = sheets.forecast()
			x.possible = r.Mean[at] * math.Exp(m)
			out = append(out, x)
			y := math.Log(x.et / r.Mean[at])
			plain.learn(y)
			if r.Setup == 1 {
				sheets.learn(y)
			}
			clean = append(clean, r.Pass)
		}
		all = append(all, r.Pass)
	}
	return out
}

type tally struct {
	n                                         int
	mae, bias, floor, poss, score, floorScore float64
	hand                                      [4]float64
	held                                      [3]int
}

func (y *tally) add(x trial) {
	y.n++
	e := x.got.Centre - x.et
	y.mae += math.Abs(e)
	y.bias += e
	y.floor += math.Abs(x.floor - x.et)
	y.poss += math.Abs(x.possible - x.et)
	for i := range y.hand {
		y.hand[i] += math.Abs(x.hand[i] - x.et)
	}
	for i, in := range [3]bool{
		x.got.Low50 <= x.et && x.et <= x.got.High50,
		x.got.Low80 <= x.et && x.et <= x.got.High80,
		x.got.Low95 <= x.et && x.et <= x.got.High95,
	} {
		if in {
			y.held[i]++
		}
	}
	y.score += score(x.got.Low80, x.got.High80, x.et)
	y.floorScore += score(x.floor-1.2816*x.floorSD, x.floor+1.2816*x.floorSD, x.et)
}

func score(low, high, x float64) float64 {
	return high - low + 10*math.Max(0, math.Max(low-x, x-high))
}

func (y tally) String() string {
	n := float64(y.n)
	best := math.Min(math.Min(y.hand[0], y.hand[1]), math.Min(y.hand[2], y.hand[3]))
	return fmt.Sprintf("n %5d  mae %5.1f bias %+5.1f  hand %3.0f %3.0f %3.0f %3.0f  floor %5.1f poss %5.1f | x hand %.2f x floor %.2f x poss %.2f | held %2.0f %2.0f %2.0f  score x%.2f",
		y.n, y.mae/n*1e3, y.bias/n*1e3, y.hand[0]/n*1e3, y.hand[1]/n*1e3, y.hand[2]/n*1e3, y.hand[3]/n*1e3, y.floor/n*1e3, y.poss/n*1e3,
		y.mae/best, y.mae/y.floor, y.mae/y.poss,
		100*float64(y.held[0])/n, 100*float64(y.held[1])/n, 100*float64(y.held[2])/n, y.score/y.floorScore)
}

func TestCampaign(t *testing.T) {
	first, n := uint64(1), 60
	if v := os.Getenv("FIRST"); v != "" {
		k, _ := strconv.Atoi(v)
		first = uint64(k)
	}
	if v := os.Getenv("SEASONS"); v != "" {
		n, _ = strconv.Atoi(v)
	}
	names := []string{"0", "1-2", "3-5", "6-10", "11-20", "21+", "upgrade, first two", "new track", "cars", "bikes", "all"}
	tallies := map[string]*tally{}
	for _, k := range names {
		tallies[k] = new(tally)
	}
	for seed := first; seed < first+uint64(n); seed++ {
		for _, x := range drive(t, season.New(seed)) {
			bucket := "21+"
			switch {
			case x.runs == 0:
				bucket = "0"
			case x.runs <= 2:
				bucket = "1-2"
			case x.runs <= 5:
				bucket = "3-5"
			case x.runs <= 10:
				bucket = "6-10"
			case x.runs <= 20:
				bucket = "11-20"
			}
			if x.setup == 1 && x.nth < 2 {
				if x.sheet {
					tallies["upgrade, first two"].add(x)
				}
				continue
			}
			tallies[bucket].add(x)
			if x.newTrack {
				tallies["new track"].add(x)
			}
			if x.runs > 0 {
				if x.bike {
					tallies["bikes"].add(x)
				} else {
					tallies["cars"].add(x)
				}
				tallies["all"].add(x)
			}
		}
	}
	for _, k := range names {
		fmt.Printf("%-19s %v\n", k, tallies[k])
	}
}
