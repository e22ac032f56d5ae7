package predict_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// The second simulator (package season/powertrain) shares no equation with the first or
// with the run model, and nothing was set on it. Seeds below 10,000 are for tuning; those
// of the tests begin here. Those of each limit are so far apart.
const secondSeed, upgradeStride = 600_001, 2_000

// judgingSeed is where the vehicles begin that the campaign looks at once.
const judgingSeed = 700_001

// campaignSize is how many of something are tried.
func campaignSize(short, ordinary, full uint64) uint64 {
	switch {
	case os.Getenv("SLIPCASE_CAMPAIGN") == "1":
		return full
	case testing.Short():
		return short
	}
	return ordinary
}

// leftToFullRun skips a test where only what is quick is wanted.
func leftToFullRun(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
}

// leverTally sums up how the predicted changes by one lever met the true ones.
type leverTally struct {
	upgradeTally
	truth float64      // mean change, s
	pairs [][2]float64 // of each, by how much the model missed and the cube root
}

func (y *leverTally) try(t *testing.T, p *predict.Prospect, u season.Upgrade) {
	t.Helper()
	got, err := p.Try(
		predict.Change{Gain: predict.Exactly(u.Gain), WeightLb: predict.Exactly(u.AddedLb), Grip: predict.Exactly(u.Grip)},
	)
	if err != nil {
		t.Fatal(err)
	}
	y.truth += u.After.ET[u.Finish] - u.Before.ET[u.Finish]
	miss, formula := y.miss, y.formula
	y.add(u, got)
	y.pairs = append(y.pairs, [2]float64{y.miss - miss, y.formula - formula})
}

// ratio is the error over the cube root's, and its standard error.
func (y *leverTally) ratio() (ratio, se float64) {
	ratio = y.miss / y.formula
	sum := 0.
	for _, p := range y.pairs {
		sum += math.Pow(p[0]-ratio*p[1], 2)
	}
	return ratio, math.Sqrt(sum) / y.formula
}

func (y *leverTally) coverage() (share, se float64) {
	p := float64(y.held) / float64(y.n)
	return 100 * p, 100 * math.Sqrt(p*(1-p)/float64(y.n))
}

func (y *leverTally) join(x leverTally) {
	y.n, y.held, y.miss, y.bias = y.n+x.n, y.held+x.held, y.miss+x.miss, y.bias+x.bias
	y.formula, y.truth, y.pairs = y.formula+x.formula, y.truth+x.truth, append(y.pairs, x.pairs...)
}

func (y *leverTally) row(what string) string {
	n := float64(y.n)
	share, se := y.coverage()
	ratio := "          -"
	if y.formula > 0 {
		r, se := y.ratio()
		ratio = fmt.Sprintf("%5.2f ± %.2f", r, se)
	}
	return fmt.Sprintf("%-34s %5d | %+7.0f | %6.0f %+6.0f | %6.0f %s | %5.1f ± %3.1f\n", what, y.n,
		1000*y.truth/n, 1000*y.miss/n, 1000*y.bias/n, 1000*y.formula/n, ratio, share, se)
}

var limits = [...]season.Limit{season.Tires, season.Wheelie, season.Torque, season.Converter}

// levers are the changes that are tried, by row.
var levers = []struct {
	name string
	of   func(seed uint64) season.Change
}{
	{"+10 % power", func(uint64) season.Change { return season.Change{Gain: 0.1} }},
	{"+50 % power", func(uint64) season.Change { return season.Change{Gain: 0.5} }},
	{"power", func(seed uint64) season.Change { return season.SomeChange(seed, season.Power) }},
	{"weight", func(seed uint64) season.Change { return season.SomeChange(seed, season.Weight) }},
	{"grip", func(seed uint64) season.Change { return season.SomeChange(seed, season.Grip) }},
}

