package predict

import (
	"strings"
	"testing"

	"slipcase/weather/units"
)

// What each change says and what it leaves unsaid. The thresholds are those of
// Cautions, from memory.
func TestChangeCautions(t *testing.T) {
	at := func(et float64) (s Splits) { s.ETs[At1320] = units.Some(et); return s }
	power, grip, weight := Change{Gain: Exactly(0.2)}, Change{Grip: Exactly(0.05)}, Change{WeightLb: Exactly(-50)}
	car, bike, front := Machine{Kind: Car, Drive: RearDrive}, Machine{Kind: Motorcycle}, Machine{Kind: Car, Drive: FrontDrive}
	for _, c := range []struct {
		what          string
		of            Machine
		change        Change
		before, after float64
		want, not     []string
	}{
		{"nothing is crossed by weight", car, weight, 12.5, 12.2, nil, []string{"."}},
		{"a roll bar is, the helmet was there", car, weight, 12.5, 11.3, []string{"roll bar", CautionsDefer}, []string{"helmet", "gearbox"}},
		{"power loads the driveline", car, power, 12.5, 12.2, []string{"driveshaft and axles"}, []string{CautionsDefer}},
		{"grip may be slicks", car, grip, 12.5, 12.4, []string{"if slicks bring the grip: a driveshaft loop", "axles", CautionsDefer}, nil},
		{"said once, with that of street tyres", car, grip, 12.0, 11.4, []string{"on street tyres too"}, []string{"bring the grip"}},
		{"slow enough for slicks without", car, grip, 15.5, 15.4, []string{"axles"}, []string{"slicks"}},
		{"no driveshaft in front", front, grip, 12.5, 12.4, []string{"gearbox and axles"}, []string{"driveshaft"}},
		{"a motorcycle has a chain", bike, power, 10.5, 10.1, []string{"chain"}, []string{"axles", "leathers"}},
	} {
		all := strings.Join(ChangeCautions(c.of, c.change, at(c.before), at(c.after)), "\n")
		for _, w := range c.want {
			if !strings.Contains(all, w) {
				t.Errorf("%s: %q, want %q", c.what, all, w)
			}
		}
		for _, w := range c.not {
			if w == "." && all != "" || w != "." && strings.Contains(all, w) {
				t.Errorf("%s: %q, want no %q", c.what, all, w)
			}
		}
	}
}
