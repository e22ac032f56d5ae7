package predict

import (
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
		readings, ask := ProofreadDial(forecast, units.Some(12.74), c.dial)
		first := 0.
		if len(readings) > 0 {
			first = readings[0]
		}
		if ask != c.ask || first != c.first {
			t.Errorf("%.2f: %t, %v; want %t, %g", c.dial, ask, readings, c.ask, c.first)
		}
	}
	// A forecast that knows little asks little.
	if _, ask := ProofreadDial(Band{Centre: 12.72, Low95: 11.9, High95: 13.6}, units.Number{}, 12.07); ask {
		t.Error("a dial within the forecast's doubt is asked about")
	}
	// After an upgrade the run bears the dial out against the forecast.
	if _, ask := ProofreadDial(forecast, units.Some(12.21), 12.07); ask {
		t.Error("a dial near the run itself is asked about")
	}
}
