package predict

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

func lane(reaction, et, dial float64) LaneRun {
	return LaneRun{ReactionS: units.Some(reaction), ETS: units.Some(et), DialS: units.Some(dial)}
}

func faulty(l LaneRun, f Fault) LaneRun { l.Fault = f; return l }

func broken(l LaneRun) LaneRun { l.ETS = units.Number{}; return l }

func untold(l LaneRun) LaneRun { l.ETS, l.NotTold = units.Number{}, true; return l }

func undialled(l LaneRun) LaneRun { l.DialS = units.Number{}; return l }

// Rounds of the trade: common practice, no source. The figures follow by hand from
// package = (reaction - perfect) + ET - dial.
func TestAdjudicate(t *testing.T) {
	for _, c := range []struct {
		name    string
		rules   RoundRules
		a, b    LaneRun
		winner  int
		why     Decision
		marginS float64 // -1: not known
	}{
		{"first at the stripe", RoundRules{}, lane(.042, 13.272, 13.25), lane(.051, 12.430, 12.40), 0, Decision{Kind: AtFinish, S: .017}, .017},
		{"lost on the tree", RoundRules{}, lane(.120, 13.260, 13.25), lane(.020, 12.430, 12.40), 1, Decision{Kind: AtFinish, Lane: 1, S: .080}, .080},
		{"quicker car from behind", RoundRules{}, lane(.050, 9.910, 9.90), lane(.030, 15.045, 15.00), 0, Decision{Kind: AtFinish, S: .015}, .015},
		{"eighth mile", RoundRules{}, lane(.015, 8.412, 8.40), lane(.010, 7.021, 7.00), 0, Decision{Kind: AtFinish, S: .004}, .004},
		{"eighth mile, perfect light .500", RoundRules{PerfectS: .5}, lane(.515, 8.412, 8.40), lane(.510, 7.021, 7.00), 0, Decision{Kind: AtFinish, S: .004}, .004},
		{"perfect light .400", RoundRules{PerfectS: .4}, lane(.442, 13.272, 13.25), lane(.451, 12.430, 12.40), 0, Decision{Kind: AtFinish, S: .017}, .017},
		{"perfect light is green", RoundRules{}, lane(0, 13.30, 13.25), lane(.060, 12.40, 12.40), 0, Decision{Kind: AtFinish, S: .010}, .010},
		{"perfect light .500 is green", RoundRules{PerfectS: .5}, lane(.5, 13.30, 13.25), lane(.56, 12.40, 12.40), 0, Decision{Kind: AtFinish, S: .010}, .010},
		{".499 is red where .500 is perfect", RoundRules{PerfectS: .5}, lane(.499, 13.30, 13.25), lane(.700, 12.90, 12.40), 1, Decision{Kind: RedLight, S: .001}, .651},
		{".499 is slow where .000 is perfect", RoundRules{}, lane(.499, 13.25, 13.25), lane(.100, 12.40, 12.40), 1, Decision{Kind: AtFinish, Lane: 1, S: .399}, .399},
		{"red against green", RoundRules{}, lane(-.012, 13.26, 13.25), lane(.300, 12.60, 12.40), 1, Decision{Kind: RedLight, S: .012}, .502},
		{"red against breakout", RoundRules{}, lane(-.012, 13.26, 13.25), lane(.030, 12.30, 12.40), 1, Decision{Kind: RedLight, S: .012}, .068},
		{"both red, the worse loses", RoundRules{WorstRed: true}, lane(-.012, 13.26, 13.25), lane(-.030, 12.41, 12.40), 0, Decision{Kind: WorseRed, Lane: Nobody}, .018},
		{"both red, the first loses: the slower dial leaves first", RoundRules{}, lane(-.012, 13.26, 13.25), lane(-.030, 12.41, 12.40), 1, Decision{Kind: FirstRed, Lane: Nobody}, .018},
		{"both red, the first loses, dials alike", RoundRules{}, lane(-.012, 12.41, 12.40), lane(-.030, 12.41, 12.40), 0, Decision{Kind: FirstRed, Lane: Nobody}, .018},
		{"both red, the first loses, one dial not known: nor is who left first", RoundRules{}, undialled(lane(-.012, 13.26, 0)), lane(-.030, 12.41, 12.40), Nobody, Decision{Kind: FirstRedUntold, Lane: Nobody}, -1},
		{"both red, the first loses, no dial known", RoundRules{}, undialled(lane(-.012, 13.26, 0)), undialled(lane(-.030, 12.41, 0)), Nobody, Decision{Kind: FirstRedUntold, Lane: Nobody}, -1},
		{"both red, the worse loses, dials not known", RoundRules{WorstRed: true}, undialled(lane(-.012, 13.26, 0)), undialled(lane(-.030, 12.41, 0)), 0, Decision{Kind: WorseRed, Lane: Nobody}, -1},
		{"heads-up, both red, the first loses, without dials", RoundRules{Format: HeadsUp}, undialled(lane(-.012, 8.41, 0)), undialled(lane(-.030, 8.45, 0)), 0, Decision{Kind: FirstRed, Lane: Nobody}, .022},
		{"eighth mile, perfect light .500, both red", RoundRules{PerfectS: .5}, lane(.488, 8.412, 8.40), lane(.470, 7.021, 7.00), 1, Decision{Kind: FirstRed, Lane: Nobody}, .009},
		{"eighth mile, perfect light .400, breakout", RoundRules{PerfectS: .4}, lane(.415, 8.399, 8.40), lane(.500, 7.080, 7.00), 1, Decision{Kind: BrokeOut, S: .001}, .166},
		{"eighth mile, broke after a green light", RoundRules{PerfectS: .5}, broken(lane(.510, 0, 8.40)), lane(.700, 7.300, 7.00), 1, Decision{Kind: NoFinish}, -1},
		{"eighth mile, broke after a red light", RoundRules{PerfectS: .5}, broken(lane(.490, 0, 8.40)), lane(.700, 7.300, 7.00), 1, Decision{Kind: RedLight, S: .010}, -1},
		{"broke, the other over the boundary", RoundRules{}, broken(lane(.010, 0, 13.25)), faulty(lane(.1, 12.6, 12.40), Boundary), 0, Decision{Kind: CrossedLine, Lane: 1}, -1},
		{"broke, the other broke out", RoundRules{}, broken(lane(.010, 0, 13.25)), lane(.1, 12.3, 12.40), 1, Decision{Kind: NoFinish}, -1},
		{"both red alike", RoundRules{WorstRed: true}, lane(-.012, 13.26, 13.25), lane(-.012, 12.40, 12.40), Nobody, Decision{Kind: RedLight, Lane: Nobody}, .010},
		{"breakout", RoundRules{}, lane(.020, 13.241, 13.25), lane(.060, 12.45, 12.40), 1, Decision{Kind: BrokeOut, S: .009}, .099},
		{"dial equalled", RoundRules{}, lane(.020, 13.250, 13.25), lane(.060, 12.45, 12.40), 0, Decision{Kind: AtFinish, S: .090}, .090},
		{"double breakout, less wins", RoundRules{}, lane(.020, 13.241, 13.25), lane(.010, 12.380, 12.40), 0, Decision{Kind: BrokeOut, Lane: Nobody, S: .009, OtherS: .020}, .021},
		{"double breakout alike, first wins", RoundRules{}, lane(.020, 13.240, 13.25), lane(.010, 12.390, 12.40), 1, Decision{Kind: AtFinish, Lane: 1, S: .010, AlikeS: .010}, .010},
		{"boundary against green", RoundRules{}, faulty(lane(.020, 13.26, 13.25), Boundary), lane(.300, 13.00, 12.40), 1, Decision{Kind: CrossedLine}, .870},
		{"boundary against red", RoundRules{}, faulty(lane(.020, 13.26, 13.25), Boundary), lane(-.100, 12.41, 12.40), 1, Decision{Kind: CrossedLine}, .120},
		{"boundary against breakout", RoundRules{}, lane(.020, 13.10, 13.25), faulty(lane(.010, 12.41, 12.40), Boundary), 0, Decision{Kind: CrossedLine, Lane: 1}, .150},
		{"both over the boundary", RoundRules{}, faulty(lane(.02, 13.26, 13.25), Boundary), faulty(lane(.01, 12.41, 12.40), Boundary), Nobody, Decision{Kind: CrossedLine, Lane: Nobody}, .010},
		{"broke before it staged", RoundRules{}, LaneRun{Fault: NoStart}, lane(.100, 12.41, 12.40), 1, Decision{Kind: NeverStaged}, -1},
		{"broke before it staged, the other red", RoundRules{}, lane(-.050, 13.26, 13.25), LaneRun{Fault: NoStart}, 0, Decision{Kind: NeverStaged, Lane: 1}, -1},
		{"neither staged", RoundRules{}, LaneRun{Fault: NoStart}, LaneRun{Fault: NoStart}, Nobody, Decision{Kind: NeverStaged, Lane: Nobody}, -1},
		{"broke on the line", RoundRules{}, LaneRun{Fault: Stalled}, lane(.100, 12.41, 12.40), 1, Decision{Kind: NeverLeft}, -1},
		{"broke on the line, the other red", RoundRules{}, lane(-.050, 13.26, 13.25), LaneRun{Fault: Stalled}, 1, Decision{Kind: RedLight, S: .050}, -1},
		{"broke on the line, the other over the boundary", RoundRules{}, faulty(lane(.050, 13.26, 13.25), Boundary), LaneRun{Fault: Stalled}, 1, Decision{Kind: CrossedLine}, -1},
		{"neither left", RoundRules{}, LaneRun{Fault: Stalled}, LaneRun{Fault: Stalled}, Nobody, Decision{Kind: NeverLeft, Lane: Nobody}, -1},
		{"broke on the way", RoundRules{}, broken(lane(.010, 0, 13.25)), lane(.100, 12.60, 12.40), 1, Decision{Kind: NoFinish}, -1},
		{"broke on the way against red", RoundRules{}, broken(lane(.010, 0, 13.25)), lane(-.001, 12.60, 12.40), 0, Decision{Kind: RedLight, Lane: 1, S: .001}, -1},
		{"both broke", RoundRules{}, broken(lane(.010, 0, 13.25)), broken(lane(.010, 0, 12.40)), Nobody, Decision{Kind: NoFinish, Lane: Nobody}, -1},
		{"the other's time not written down", RoundRules{}, lane(.010, 13.27, 13.25), untold(lane(.100, 0, 12.40)), Nobody, Decision{Kind: TimeUntold, Lane: 1}, -1},
		{"broke, the other's time not written down", RoundRules{}, broken(lane(.010, 0, 13.25)), untold(lane(.100, 0, 12.40)), Nobody, Decision{Kind: TimeUntold, Lane: 1}, -1},
		{"red, the other's time not written down", RoundRules{}, lane(.010, 13.27, 13.25), untold(lane(-.100, 0, 12.40)), 0, Decision{Kind: RedLight, Lane: 1, S: .100}, -1},
		{"equal packages", RoundRules{}, lane(.030, 13.270, 13.25), lane(.020, 12.430, 12.40), Nobody, Decision{Kind: AtFinish, Lane: Nobody}, 0},
		{"heads-up", RoundRules{Format: HeadsUp}, lane(.080, 8.412, 9), lane(.020, 8.450, 9), 1, Decision{Kind: AtFinish, Lane: 1, S: .022}, .022},
		{"heads-up has no breakout", RoundRules{Format: HeadsUp}, lane(.010, 8.0, 8.5), lane(.020, 8.6, 8.5), 0, Decision{Kind: AtFinish, S: .610}, .610},
		{"index breakout", RoundRules{Format: Index}, lane(.010, 8.899, 8.90), lane(.080, 8.950, 8.90), 1, Decision{Kind: BrokeOut, S: .001, Index: true}, .121},
		{"index equalled", RoundRules{Format: Index}, lane(.010, 8.900, 8.90), lane(.080, 8.950, 8.90), 0, Decision{Kind: AtFinish, S: .120}, .120},
		{"index, both red, the first loses", RoundRules{Format: Index}, lane(-.010, 8.9, 8.90), lane(-.020, 8.95, 8.90), 0, Decision{Kind: FirstRed, Lane: Nobody}, .040},
		{"no dial on the slip", RoundRules{}, LaneRun{ReactionS: units.Some(.02), ETS: units.Some(13.2)}, lane(.01, 12.41, 12.40), Nobody, Decision{Kind: FinishUntold, Lane: Nobody}, -1},
	} {
		got := Adjudicate(c.rules, [2]LaneRun{c.a, c.b}, false)
		if got.Winner != c.winner || got.Why != c.why {
			t.Errorf("%s: %d, %+v; want %d, %+v", c.name, got.Winner, got.Why, c.winner, c.why)
		}
		if c.marginS < 0 && got.MarginS.Known() || c.marginS >= 0 && math.Abs(got.MarginS.Or(9)-c.marginS) > 1e-9 {
			t.Errorf("%s: margin %v, want %v", c.name, got.MarginS, c.marginS)
		}
		// The lanes' order on the slip decides nothing.
		other := Adjudicate(c.rules, [2]LaneRun{c.b, c.a}, false)
		if other.Winner != map[int]int{0: 1, 1: 0, Nobody: Nobody}[c.winner] {
			t.Errorf("%s: lanes exchanged: %d, %+v", c.name, other.Winner, other.Why)
		}
	}
}

