package predict

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/weather"
	"slipcase/weather/units"
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

// heron is an invented car.
func heron(weightLb, hp float64) Machine {
	return Machine{
		Kind: Car, Aspiration: Natural, Drive: RearDrive, Setup: fmt.Sprint(weightLb, "/", hp),
		WeightLb: units.Some(weightLb), PowerHP: units.Some(hp), PowerAt: AtWheels, Standard: SAE,
	}
}

// airOf returns dry air thin and warm by degrees.
func airOf(step int) weather.Air {
	return weather.Air{TempF: 60 + 5*float64(step), StationInHg: 29.9 - 0.1*float64(step)}
}

// passes makes runs whose car obeys the cube root of the power SAE J1349 leaves
// it, slower than Fox's formula by the factor slow at the quarter and eighth.
func passes(n int, slow float64, m Machine) []Pass {
	var runs []Pass
	for i := range n {
		p := Pass{ID: fmt.Sprint("r", i), Time: noon.Add(time.Duration(i-n) * time.Hour), Machine: m, Air: airOf(i % 7), AirKnown: true}
		hp := m.PowerHP.Value() / 0.85 / p.Air.SAEJ1349()
		et, mph := must(Fox.ET(At1320, m.WeightLb.Value(), hp)), must(Fox.MPH(At1320, m.WeightLb.Value(), hp))
		p.Splits = slipAt(At1320, et*slow, mph/slow*0.97)
		p.Splits.ETs[At660], p.Splits.MPHs[At660] = units.Some(et*slow/1.5874), units.Some(mph/slow*0.97/1.2599)
		p.Splits.ETs[At60] = units.Some(et * slow * 0.14)
		runs = append(runs, p)
	}
	return runs
}

func nextPass(m Machine, air weather.Air) Pass {
	return Pass{ID: "next", Time: noon, Machine: m, Air: air, AirKnown: true}
}

func TestExpectBareFormula(t *testing.T) {
	e := must(Expect(nil, nextPass(heron(3450, 312), hot)))
	// SAE J1349 is 1.0154 in this air.
	near(t, "ET", e.Splits.ETs[At1320].Value(), must(Fox.ET(At1320, 3450, 312/0.85/1.0154)), 2e-3)
	if e.Splits.ETs[At60].Known() {
		t.Error("a formula cannot tell the 60 ft time")
	}
	if e.Runs != 0 || e.Basis != "Fox's formula alone: no earlier full-power run" {
		t.Errorf("%d runs: %q", e.Runs, e.Basis)
	}
}

// A car that differs from the formula by a constant factor must be forecast to
// the thousandth through a change of air, weight and power together.
func TestExpectCarriesTheCarOverAirAndSetup(t *testing.T) {
	history := passes(7, 1.013, heron(3450, 312))
	next := passes(1, 1.013, heron(3465, 402))[0]
	next.Time, next.Air = noon, airOf(6)
	want := passes(7, 1.013, heron(3465, 402))[6].Splits
	e := must(Expect(history, next))
	for _, d := range e.Against(want) {
		near(t, fmt.Sprintf("%g ft, speed %t", d.Mark.Ft(), d.Speed), d.Diff, 0, 1e-9)
	}
	if got := len(e.Against(want)); got != 5 {
		t.Errorf("%d figures compared, want 5", got)
	}
	if e.Basis != "Fox's formula x 1.013, the median of 7 full-power runs" || e.Runs != 7 {
		t.Errorf("%d: %q", e.Runs, e.Basis)
	}
}

func TestExpectLeavesOutPartPower(t *testing.T) {
	history := passes(9, 1.01, heron(3450, 312))
	clean := must(Expect(history, nextPass(heron(3450, 312), hot)))
	spoil := func(i int, et, mph float64, effort Effort, fullFt units.Number) {
		p := &history[i]
		p.Splits.ETs[At1320] = units.Some(p.Splits.ETs[At1320].Value() * et)
		p.Splits.MPHs[At1320] = units.Some(p.Splits.MPHs[At1320].Value() * mph)
		p.Effort, p.FullFt = effort, fullFt
	}
	spoil(1, 1.02, 0.90, Lifted, units.Some(1150)) // noted, and where
	spoil(2, 1.04, 0.85, Braked, units.Number{})   // noted, not where
	spoil(3, 1.02, 0.90, "", units.Number{})       // not noted: found by its speed
	history[4].Splits.MPHs = [Marks]units.Number{At1320: units.Some(80)}
	e := must(Expect(history, nextPass(heron(3450, 312), hot)))
	near(t, "ET", e.Splits.ETs[At1320].Value(), clean.Splits.ETs[At1320].Value(), 1e-9)
	want := map[string]string{"r1": "full power to 1150 ft; counted to 660 ft", "r2": "braked", "r3": "not full power to the end", "r4": "not full power to the end"}
	if len(e.LeftOut) != len(want) || e.Runs != 5 {
		t.Fatalf("%d runs, left out %v", e.Runs, e.LeftOut)
	}
	for _, out := range e.LeftOut {
		if !strings.Contains(out.Why, want[out.ID]) {
			t.Errorf("%s: %q, want %q", out.ID, out.Why, want[out.ID])
		}
	}
	if !strings.HasSuffix(e.LeftOut[2].Why, "counted to 660 ft") {
		t.Errorf("the eighth of r3 was good: %q", e.LeftOut[2].Why)
	}
}

