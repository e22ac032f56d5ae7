package units

import (
	"math"
	"testing"
)

// NIST SP 811 (2008), appendix B.8: 1 lbf·ft = 1.355818 N·m, 1 psi = 6.894757
// kPa, 1 inch = 25.4 mm exactly; 1 hp (550 ft·lbf/s) = 745.6999 W.
func TestPartsUnits(t *testing.T) {
	for _, c := range []struct {
		kind      Kind
		text      string
		want, tol float64
	}{
		{Torque, "1.355818Nm", 1, 1e-6},
		{Torque, "300 lb-ft", 300, 0},
		{Torque, "300ft-lb", 300, 0},
		{Boost, "6.894757kPa", 1, 1e-6},
		{Boost, "1bar", 14.50377, 1e-5},
		{Diameter, "711.2mm", 28, 1e-12},
		{Diameter, `28"`, 28, 0},
	} {
		got, err := c.kind.Parse(c.text)
		if err != nil || math.Abs(got-c.want) > c.tol {
			t.Errorf("%s %q = %v, %v; want %v", c.kind.Name, c.text, got, err, c.want)
		}
	}
	// Power is torque times angular speed: 1 lbf·ft at 5252.113 rpm, in watts.
	watt := newtonPerLbf * MetrePerFoot * LbFtPerHPPerRPM * 2 * math.Pi / 60
	if math.Abs(watt-745.6999) > 1e-4 {
		t.Errorf("a horsepower is %v W, want 745.6999", watt)
	}
}
