package predict

import (
	"slices"
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
		want  []Equipment // in this order, and no other
	}{
		{car, et(At1320, 14.2), nil},
		{car, et(At1320, 13.998), []Equipment{Helmet, LoopOnSlicks}},
		{front, et(At1320, 13.5), []Equipment{Helmet}},
		{car, et(At660, 8.58), []Equipment{Helmet, LoopOnSlicks}},
		{open, et(At1320, 13.4), []Equipment{Helmet, LoopOnSlicks, RollBarIfOpen}},
		{open, et(At660, 8.2), []Equipment{Helmet, LoopOnSlicks, RollBarIfOpen}},
		{car, et(At1320, 11.3), []Equipment{Helmet, LoopAlways, RollBar, FireJacket}},
		{car, et(At1320, 10.99), []Equipment{Helmet, LoopAlways, RollBar, DrivelineGuard, FireJacket}},
		{open, et(At1320, 11.3), []Equipment{Helmet, LoopAlways, RollBar, FireJacket, ArmRestraints}},
		{car, et(At660, 6.3), []Equipment{Helmet, LoopAlways, RollCage, DrivelineGuard, Licence, ChassisPapers, FireSuit, NeckRestraint}},
		{car, slipAt(At1320, 14.5, 136), []Equipment{RollCage, Licence, ChassisPapers, FireSuit, NeckRestraint}},
		{front, slipAt(At1320, 6.78, 217), []Equipment{Helmet, RollCage, DrivelineGuard, Licence, ChassisPapers, FireSuit, NeckRestraint, Parachute, FireSystem}},
		{Machine{Kind: Motorcycle}, et(At1320, 14.2), []Equipment{RiderGear}},
		{Machine{Kind: Motorcycle}, slipAt(At1320, 8.2, 160), []Equipment{RiderGear, Licence, TetherCutOff, Leathers, TyreRating}},
		{car, Splits{MPHs: [Marks]units.Number{}}, nil},
	} {
		var got []Equipment
		for _, said := range Cautions(c.m, c.quick) {
			got = append(got, said.What)
			if said.Source == "" || said.QuarterS > 0 && !c.quick.ETs[said.At].Known() {
				t.Errorf("%+v: %+v has no source, or is crossed where nothing is run", c, said)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%+v: got %q, want %q", c, got, c.want)
		}
	}
}

