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
		if got.A != (predict.SetupRuns{Setup: "a", Runs: 16, Days: 4}) || got.B != (predict.SetupRuns{Setup: "b", Runs: 16, Days: 4}) {
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
