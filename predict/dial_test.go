package predict

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// A dial-in keeps to its risk, a hundredth more does not, and the chance grows
// with the dial: what the definition of a quantile asks.
func TestDialKeepsToItsRisk(t *testing.T) {
	start := time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		var history []Pass
		for i := range rapid.IntRange(0, 8).Draw(t, "runs") {
			p := Pass{Time: start.Add(time.Duration(i) * time.Hour), Day: "a"}
			p.Splits.ETs[At1320] = units.Some(13.2 + rapid.Float64Range(-0.05, 0.05).Draw(t, "off"))
			history = append(history, p)
		}
		f, err := Expect(history, Pass{Time: start.Add(24 * time.Hour), Day: "b"})
		if err != nil {
			t.Fatal(err)
		}
		risk := rapid.Float64Range(0.01, 0.99).Draw(t, "risk")
		dial := f.Dial(At1320, risk)
		if at, above := f.Quicker(At1320, dial), f.Quicker(At1320, dial+0.01); at > risk+1e-9 || above <= risk-1e-9 || above <= at {
			t.Fatalf("dial %.2f for a risk of %.3f: %.4f at it, %.4f a hundredth above", dial, risk, at, above)
		}
		if b := f.ETs[At1320]; f.Quicker(At1320, b.Low80) > 0.1+1e-6 || f.Quicker(At1320, b.Low80) < 0.1-1e-6 {
			t.Fatalf("%.4f below the low end of the 80 %% interval, want 0.1", f.Quicker(At1320, b.Low80))
		}
	})
}
