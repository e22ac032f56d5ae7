package predict

import (
	"strings"
	"testing"

	"slipcase/weather/units"
)

func TestCautionsCrossed(t *testing.T) {
	at := func(et float64) (s Splits) { s.ETs[At1320] = units.Some(et); return s }
	car := Machine{Kind: Car}
	if got := CautionsCrossed(car, at(12.5), at(12.2)); got != nil {
		t.Errorf("nothing is crossed from 12.5 to 12.2: %q", got)
	}
	got := CautionsCrossed(car, at(12.5), at(11.3))
	if all := strings.Join(got, "\n"); !strings.Contains(all, "roll bar") || strings.Contains(all, "helmet") || got[len(got)-1] != CautionsDefer {
		t.Errorf("from 12.5 to 11.3: %q", got)
	}
}

func TestTyreCaution(t *testing.T) {
	var s Splits
	s.MPHs[At1320] = units.Some(151)
	for rating, said := range map[float64]bool{149: true, 151: true, 168: false} {
		if got := TyreCaution(rating, s); (got != "") != said {
			t.Errorf("rated %v, run 151: %q", rating, got)
		}
	}
}
