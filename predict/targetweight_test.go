package predict

import (
	"math"
	"testing"

	"slipcase/weather"
	"slipcase/weather/units"
)

func bare(t *testing.T, m Machine) *Prospect {
	t.Helper()
	p, err := NewProspect(nil, Pass{Machine: m, Air: weather.Standard, AirKnown: true})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The time that a weight off makes, asked for, takes that weight or less, however much
// it is: beyond some four fifths of it more weight off is slower again, so that the
// lightest vehicle tells nothing of what a lesser change does. The expectation is Try's
// own answer.
func TestReachFindsEveryWeight(t *testing.T) {
	t.Parallel()
	shares := []float64{0.01, 0.03, 0.1, 0.3, 0.5, 0.6}
	if testing.Short() {
		shares = []float64{0.03, 0.6}
	}
	machines := []Machine{
		{Kind: Car, WeightLb: units.Some(3450), PowerHP: units.Some(312)},
		{Kind: Motorcycle, WeightLb: units.Some(600), PowerHP: units.Some(100)},
		{Kind: Car, WeightLb: units.Some(2600), PowerHP: units.Some(110)},
		{Kind: Car, WeightLb: units.Some(2000), PowerHP: units.Some(900)},
	}
	for _, m := range machines[:sized(4, 1)] {
		p := bare(t, m)
		for _, share := range shares {
			off := share * m.WeightLb.Value()
			u, err := p.Try(Change{WeightLb: Exactly(-off)})
			if err != nil {
				t.Fatal(err)
			}
			got, err := p.Reach(At1320, u.ETs[At1320].Centre)
			if err != nil || got.OffLb == nil || math.Abs(got.OffLb.Likely-off) > 1e-3*off {
				t.Errorf("%v lb, %v hp: %.3f s, which %.0f lb off make, takes %+v, %v",
					m.WeightLb, m.PowerHP, u.ETs[At1320].Centre, off, got.OffLb, err)
			}
		}
	}
}

// A car that 110 lb take to 13.75: its power is found by halving Try's own answer.
func TestReachThirteenSeventyFive(t *testing.T) {
	t.Parallel()
	low, high := 150., 350.
	var p *Prospect
	for range 40 {
		hp := (low + high) / 2
		p = bare(t, Machine{Kind: Car, WeightLb: units.Some(3450), PowerHP: units.Some(hp)})
		u, err := p.Try(Change{WeightLb: Exactly(-110)})
		if err != nil {
			t.Fatal(err)
		}
		if u.ETs[At1320].Centre > 13.75 {
			low = hp
		} else {
			high = hp
		}
	}
	got, err := p.Reach(At1320, 13.75)
	if err != nil || got.OffLb == nil || math.Abs(got.OffLb.Likely-110) > 0.5 {
		t.Errorf("13.75 takes %+v, %v; want 110 lb", got.OffLb, err)
	}
}