func TestExpectEighthMileOnly(t *testing.T) {
	history := passes(5, 1.02, heron(3450, 312))
	for i := range history {
		history[i].Splits = history[i].Splits.upTo(660)
	}
	e := must(Expect(history, nextPass(heron(3450, 312), airOf(0))))
	near(t, "660 ft", e.Splits.ETs[At660].Value(), history[0].Splits.ETs[At660].Value()*ratioOfAir(history[0].Air, airOf(0)), 1e-3)
	if !strings.HasSuffix(e.Basis, "5 full-power runs to 660 ft") {
		t.Error(e.Basis)
	}
}

// ratioOfAir is what going from one air to another does to ET, SAE J1349's cube root.
func ratioOfAir(from, to weather.Air) float64 {
	return must(Fox.ET(At1320, 1, 1/to.SAEJ1349())) / must(Fox.ET(At1320, 1, 1/from.SAEJ1349()))
}

func TestExpectWithoutWeight(t *testing.T) {
	history := passes(5, 1.02, heron(3450, 312))
	for i := range history {
		history[i].Machine.WeightLb = units.Number{}
	}
	next := nextPass(history[0].Machine, hot)
	e := must(Expect(history, next))
	near(t, "ET", e.Splits.ETs[At1320].Value(), history[0].Splits.ETs[At1320].Value()*ratioOfAir(history[0].Air, hot), 1e-9)
	if e.Splits.ETs[At1000].Known() {
		t.Error("a mark was invented")
	}
	next.Machine.Setup = "other"
	if _, err := Expect(history, next); !errors.Is(err, ErrNoBasis) {
		t.Errorf("another setup without weight: %v", err)
	}
	next.Machine = heron(3450, 312)
	e = must(Expect(history, next))
	if e.Runs != 0 || len(e.LeftOut) != 5 {
		t.Errorf("runs without weight were held against the formula: %+v", e)
	}
}

func TestExpectWithoutAir(t *testing.T) {
	history := passes(1, 1.02, heron(3450, 312))
	next := nextPass(heron(3450, 312), weather.Air{})
	next.AirKnown = false
	e := must(Expect(history, next))
	near(t, "ET as it was", e.Splits.ETs[At1320].Value(), history[0].Splits.ETs[At1320].Value(), 1e-9)
	if len(e.Remarks) != 1 || !strings.Contains(e.Remarks[0], "no air known") {
		t.Errorf("remarks %q", e.Remarks)
	}
	history[0].AirKnown = false
	e = must(Expect(history, nextPass(heron(3450, 312), hot)))
	near(t, "ET as it was", e.Splits.ETs[At1320].Value(), history[0].Splits.ETs[At1320].Value(), 1e-9)
	if len(e.Remarks) != 1 || !strings.Contains(e.Remarks[0], "1 of the earlier runs") {
		t.Errorf("remarks %q", e.Remarks)
	}
}

func TestExpectRefusesImpossible(t *testing.T) {
	for _, m := range []Machine{heron(0, 312), heron(3450, -1)} {
		if _, err := Expect(nil, nextPass(m, hot)); err == nil || errors.Is(err, ErrNoBasis) {
			t.Errorf("%v lb, %v hp: %v", m.WeightLb, m.PowerHP, err)
		}
	}
	if _, err := Expect(nil, nextPass(Machine{}, hot)); !errors.Is(err, ErrNoBasis) {
		t.Error(err)
	}
}

func TestExpectIgnoresOrderAndTheFuture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		history := passes(rapid.IntRange(0, 12).Draw(t, "runs"), 1.01, heron(3450, 312))
		for i := range history {
			noise := rapid.Float64Range(0.97, 1.03).Draw(t, "noise")
			history[i].Splits.ETs[At1320] = units.Some(history[i].Splits.ETs[At1320].Value() * noise)
		}
		next := nextPass(heron(3450, 340), hot)
		want := must(Expect(history, next))
		late := passes(1, 0.5, heron(3450, 312))[0]
		late.Time = noon
		mixed := append([]Pass{late}, history...)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		if diff := cmp.Diff(want, must(Expect(mixed, next))); diff != "" {
			t.Fatal(diff)
		}
	})
}

func BenchmarkExpect(b *testing.B) {
	history := passes(300, 1.013, heron(3450, 312))
	next := nextPass(heron(3450, 312), hot)
	for b.Loop() {
		if _, err := Expect(history, next); err != nil {
			b.Fatal(err)
		}
	}
}
