package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// By the definition of density altitude (ISO 2533) the air of 1,000 ft is 2.90 % less
// dense than that of 0 ft. By the cube root, and with SAE J1349's power as its formula has
// it for dry air, 1.18 (29.234/p) (T/536.67)^½ - 0.18 with p in inHg and T in °R:
// heat that does it is T / (1 - 0.0290), height is p x (1 - 0.0290).
func TestThousandFtByTheFormula(t *testing.T) {
	run := predict.Pass{
		Machine: predict.Machine{
			Kind:     predict.Car,
			WeightLb: units.Some(3450),
			PowerHP:  units.Some(312),
			PowerAt:  predict.AtWheels,
		},
		Air: weather.Air{TempF: 59, StationInHg: 29.921}, AirKnown: true,
	}
	f, err := predict.Expect(nil, run)
	if err != nil {
		t.Fatal(err)
	}
	cost, err := f.ThousandFt()
	if err != nil {
		t.Fatal(err)
	}
	power := func(inHg, rankine float64) float64 { return 1 / (1.18*(29.234/inHg)*math.Sqrt(rankine/536.67) - 0.18) }
	now, et := power(29.921, 518.67), f.ETs[predict.At1320].Centre
	for _, c := range []struct {
		what string
		got  predict.AltitudeCost
		then float64
	}{
		{"heat", cost.Heat, power(29.921, 518.67/(1-0.0290))},
		{"height", cost.Height, power(29.921*(1-0.0290), 518.67)},
	} {
		want := et * (math.Cbrt(now/c.then) - 1)
		if got := c.got.Formula[predict.At1320]; math.Abs(got-want) > 0.002 {
			t.Errorf("%s costs %.4f s by the formula, want %.4f", c.what, got, want)
		}
		own := c.got.Own[predict.At1320]
		if !(own.Low < own.Likely && own.Likely < own.High && own.Low > 0) {
			t.Errorf("%s costs %+v s", c.what, own)
		}
		if c.got.Formula[predict.At60] != 0 || c.got.Formula[predict.At660] >= c.got.Formula[predict.At1320] {
			t.Errorf("%s by distance: %v", c.what, c.got.Formula)
		}
	}
}

// What it costs is what the forecast moves by: the same car in air of 1,000 ft more.
func TestThousandFtIsWhatTheForecastMovesBy(t *testing.T) {
	history := trialDays(4, 0, false)
	next := history[len(history)-1]
	next.Time = next.Time.AddDate(0, 0, 1)
	next.Day, next.Machine.Setup = "next", "a"
	here, err := predict.Expect(history, next)
	if err != nil {
		t.Fatal(err)
	}
	cost, err := here.ThousandFt()
	if err != nil {
		t.Fatal(err)
	}
	from := next.Air.DensityAltitudeFt()
	for name, c := range map[string]struct {
		move func(*weather.Air)
		cost predict.AltitudeCost
	}{
		"heat":   {func(a *weather.Air) { a.TempF++ }, cost.Heat},
		"height": {func(a *weather.Air) { a.StationInHg -= 0.03 }, cost.Height},
	} {
		other := next
		for other.Air.DensityAltitudeFt() < from+1000 {
			c.move(&other.Air)
		}
		there, err := predict.Expect(history, other)
		if err != nil {
			t.Fatal(err)
		}
		per := 1000 / (other.Air.DensityAltitudeFt() - from)
		for _, m := range []predict.Mark{predict.At660, predict.At1320} {
			want := per * (there.ETs[m].Centre - here.ETs[m].Centre)
			if got := c.cost.Own[m].Likely; math.Abs(got-want) > 0.004 {
				t.Errorf("%s at %g ft: %.4f s, the forecast moves by %.4f", name, m.Ft(), got, want)
			}
		}
	}
	if _, err := (&predict.Corrector{}).ThousandFt(); err == nil {
		t.Error("a car without runs")
	}
	c, err := predict.NewCorrector(history)
	if err != nil {
		t.Fatal(err)
	}
	if own, err := c.ThousandFt(); err != nil ||
		math.Abs(own.Heat.Own[predict.At1320].Likely-cost.Heat.Own[predict.At1320].Likely) > 0.01 {
		t.Errorf("by all runs %+v, %v", own.Heat.Own[predict.At1320], err)
	}
}
