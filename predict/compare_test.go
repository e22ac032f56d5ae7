package predict_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// trialDays are days of two setups, four runs of each a day, b slower than a by
// gain in logs; on separate days when apart. Runs scatter by 0.3 %, days by 0.3 %.
func trialDays(days int, gain float64, apart bool) []predict.Pass {
	return trialDaysOf(1, days, gain, apart)
}

func trialDaysOf(seed uint64, days int, gain float64, apart bool) []predict.Pass {
	var out []predict.Pass
	r := rand.New(rand.NewPCG(seed, 0))
	luck := make([]float64, days)
	for d := range luck {
		luck[d] = 0.003 * r.NormFloat64()
	}
	for d := range days {
		for i := range 8 {
			setup := "a"
			if i%2 == 1 && !apart || apart && d%2 == 1 {
				setup = "b"
			}
			p := predict.Pass{
				ID: fmt.Sprint(d, "-", i), Time: time.Date(2026, 5, 2+d, 10+i, 0, 0, 0, time.UTC), Day: fmt.Sprint(d),
				Machine: predict.Machine{Kind: predict.Car, Setup: setup, WeightLb: units.Some(3400), PowerHP: units.Some(350)},
				Air:     weather.Air{TempF: 70 + float64(i), StationInHg: 29.5}, AirKnown: true,
			}
			log := math.Log(12) + luck[d] + 0.003*r.NormFloat64()
			if setup == "b" {
				log += gain
			}
			p.Splits.ETs[predict.At1320] = units.Some(math.Exp(log))
			p.Splits.MPHs[predict.At1320] = units.Some(112 * 12 / math.Exp(log))
			p.Splits.ETs[predict.At60] = units.Some(1.75 * math.Exp(log) / 12)
			out = append(out, p)
		}
	}
	return out
}

func TestCompareFindsWhatIsThere(t *testing.T) {
	for _, c := range []struct {
		gain    float64
		verdict string
	}{{-0.02, "quicker"}, {0.02, "slower"}, {0, "~"}} {
		got, err := predict.Compare(trialDays(4, c.gain, false), "a", "b", 0.05)
		if err != nil {
			t.Fatal(err)
		}
		want := 12 * (math.Exp(c.gain) - 1)
		if got.Verdict != c.verdict || want < got.Difference.Low95 || want > got.Difference.High95 {
			t.Errorf("%+.3f s: %q, %+v", want, got.Verdict, got.Difference)
		}
		if got.A != (predict.SetupRuns{Setup: "a", Runs: 16, Days: 4}) ||
			got.B != (predict.SetupRuns{Setup: "b", Runs: 16, Days: 4}) {
			t.Errorf("counted %+v and %+v", got.A, got.B)
		}
		if (got.MoreDays == 0) != (c.verdict != "~") {
			t.Errorf("%q and %d more days", got.Verdict, got.MoreDays)
		}
		if got.QuickerBy > got.Quicker || got.Quicker < 0 || got.Quicker > 1 {
			t.Errorf("quicker %.3f, by %g s %.3f", got.Quicker, got.By, got.QuickerBy)
		}
	}
}

func TestCompareKnowsThatDaysAreTheUnit(t *testing.T) {
	together, err := predict.Compare(trialDays(4, -0.01, false), "a", "b", 0)
	if err != nil {
		t.Fatal(err)
	}
	apart, err := predict.Compare(trialDays(4, -0.01, true), "a", "b", 0)
	if err != nil {
		t.Fatal(err)
	}
	if width80(apart.Difference) < 1.3*width80(together.Difference) {
		t.Errorf("apart %.4f s wide, together %.4f", width80(apart.Difference), width80(together.Difference))
	}
	if len(together.Notes) != 0 {
		t.Errorf("together: %+v", together.Notes)
	}
	if !noted(apart.Notes, predict.NoSharedDay) {
		t.Errorf("apart: %+v", apart.Notes)
	}
}

// Of 95 % intervals for setups that do not differ, about 95 of a hundred hold 0.
func TestCompareIsHonest(t *testing.T) {
	leftToFullRun(t)
	const n = 100
	for _, apart := range []bool{false, true} {
		held := 0
		for seed := range uint64(n) {
			c, err := predict.Compare(trialDaysOf(seed, 6, 0, apart), "a", "b", 0)
			if err != nil {
				t.Fatal(err)
			}
			if c.Verdict == "~" {
				held++
			}
		}
		t.Logf("apart %v: %d of %d held", apart, held, n)
		if held < 89 {
			t.Errorf("apart %v: only %d of %d intervals held", apart, held, n)
		}
	}
}

// One rule from one probability: the words follow Quicker, and where it is told neither
// interval holds 0.
func TestCompareHasOneRule(t *testing.T) {
	t.Parallel()
	words := func(quicker, enough float64) string {
		switch {
		case quicker > enough:
			return "quicker"
		case quicker < 1-enough:
			return "slower"
		}
		return "~"
	}
	for seed := range uint64(20) {
		for _, gain := range []float64{-0.004, -0.002, 0, 0.002, 0.004} {
			c, err := predict.Compare(trialDaysOf(seed, 2, gain, seed%2 == 0), "a", "b", 0)
			if err != nil {
				t.Fatal(err)
			}
			if c.Verdict != words(c.Quicker, 0.975) || c.Leans != words(c.Quicker, 0.9) {
				t.Errorf("quicker %.3f: %q, leans %q", c.Quicker, c.Verdict, c.Leans)
			}
			d := c.Difference
			if told := d.Low95 > 0 || d.High95 < 0; told != (c.Verdict != "~") {
				t.Errorf("%q, and 95 %% from %+.4f to %+.4f", c.Verdict, d.Low95, d.High95)
			}
			if leans := d.Low80 > 0 || d.High80 < 0; leans != (c.Leans != "~") {
				t.Errorf("leans %q, and 80 %% from %+.4f to %+.4f", c.Leans, d.Low80, d.High80)
			}
		}
	}
}

