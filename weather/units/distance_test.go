package units

import (
	"math"
	"testing"
)

// An eighth mile is 201.168 m, a quarter 402.336 m: NIST SP 811, B.8, 1 mi = 1609.344 m.
// That timers stand at 60, 330, 660, 1000 and 1320 ft is common practice, no source.
func TestParseDistance(t *testing.T) {
	for _, c := range []struct {
		bare System
		text string
		want float64
	}{
		{US, "660", 660},
		{Metric, "660", 660},
		{Metric, "1,320", 1320},
		{Metric, "1000", 1000},
		{US, "1000 ft", 1000},
		{US, "201m", 660},
		{Metric, "201", 660},
		{Metric, "402 m", 1320},
		{Metric, "305", 1000},
		{Metric, "101", 330},
		{Metric, "18", 60},
		{US, "1/8", 660},
		{Metric, "1/4 mile", 1320},
		{US, "1/8mi", 660},
		{US, "0.125mi", 660},
		{US, "659ft", 659},
		{US, "201", 201},
		{Metric, "350", 350 / 0.3048},
		{Metric, "201.168m", 201.168 / 0.3048},
		{Metric, "200", 200 / 0.3048},
	} {
		if got, err := ParseDistance(c.bare, c.text); err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q, bare in %v = %v, %v; want %v", c.text, c.bare, got, err, c.want)
		}
	}
	for _, text := range []string{"", "1/3", "abc", "660lb"} {
		if got, err := ParseDistance(Metric, text); err == nil {
			t.Errorf("%q = %v, want an error", text, got)
		}
	}
}