// upgradesByLimit tries every lever on n vehicles of each limit. The limit of the first
// simulator's vehicles comes as it comes, mostly of tires: n are then for each on the
// average.
func upgradesByLimit(t *testing.T, by season.Simulator, first, n uint64) (table string, all map[string]*leverTally) {
	t.Helper()
	of := make([][len(limits)]leverTally, len(levers))
	for i, limit := range limits {
		for seed := first + uint64(i)*upgradeStride; seed < first+uint64(i)*upgradeStride+n; seed++ {
			changes := make([]season.Change, len(levers))
			for k, l := range levers {
				changes[k] = l.of(seed)
			}
			upgrades := season.NewUpgradesOf(by, seed, limit, changes...)
			p, err := predict.NewProspect(upgrades[0].Runs, upgrades[0].Now)
			if err != nil {
				t.Fatal(err)
			}
			for k, u := range upgrades {
				of[k][u.Limit].try(t, p, u)
			}
		}
	}
	table = fmt.Sprintf("%-34s %5s | %7s | %6s %6s | %6s %12s | 80 %% held\n",
		"change, limit", "n", "truth", "miss", "bias", "cube", "ratio")
	all = map[string]*leverTally{}
	for k, r := range levers {
		all[r.name] = &leverTally{}
		for i, limit := range limits {
			if of[k][i].n > 0 {
				table += of[k][i].row(r.name + ", " + limit.String())
				all[r.name].join(of[k][i])
			}
		}
		table += all[r.name].row(r.name + ", all")
	}
	return table, all
}

// TestUpgradesByLimit prints how the promised changes of ET meet the true ones: by what
// limits the launch, for 10 and 50 % more power, and for 5 to 60 % of power, 2 to 15 % of
// weight, 5 to 60 % of grip. With SLIPCASE_CAMPAIGN=1 there are 400 vehicles a limit.
//
// Wanted, and asserted: 80 % ranges that hold 75 to 85; a mean error of power at most 0.45 of
// the cube root's, and for weight no more than it. A few vehicles may be off by their own
// sampling error. What limits a launch is known by its runs alone, so that a row of one limit
// holds more or less.
// By 1,600 vehicles of each simulator, of the judging seeds (first and second simulator): power
// 0.38 and 0.43, weight 0.39 and 0.44, each ± 0.01 to 0.02; held 79.6 and 81.9 of power, 79.5 and
// 84.6 of weight, 76.4 and 82.8 of grip, each ± 1. By as many from 900,001 on, looked at once:
// power 0.38 and 0.457, weight 0.40 and 0.48; held 78.9 and 82.1, 77.6 and 82.9, 76.0 and 83.1.
// Power in the second is at the edge of 0.45: most of it is converters taken for a clutch in
// gear and the other way round, which slips hardly tell apart.
// With SLIPCASE_CAMPAIGN=tune the vehicles are those that the doubts were set on.
func TestUpgradesByLimit(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	first, n := uint64(secondSeed), campaignSize(1, 3, 400)
	switch os.Getenv("SLIPCASE_CAMPAIGN") {
	case "1":
		first = judgingSeed
	case "tune":
		first, n = firstTuningSeed, 400
	}
	table, one := upgradesByLimit(t, season.First, first, n)
	t.Log("first simulator, thousandths of a second\n" + table)
	table, two := upgradesByLimit(t, season.Second, first, n)
	t.Log("second simulator, thousandths of a second\n" + table)
	errors := 3. // standard ones, of few vehicles
	if n >= 100 {
		errors = 0
	}
	for which, of := range map[string]map[string]*leverTally{"first": one, "second": two} {
		for lever, most := range map[string]float64{"power": 0.45, "weight": 1} {
			if ratio, se := of[lever].ratio(); ratio > most+errors*se {
				t.Errorf("%s simulator, %s: missed by %.3f ± %.3f of the cube root's error, want at most %.2f",
					which, lever, ratio, se, most)
			}
		}
		for lever, y := range of {
			within := map[string]float64{"power": 5, "weight": 5, "grip": 5}[lever]
			if within == 0 {
				within = 12
			}
			share, _ := y.coverage()
			if se := 100 * math.Sqrt(0.8*0.2/float64(y.n)); math.Abs(share-80) > within+errors*se {
				t.Errorf("%s simulator, %s: 80 %% ranges hold %.1f %%, want 80 ± %g", which, lever, share, within)
			}
		}
	}
}

// TestCampaignOfTheSecondSimulator is TestCampaign on seasons of the second simulator.
func TestCampaignOfTheSecondSimulator(t *testing.T) {
	leftToFullRun(t)
	n := campaignSize(1, 6, 200)
	b := newBoard()
	for seed := uint64(firstTestSeed); seed < firstTestSeed+n; seed++ {
		b.add(drive(t, season.Make(season.Second, seed, season.Regime{})))
	}
	t.Logf("\n%v", b)
	if testing.Short() {
		return
	}
	b.check(t, "all", atMost{hand: 0.95, floor: 1.6, coverage: 12})
}
