package crew

import (
	"testing"
	"time"

	"slipcase/weather/units"
)

// TestFill: what was taken for the day goes before the slip before, which is the one run before
// it that day, whenever it was entered; where none was, the one after it.
func TestFill(t *testing.T) {
	s, _ := begun(t)
	s.Now = func() time.Time { return slipAt(18, 13).Time.Time }
	of := func(hour int, class string, index units.Number) *Slip {
		slip := slipAt(hour, 13)
		slip.Class, slip.IndexS = class, index
		return slip
	}
	monthAgo := of(11, "heads-up", units.Number{})
	monthAgo.Time.Time = monthAgo.Time.AddDate(0, -1, 0)
	add(t, s, of(10, "index", units.Some(13.5)), of(14, "dial", units.Number{}), monthAgo)
	for _, c := range []struct {
		hour  int
		class string
		index units.Number
	}{{9, "index", units.Some(13.5)}, {12, "index", units.Some(13.5)}, {16, "dial", units.Number{}}} {
		slip := slipAt(c.hour, 13)
		if s.Fill(slip); slip.Class != c.class || slip.IndexS != c.index {
			t.Errorf("at %d: class %q, index %v, want %q, %v", c.hour, slip.Class, slip.IndexS, c.class, c.index)
		}
	}
	slip := slipAt(16, 13)
	if s.Fill(slip, of(15, "heads-up", units.Number{})); slip.Class != "heads-up" {
		t.Errorf("behind one that is not recorded yet: %q", slip.Class)
	}
	s.take(Use{Vehicle: "heron", Class: "index", IndexS: units.Some(12.)})
	slip = slipAt(16, 13)
	if s.Fill(slip); slip.Class != "index" || slip.IndexS != units.Some(12.) {
		t.Errorf("with an index taken for the day: class %q, index %v", slip.Class, slip.IndexS)
	}
	slip = slipAt(16, 13)
	slip.Time.Time = slip.Time.AddDate(0, 0, 1)
	s.take(Use{})
	if s.Fill(slip); slip.Class != "" {
		t.Errorf("the day after: %q", slip.Class)
	}
}

// TestOffers: of a slip that cannot be, only what was likely meant is offered; a lift, and the
// slip as typed, of one that can.
func TestOffers(t *testing.T) {
	slip := *slipAt(10, 31.2)
	ds := []Doubt{
		{Kind: TwiceMade},
		{Kind: DialOff, Lift: true, Readings: []Meant{{Kind: MeantDial, Value: 13.2}}},
	}
	var kinds []OfferKind
	for _, cannot := range []bool{false, true} {
		for _, o := range Offers(slip, ds, cannot) {
			kinds = append(kinds, o.Kind)
			dial, lifted := o.Slip.DialS == units.Some(13.2), o.Slip.FullPower == string(Lifted)
			if dial != (o.Kind == AsMeant) || lifted != (o.Kind == WithLift) {
				t.Errorf("%s makes %+v of it", o.Kind, o.Slip)
			}
		}
	}
	want := []OfferKind{AsMeant, WithLift, AsTyped, AsMeant}
	for i, k := range want {
		if len(kinds) != len(want) || kinds[i] != k {
			t.Fatalf("offers %v, want %v", kinds, want)
		}
	}
	if o := Offers(slip, ds[:1], true); len(o) > 0 {
		t.Errorf("nothing is known of what was meant, and %v offered", o)
	}
}