func TestAByeIsWonRedOrNot(t *testing.T) {
	if r := Adjudicate(RoundRules{}, [2]LaneRun{lane(-.1, 13.0, 13.25), {}}, true); r.Winner != 0 ||
		math.Abs(r.Packages[0].Value()+0.35) > 1e-9 {
		t.Errorf("%+v", r)
	}
}

// 60 mph is 88 ft/s.
func TestMarginInFeet(t *testing.T) {
	a, b := lane(.042, 13.272, 13.25), lane(.051, 12.430, 12.40)
	a.MPH, b.MPH = units.Some(105.), units.Some(120.)
	if r := Adjudicate(RoundRules{}, [2]LaneRun{a, b}, false); math.Abs(r.MarginFt.Value()-.017*176) > 1e-9 {
		t.Errorf("margin %v ft, want %v", r.MarginFt, .017*176)
	}
}

func TestWhatCouldBeGivenAway(t *testing.T) {
	r := Adjudicate(RoundRules{}, [2]LaneRun{lane(.020, 13.241, 13.25), lane(.060, 12.45, 12.40)}, false)
	if !slices.Equal(r.Notes, []RoundNote{{GaveTooLittle, 0, .098, .009}}) {
		t.Errorf("%+v", r.Notes)
	}
	r = Adjudicate(RoundRules{}, [2]LaneRun{lane(.042, 13.272, 13.25), lane(.051, 12.430, 12.40)}, false)
	if !slices.Equal(r.Notes, []RoundNote{{HadSpare, 0, .016, 0}}) {
		t.Errorf("%+v", r.Notes)
	}
}

