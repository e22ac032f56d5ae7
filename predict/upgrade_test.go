package predict_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather"
	"slipcase/weather/units"
)

// The invented upgrades that the doubts were set on had the seeds 1 to 2000; those
// of the tests begin here.
const upgradeSeed = 500_001

// upgradeTally sums up how the predicted changes of ET met the true ones.
type upgradeTally struct {
	n, held         int
	miss, bias      float64
	formula, narrow float64 // of the cube root; of 0.8 of it
}

func (y *upgradeTally) add(s season.Upgrade, u predict.Upgrade) {
	m := s.Finish
	truth, got := s.After.ET[m]-s.Before.ET[m], u.ETGain[m]
	y.n++
	if got.Low <= truth && truth <= got.High {
		y.held++
	}
	y.miss += math.Abs(got.Likely - truth)
	y.bias += got.Likely - truth
	y.formula += math.Abs(u.CubeRootS.Likely - truth)
	y.narrow += math.Abs(0.8*u.CubeRootS.Likely - truth)
}

func (y upgradeTally) String() string {
	n := float64(y.n)
	return fmt.Sprintf(
		"%d upgrades: mean absolute error %.0f thousandths (bias %+.0f), cube root %.0f, 0.8 of it %.0f: %.2f of the cube root's; 80 %% interval held %.1f %%",
		y.n,
		1000*y.miss/n,
		1000*y.bias/n,
		1000*y.formula/n,
		1000*y.narrow/n,
		y.miss/y.formula,
		100*float64(y.held)/n,
	)
}

// TestUpgrades tries the run model on invented upgrades of 5 to 40 % power and up
// to 10 % weight on or off. The gain is told as it truly is, and again as two dyno
// sheets of ±2 % tell it, which no model can see through.
func TestUpgrades(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	n, low, high, most := 80, 0.65, 0.93, 0.6
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		n, low, high, most = 1500, 0.76, 0.84, 0.5
	}
	var truly, sheets upgradeTally
	var kinds [3]upgradeTally // by how much of the cube root's gain is foretold
	for seed := uint64(upgradeSeed); seed < upgradeSeed+uint64(n); seed++ {
		s := season.NewUpgrade(seed)
		p, err := predict.NewProspect(s.Runs, s.Now)
		if err != nil {
			t.Fatal(err)
		}
		try := func(gain predict.Range) predict.Upgrade {
			u, err := p.Try(predict.Change{Gain: gain, WeightLb: predict.Exactly(s.AddedLb)})
			if err != nil {
				t.Fatal(err)
			}
			return u
		}
		known := try(predict.Exactly(s.Gain))
		truly.add(s, known)
		switch share := known.ETGain[s.Finish].Likely / known.CubeRootS.Likely; {
		case share < 0.65:
			kinds[0].add(s, known)
		case share < 0.8:
			kinds[1].add(s, known)
		default:
			kinds[2].add(s, known)
		}
		sheets.add(s, try(predict.ClaimedGain(s.Stated)))
	}
	t.Logf("gain known: %v", truly)
	t.Logf("by sheets:  %v", sheets)
	for i, of := range []string{"grip-limited", "between", "power-limited"} {
		t.Logf("%s: %v", of, kinds[i])
	}
	for _, y := range []upgradeTally{truly, sheets} {
		if held := float64(y.held) / float64(y.n); held < low || held > high {
			t.Errorf("80 %% interval held %.3f, want %.2f to %.2f", held, low, high)
		}
	}
	if truly.miss > most*truly.formula {
		t.Errorf("error %.2f of the cube root's, want at most %.2f", truly.miss/truly.formula, most)
	}
}

func roadCar(weightLb, hp float64) predict.Pass {
	return predict.Pass{
		Machine: predict.Machine{
			Kind: predict.Car, Aspiration: predict.Natural, Setup: "now",
			WeightLb: units.Some(weightLb), PowerHP: units.Some(hp), PowerAt: predict.AtWheels, Standard: predict.SAE,
		},
		Air: weather.Standard, AirKnown: true,
	}
}

func prospect(t *testing.T) *predict.Prospect {
	p, err := predict.NewProspect(nil, roadCar(3450, 312))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Nothing changed is no difference and no doubt about it; more power, less weight
// and more grip are quicker; the difference is surer than either end.
func TestUpgradeSense(t *testing.T) {
	p := prospect(t)
	m := predict.At1320
	none, err := p.Try(predict.Change{})
	if err != nil || none.ETGain[m] != (predict.Range{}) {
		t.Errorf("nothing changed: %v, %v", none.ETGain[m], err)
	}
	for what, c := range map[string]predict.Change{
		"power":  {Gain: predict.ClaimedGain(0.29)},
		"weight": {WeightLb: predict.Exactly(-200)},
		"grip":   {Grip: predict.Exactly(0.05)},
	} {
		u, err := p.Try(c)
		if err != nil {
			t.Fatal(err)
		}
		g, before, after := u.ETGain[m], p.Before.ETs[m], u.ETs[m]
		if !(g.Low < g.Likely && g.Likely < g.High && g.Likely < 0) {
			t.Errorf("%s: difference %v", what, g)
		}
		if math.Abs(before.Centre+g.Likely-after.Centre) > 1e-9 {
			t.Errorf("%s: %v and %v do not make %v", what, before.Centre, g.Likely, after.Centre)
		}
		if w := g.High - g.Low; w > before.High80-before.Low80 || w > after.High80-after.Low80 {
			t.Errorf(
				"%s: the difference is %v wide, the ends %v and %v",
				what,
				w,
				before.High80-before.Low80,
				after.High80-after.Low80,
			)
		}
	}
}

// The cube root beside it: dET/ET = -⅓ dP/P and +⅓ dW/W by derivation.
func TestCubeRootOfASmallChange(t *testing.T) {
	p := prospect(t)
	et := p.Before.ETs[predict.At1320].Centre
	const e = 1e-5
	for _, c := range []struct {
		change predict.Change
		want   float64
	}{
		{predict.Change{Gain: predict.Exactly(e)}, -et * e / 3},
		{predict.Change{WeightLb: predict.Exactly(3450 * e)}, et * e / 3},
	} {
		u, err := p.Try(c.change)
		if err != nil || math.Abs(u.CubeRootS.Likely/c.want-1) > 1e-4 {
			t.Errorf("%+v: %v, %v; want %v", c.change, u.CubeRootS.Likely, err, c.want)
		}
	}
}

func TestUpgradeRefuses(t *testing.T) {
	p := prospect(t)
	for what, c := range map[string]predict.Change{
		"no power left":    {Gain: predict.Exactly(-1)},
		"five times":       {Gain: predict.Exactly(4.1)},
		"no weight left":   {WeightLb: predict.Exactly(-3300)},
		"twice the weight": {WeightLb: predict.Exactly(3500)},
		"no number":        {Gain: predict.Exactly(math.NaN())},
		"endless":          {Grip: predict.Range{High: math.Inf(1)}},
		"falling":          {Gain: predict.Range{Low: 0.3, Likely: 0.2, High: 0.1}},
	} {
		if u, err := p.Try(c); err == nil {
			t.Errorf("%s: %v", what, u.ETGain)
		}
	}
}
