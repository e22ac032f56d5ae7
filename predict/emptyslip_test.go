package predict

import (
	"fmt"
	"math"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// TestEmptySlipTellsNothing: a slip without a time, as one of a red light where nothing else was
// kept, leaves the forecast as it was: of another setup, in other air, of another place or day,
// before the first run and after the last.
func TestEmptySlipTellsNothing(t *testing.T) {
	t.Parallel()
	var history []Pass
	for i := range 6 {
		p := stopPass(i, 0, 0, 0.01*float64(i%3))
		if i >= 3 {
			p.Machine.Setup, p.Machine.PowerHP = "u2", units.Some(1050)
		}
		history = append(history, p)
	}
	next := stopPass(8, 0, 0, 0)
	empty := Pass{ID: "red", Time: next.Time.Add(-10 * time.Minute), Track: next.Track, Machine: next.Machine}
	slips := map[string]func(p *Pass){
		"as it is":      func(*Pass) {},
		"another setup": func(p *Pass) { p.Machine.Setup, p.Machine.PowerHP = "u3", units.Some(700) },
		"thin air":      func(p *Pass) { p.Air, p.AirKnown = weather.Air{TempF: 100, StationInHg: 24.5}, true },
		"with a stop":   func(p *Pass) { p.StopFromS, p.StopS = 0.2, 1.3 },
		"years before":  func(p *Pass) { p.Time = p.Time.AddDate(-3, 0, 0) },
		"elsewhere":     func(p *Pass) { p.Track = "pinehollow" },
		"lifted":        func(p *Pass) { p.Effort = Lifted },
	}
	for _, before := range []int{0, 1, 3, 6} {
		want, err := Expect(history[:before], next)
		if err != nil {
			t.Fatal(err)
		}
		for what, change := range slips {
			slip := empty
			change(&slip)
			got, err := Expect(append([]Pass{slip}, history[:before]...), next)
			if err != nil {
				t.Fatal(what, err)
			}
			if got.ETs != want.ETs || got.MPHs != want.MPHs {
				t.Errorf("%d runs and an empty slip, %s: %v, without it %v", before, what, got.ETs[At1320], want.ETs[At1320])
			}
			if n := len(got.LeftOut); n != len(want.LeftOut)+1 || got.LeftOut[n-1].Why != NoTime {
				t.Errorf("%d runs and an empty slip, %s: left out %v", before, what, got.LeftOut)
			}
		}
	}
}

// TestMediansOfRunsWithStops: one run without the stop, before all that the medians are taken
// over, does not silence those with it: the model is fitted to them as without it.
func TestMediansOfRunsWithStops(t *testing.T) {
	var history []Pass
	for i := range medianRuns + 5 {
		p := stopPass(i, 1.3, stopSlope, 0.01*float64(i%3))
		p.ID = fmt.Sprint(i)
		for m, et := range p.Splits.ETs {
			p.Splits.ETs[m] = units.Some(1.1 * et.Value()) // the car is no 1000 hp car
		}
		history = append(history, p)
	}
	power := func(history []Pass) float64 {
		next := history[len(history)-1]
		next.Time = next.Time.Add(time.Hour)
		f, err := gather(history, next, nextByRuns)
		if err != nil {
			t.Fatal(err)
		}
		return f.eras[f.nextEra].car.model.PowerHP
	}
	want := power(history)
	history[0].StopS = 0
	if got := power(history); math.Abs(got/want-1) > 0.02 {
		t.Errorf("with one run without the stop long ago the model has %.0f hp, without it %.0f", got, want)
	}
}