// The one who is first on a common clock, started by the dials, has the smaller
// package: the clock is run here as the tree runs it.
func TestFirstOnACommonClock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thousandth := func(what string, low, high int) float64 {
			return float64(rapid.IntRange(low, high).Draw(t, what)) / 1000
		}
		var l [2]LaneRun
		var crosses [2]float64
		perfect := rapid.SampledFrom([]float64{0, .4, .5}).Draw(t, "perfect")
		for i := range l {
			dial := thousandth("dial", 6000, 18000)
			l[i] = lane(perfect+thousandth("late", 0, 300), dial+thousandth("over", 0, 300), dial)
		}
		slow := math.Max(l[0].DialS.Value(), l[1].DialS.Value())
		for i := range l {
			green := slow - l[i].DialS.Value()
			crosses[i] = green + l[i].ReactionS.Value() - perfect + l[i].ETS.Value()
		}
		r := Adjudicate(RoundRules{PerfectS: perfect}, l, false)
		switch gap := crosses[0] - crosses[1]; {
		case math.Abs(gap) < 1e-6:
			if r.Winner != Nobody {
				t.Fatalf("dead heat: %+v", r)
			}
		case (gap < 0) != (r.Winner == 0) || math.Abs(math.Abs(gap)-r.MarginS.Value()) > 1e-6:
			t.Fatalf("%v: %+v", crosses, r)
		}
	})
}
