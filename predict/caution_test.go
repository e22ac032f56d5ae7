package predict

import (
	"strings"
	"testing"

	"slipcase/weather/units"
)

// The thresholds are from memory, November 2026; common practice, no source.
func TestCautions(t *testing.T) {
	car, open := Machine{Kind: Car}, Machine{Kind: Car, Body: "open"}
	front := Machine{Kind: Car, Drive: FrontDrive}
	et := func(m Mark, s float64) Splits { return slipAt(m, s, 60) }
	for _, c := range []struct {
		m     Machine
		quick Splits
		want  []string // in this order, and no other but the CautionsDefer line
	}{
		{car, et(At1320, 14.2), nil},
		{car, et(At1320, 13.998), []string{"helmet", "loop on slicks"}},
		{front, et(At1320, 13.5), []string{"helmet"}},
		{car, et(At660, 8.58), []string{"helmet", "loop on slicks"}},
		{open, et(At1320, 13.4), []string{"helmet", "loop on slicks", "roll bar in an open car"}},
		{open, et(At660, 8.2), []string{"helmet", "loop on slicks", "roll bar in an open car"}},
		{car, et(At1320, 11.3), []string{"helmet", "street tyres", "roll bar"}},
		{car, et(At660, 6.3), []string{"helmet", "street tyres", "roll cage"}},
		{car, slipAt(At1320, 14.5, 136), []string{"roll cage"}},
		{Machine{Kind: Motorcycle}, et(At1320, 14.2), []string{"leathers"}},
		{Machine{Kind: Motorcycle}, slipAt(At1320, 8.2, 160), []string{"leathers"}},
		{car, Splits{MPHs: [Marks]units.Number{}}, nil},
	} {
		got := Cautions(c.m, c.quick)
		if len(c.want) == 0 && got == nil {
			continue
		}
		if len(got) != len(c.want)+1 || got[len(got)-1] != CautionsDefer {
			t.Errorf("%+v: got %q, want %q and the CautionsDefer line", c, got, c.want)
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(got[i], want) {
				t.Errorf("got %q, want %q", got[i], want)
			}
		}
	}
}