// Of setups whose power nobody entered the runs alone tell: where both ran the same, in turns
// that begin with each as often, neither is likelier the quicker one.
func TestCompareLeansToNeither(t *testing.T) {
	var runs []predict.Pass
	for d := range 2 { // so few that a belief would show
		for i := range 2 {
			p := predict.Pass{
				ID: fmt.Sprint(d, "-", i), Time: time.Date(2026, 5, 2+d, 10+i, 0, 0, 0, time.UTC), Day: fmt.Sprint(d),
				Machine: predict.Machine{Kind: predict.Car, Setup: [2]string{"a", "b"}[(i+d)%2], WeightLb: units.Some(3400)},
				Air:     weather.Air{TempF: 70, StationInHg: 29.5}, AirKnown: true,
			}
			p.Splits.ETs[predict.At1320] = units.Some(12)
			runs = append(runs, p)
		}
	}
	c, err := predict.Compare(runs, "a", "b", 0)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(c.Quicker-0.5) > 0.005 {
		t.Errorf("quicker with a chance of %.4f, by %.4f s", c.Quicker, -c.Difference.Centre)
	}
}

// A change that is not taken off again: after the days that are said to tell, the 95 %
// interval is about as wide as the difference was large.
func TestCompareCountsDaysWithB(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range uint64(60) {
		short := apartDays(seed, 6, 1)
		c, err := predict.Compare(short, "a", "b", 0)
		if err != nil {
			t.Fatal(err)
		}
		if c.TookTurns {
			t.Fatal("a day has both")
		}
		if c.Verdict != "~" || c.MoreDaysWithB < 1 {
			continue
		}
		tried++
		after, err := predict.Compare(apartDays(seed, 6, 1+c.MoreDaysWithB), "a", "b", 0)
		if err != nil {
			t.Fatal(err)
		}
		half := (after.Difference.High95 - after.Difference.Low95) / 2
		t.Logf("seed %d: %.3f s, %d more days, ± %.3f then", seed, c.Difference.Centre, c.MoreDaysWithB, half)
		if half > 1.1*math.Abs(c.Difference.Centre) {
			t.Errorf("seed %d: %d more days leave ± %.3f s of %.3f", seed, c.MoreDaysWithB, half, c.Difference.Centre)
		}
	}
	if tried < 10 {
		t.Errorf("only %d tried", tried)
	}
}

// apartDays are days of a, then days of b, two runs each, b 0.6 % quicker.
func apartDays(seed uint64, daysA, daysB int) (out []predict.Pass) {
	r := rand.New(rand.NewPCG(seed, 1))
	for d := range daysA + daysB {
		setup, gain := "a", 0.
		if d >= daysA {
			setup, gain = "b", -0.006
		}
		luck := 0.003 * r.NormFloat64()
		for i := range 2 {
			log := math.Log(12) + gain + luck + 0.003*r.NormFloat64()
			p := predict.Pass{
				ID: fmt.Sprint(d, "-", i), Time: time.Date(2026, 5, 2+d, 10+i, 0, 0, 0, time.UTC), Day: fmt.Sprint(d),
				Machine: predict.Machine{Kind: predict.Car, Setup: setup, WeightLb: units.Some(3400), PowerHP: units.Some(350)},
				Air:     weather.Air{TempF: 70, StationInHg: 29.5}, AirKnown: true,
			}
			p.Splits.ETs[predict.At1320] = units.Some(math.Exp(log))
			p.Splits.MPHs[predict.At1320] = units.Some(112 * 12 / math.Exp(log))
			p.Splits.ETs[predict.At60] = units.Some(1.75 * math.Exp(log) / 12)
			out = append(out, p)
		}
	}
	return out
}

func TestCompareWarnsWhenAirAndSetupMovedTogether(t *testing.T) {
	runs := trialDays(4, 0, true)
	for i := range runs {
		if runs[i].Machine.Setup == "b" {
			runs[i].Air.StationInHg -= 2
		}
	}
	got, err := predict.Compare(runs, "a", "b", 0)
	if err != nil {
		t.Fatal(err)
	}
	if !noted(got.Notes, predict.AirsApart) {
		t.Errorf("%+v", got.Notes)
	}
}

func TestCompareRefuses(t *testing.T) {
	for _, c := range [][2]string{{"a", "a"}, {"a", "nothing"}, {"nothing", "a"}} {
		if _, err := predict.Compare(trialDays(1, 0, false), c[0], c[1], 0); err == nil {
			t.Errorf("compared %v", c)
		}
	}
	if _, err := predict.Compare(nil, "a", "b", 0); err == nil {
		t.Error("compared an empty log")
	}
}
