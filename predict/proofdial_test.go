package predict

import (
	"math"
	"slices"
	"testing"

	"slipcase/weather/units"
)

// Dials as fingers spoil them: common practice, no source.
func TestProofreadDial(t *testing.T) {
	forecast := Band{Centre: 12.72, Low95: 12.62, High95: 12.82}
	for _, c := range []struct {
		dial  float64
		ask   bool
		first float64
	}{
		{12.70, false, 0},
		{12.50, false, 0}, // held back by two tenths
		{13.00, false, 0},
		{12.07, true, 12.70}, // exchanged
		{21.70, true, 12.70},
		{1.27, true, 12.72}, // which digit was left out is not told: the nearest
		{13.70, true, 12.70},
		{9.90, true, 0}, // another car's: no reading
	} {
		readings, ask := readDial(forecast, units.Some(12.74), c.dial)
		first := 0.
		if len(readings) > 0 {
			first = readings[0]
		}
		if ask != c.ask || first != c.first {
			t.Errorf("%.2f: %t, %v; want %t, %g", c.dial, ask, readings, c.ask, c.first)
		}
	}
	// A forecast that knows little asks little.
	if _, ask := readDial(Band{Centre: 12.72, Low95: 11.9, High95: 13.6}, units.Number{}, 12.07); ask {
		t.Error("a dial within the forecast's doubt is asked about")
	}
	// After an upgrade the run bears the dial out against the forecast.
	if _, ask := readDial(forecast, units.Some(12.21), 12.07); ask {
		t.Error("a dial near the run itself is asked about")
	}
}

// The dial that is mistyped does not choose the distance that it is read at: a whole
// quarter mile, 13.21, and what its dial of 13.27 or 13.25 becomes with a digit lost
// or moved.
func TestProofreadDialAtTheDistanceOfTheSlip(t *testing.T) {
	var f Forecast
	f.Finish = At1320
	f.ETs[At660] = Band{Centre: 8.41, Low95: 8.30, High95: 8.52}
	f.ETs[At1000] = Band{Centre: 10.98, Low95: 10.85, High95: 11.10}
	f.ETs[At1320] = Band{Centre: 13.21, Low95: 13.05, High95: 13.37}
	run := Pass{Splits: timed(quarterMile), Lengths: []float64{660, 1320}}
	for dial, want := range map[float64]float64{1.327: 13.27, 3.25: 13.25, 8.04: 8.40} {
		d, ask := f.ProofreadDial(run, units.Some(dial))
		if !ask || len(d.Readings) == 0 || math.Abs(d.Readings[0]-want) > 0.011 {
			t.Errorf("dial %v: %v, asked %v; want %v", dial, d.Readings, ask, want)
		}
	}
}

// The other lane's figures with a digit lost, a point moved or a key beside hit; a
// breakout, a lift and what is not told raise no question.
func TestProofreadOtherLane(t *testing.T) {
	for _, c := range []struct{ et, dial, wantET, wantDial float64 }{
		{1.243, 12.40, 12.43, 0},
		{11.430, 12.40, 12.43, 11.40},
		{12.430, 13.40, 13.43, 12.40},
	} {
		d, ask := ProofreadOtherLane(units.Some(c.et), units.Some(c.dial))
		holds := func(list []float64, want float64) bool {
			return want == 0 || slices.ContainsFunc(list, func(v float64) bool { return math.Abs(v-want) < 1e-9 })
		}
		if !ask || !holds(d.ETs, c.wantET) || !holds(d.Dials, c.wantDial) {
			t.Errorf("%v on %v: %+v, asked %v", c.et, c.dial, d, ask)
		}
	}
	for _, c := range [][2]float64{{12.31, 12.40}, {12.11, 12.40}, {19.8, 12.40}} {
		if _, ask := ProofreadOtherLane(units.Some(c[0]), units.Some(c[1])); ask {
			t.Errorf("%v on %v is asked about", c[0], c[1])
		}
	}
	if _, ask := ProofreadOtherLane(units.Number{}, units.Some(12.40)); ask {
		t.Error("no time is asked about")
	}
}