// Each threshold at its edge: what is at it, to the hundredth of the scoreboard or to the mile
// an hour, calls for the equipment, the next slower does not. The thresholds are those of the
// sportsman classes from memory, November 2026; which vehicles each is for follows from what
// it is: no driveshaft in front, no arms to hold in under a roof, no cage on a motorcycle.
func TestThresholdsAtTheirEdge(t *testing.T) {
	rear, front := Machine{Kind: Car}, Machine{Kind: Car, Drive: FrontDrive}
	open, bike := Machine{Kind: Car, Body: "open"}, Machine{Kind: Motorcycle}
	slow := func(mph float64) Splits { return slipAt(At1320, 14.5, mph) }
	at := func(s float64) Splits { return slipAt(At1320, s, 60) }
	eighth := func(s float64) Splits { return slipAt(At660, s, 60) }
	for _, c := range []struct {
		of       []Machine
		others   []Machine // that it is not for
		item     Equipment
		at, past Splits
	}{
		{[]Machine{rear, front, open}, []Machine{bike}, Helmet, at(13.99), at(14.00)},
		{[]Machine{rear, front, open}, []Machine{bike}, Helmet, eighth(8.59), eighth(8.60)},
		{[]Machine{rear, open}, []Machine{front, bike}, LoopOnSlicks, at(13.99), at(14.00)},
		{[]Machine{rear, open}, []Machine{front, bike}, LoopAlways, at(11.49), at(11.50)},
		{[]Machine{open}, []Machine{rear, front, bike}, RollBarIfOpen, at(13.49), at(13.50)},
		{[]Machine{rear, front, open}, []Machine{bike}, RollBar, at(11.49), at(11.50)},
		{[]Machine{rear, front, open}, []Machine{bike}, RollBar, eighth(7.35), eighth(7.36)},
		{[]Machine{rear, front, open}, []Machine{bike}, FireJacket, at(11.49), at(11.50)},
		{[]Machine{open}, []Machine{rear, front, bike}, ArmRestraints, at(11.49), at(11.50)},
		{[]Machine{rear, front, open}, []Machine{bike}, DrivelineGuard, at(10.99), at(11.00)},
		{[]Machine{rear, front, open}, []Machine{bike}, RollCage, at(9.99), at(10.00)},
		{[]Machine{rear, front, open}, []Machine{bike}, RollCage, slow(135), slow(134.99)},
		{[]Machine{rear, front, open, bike}, nil, Licence, at(9.99), at(10.00)},
		{[]Machine{rear, front, open, bike}, nil, Licence, eighth(6.39), eighth(6.40)},
		{[]Machine{rear, front, open, bike}, nil, Licence, slow(135), slow(134.99)},
		{[]Machine{rear, front, open}, []Machine{bike}, ChassisPapers, at(9.99), at(10.00)},
		{[]Machine{rear, front, open}, []Machine{bike}, ChassisPapers, slow(135), slow(134.99)},
		{[]Machine{rear, front, open}, []Machine{bike}, FireSuit, at(9.99), at(10.00)},
		{[]Machine{rear, front, open}, []Machine{bike}, NeckRestraint, slow(135), slow(134.99)},
		{[]Machine{rear, front, open}, []Machine{bike}, Parachute, slow(150), slow(149.99)},
		{[]Machine{rear, front, open}, []Machine{bike}, FireSystem, slow(200), slow(199.99)},
		{[]Machine{bike}, []Machine{rear, front, open}, TetherCutOff, at(10.99), at(11.00)},
		{[]Machine{bike}, []Machine{rear, front, open}, Leathers, slow(120), slow(119.99)},
		{[]Machine{bike}, []Machine{rear, front, open}, TyreRating, slow(120), slow(119.99)},
	} {
		for _, m := range c.of {
			if !callsFor(m, c.at, c.item) || callsFor(m, c.past, c.item) {
				t.Errorf("%s of a %+v: %t at the threshold, %t beside it", c.item, m, callsFor(m, c.at, c.item), callsFor(m, c.past, c.item))
			}
		}
		for _, m := range c.others {
			if callsFor(m, c.at, c.item) {
				t.Errorf("%s of a %+v", c.item, m)
			}
		}
	}
}

// A quicker and faster run never calls for less: no vehicle of any kind loses a caution
// on the way from a 16 s run to a 6.78 at 217 mph.
func TestQuickerCallsForNoLess(t *testing.T) {
	for _, m := range []Machine{
		{Kind: Car},
		{Kind: Car, Body: "open"},
		{Kind: Car, Drive: FrontDrive},
		{Kind: Motorcycle},
	} {
		had := 0
		for et := 16.; et >= 6.78; et -= 0.01 {
			n := len(Cautions(m, slipAt(At1320, et, 1470/et)))
			if n < had {
				t.Errorf("%+v: %d cautions at %.2f, %d just before", m, n, et, had)
			}
			had = n
		}
		if had < 5 {
			t.Errorf("%+v: %d cautions at 6.78", m, had)
		}
	}
}

// A caution that an earlier run has earned is no news.
func TestNewCautions(t *testing.T) {
	run := func(et float64) Pass { return Pass{Machine: Machine{Kind: Car}, Splits: slipAt(At1320, et, 60)} }
	got := NewCautions(run(11.3), []Pass{run(13.5)})
	if len(got) != 3 || got[0].What != LoopAlways || got[1].What != RollBar || got[2].What != FireJacket {
		t.Errorf("%+v, want the loop, the bar and the jacket", got)
	}
	if got := NewCautions(run(13.4), []Pass{run(13.5)}); len(got) != 0 {
		t.Errorf("%+v again", got)
	}
}
