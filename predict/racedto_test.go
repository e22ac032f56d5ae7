package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

// Slips of the trade, in the order of the marks; 0 is not printed: common practice, no
// source.
var (
	quarterMile = [Marks]float64{1.912, 5.437, 8.412, 10.980, 13.212}
	quickCar    = [Marks]float64{1.180, 3.310, 5.090, 6.640, 7.970}
	slowCar     = [Marks]float64{2.410, 6.890, 10.640, 13.880, 16.650}
	oneThousand = [Marks]float64{1.912, 5.437, 8.412, 10.980}
	oneEighth   = [Marks]float64{1.912, 5.437, 8.412}
	brokeEarly  = [Marks]float64{1.912, 5.437}
	brokeAtOnce = [Marks]float64{1.912}
	coasted     = [Marks]float64{1.912, 5.437, 8.702, 12.400, 21.300}
	coastedTo8  = [Marks]float64{1.912, 5.900, 10.100}
)

func timed(ets [Marks]float64) (s Splits) {
	for m, et := range ets {
		if et > 0 {
			s.ETs[m] = units.Some(et)
		}
	}
	return s
}

func TestRacedTo(t *testing.T) {
	both, eighth, thousand, all := []float64{660, 1320}, []float64{660}, []float64{1000}, []float64{660, 1000, 1320}
	lane := func(et, mph float64) (l LaneRun) {
		l.ETS = units.Some(et)
		if mph > 0 {
			l.MPH = units.Some(mph)
		}
		return l
	}
	for _, c := range []struct {
		name    string
		ets     [Marks]float64
		lengths []float64
		dial    float64
		other   LaneRun
		want    Mark
	}{
		{"a whole run", quarterMile, both, 13.25, LaneRun{}, At1320},
		{"a whole run, nothing else known", quarterMile, nil, 0, LaneRun{}, At1320},
		{"a whole run, the other lane lifted", quarterMile, both, 0, lane(14, 45), At1320},
		{"a whole run, the other lane's time alone is an eighth's", quarterMile, both, 0, lane(8.5, 0), At1320},
		{"broke out by a lot", quarterMile, both, 14.00, LaneRun{}, At1320},
		{"a dial that cannot be", quarterMile, both, 19.00, LaneRun{}, At1320},
		{"coasted over the line", coasted, both, 13.25, LaneRun{}, At1320},
		{"an eighth on a slip of the quarter", quarterMile, both, 8.40, LaneRun{}, At660},
		{"an eighth", oneEighth, both, 8.40, LaneRun{}, At660},
		{"an eighth, nothing else known", oneEighth, nil, 0, LaneRun{}, At660},
		{"an eighth, broke out", oneEighth, both, 8.80, LaneRun{}, At660},
		{"broke beyond the eighth", oneEighth, both, 13.25, LaneRun{}, At1320},
		{"broke before the eighth, coasted over it", coastedTo8, both, 13.25, LaneRun{}, At1320},
		{"broke beyond the eighth, lengths not known", oneEighth, nil, 13.25, LaneRun{}, At1320},
		{"broke before the eighth", brokeEarly, both, 13.25, LaneRun{}, At1320},
		{"broke at once", brokeAtOnce, both, 13.25, LaneRun{}, At1320},
		{"broke at once, of an eighth", brokeAtOnce, both, 8.40, LaneRun{}, At660},
		{"an eighth-mile track", brokeEarly, eighth, 8.40, LaneRun{}, At660},
		{"an eighth-mile track, no dial", brokeEarly, eighth, 0, LaneRun{}, At660},
		{"a quarter run at what is called an eighth-mile track", quarterMile, eighth, 13.25, LaneRun{}, At1320},
		{"1000 ft", oneThousand, thousand, 10.95, LaneRun{}, At1000},
		{"1000 ft, broke", oneEighth, thousand, 10.95, LaneRun{}, At1000},
		{"1000 ft of three", oneThousand, all, 10.95, LaneRun{}, At1000},
		{"broke beyond 1000 ft of three", oneThousand, all, 13.25, LaneRun{}, At1320},
		{"a last time that is no finish", oneThousand, both, 0, LaneRun{}, At1320},
		{"1000 ft, lengths not known", oneThousand, nil, 0, LaneRun{}, At1000},
		{"the other lane ran a quarter", oneEighth, both, 0, lane(12.430, 109.4), At1320},
		{"the other lane ran an eighth", oneEighth, both, 0, lane(7.030, 100.2), At660},
		{"the other lane ran 1000 ft", oneEighth, all, 0, lane(10.010, 104.5), At1000},
		{"heads-up, a quarter", oneEighth, both, 0, lane(12.90, 0), At1320},
		{"heads-up, an eighth", oneEighth, both, 0, lane(8.30, 0), At660},
		{"no telling", oneEighth, both, 0, lane(10.20, 0), At660},
		{"no time at all", [Marks]float64{}, both, 13.25, LaneRun{}, At1320},
		{"no time at all on an eighth-mile track", [Marks]float64{}, eighth, 8.40, LaneRun{}, At660},
	} {
		var dial units.Number
		if c.dial > 0 {
			dial = units.Some(c.dial)
		}
		if got := RacedTo(timed(c.ets), c.lengths, dial, c.other); got != c.want {
			t.Errorf("%s: %g ft, want %g", c.name, got.Ft(), c.want.Ft())
		}
	}
}

// Whatever car broke wherever, a dial near its time tells the distance.
func TestRacedToByTheDial(t *testing.T) {
	for _, ets := range [][Marks]float64{quarterMile, quickCar, slowCar} {
		for _, finish := range []Mark{At660, At1320} {
			for ends := At60; ends <= finish; ends++ {
				for _, over := range []float64{0.95, 1, 1.05} {
					s := timed(ets).upTo(ends.Ft())
					if got := RacedTo(s, []float64{660, 1320}, units.Some(ets[finish]*over), LaneRun{}); got != finish {
						t.Errorf("%v up to %g ft, dial %.2f: %g ft, want %g", ets, ends.Ft(), ets[finish]*over, got.Ft(), finish.Ft())
					}
				}
			}
		}
		for ends := At60; ends < At1320; ends++ {
			miss := timed(ets).upTo(ends.Ft()).about(At1320)/ets[At1320] - 1
			if most := map[bool]float64{true: 0.2, false: 0.05}[ends == At60]; math.Abs(miss) > most {
				t.Errorf("%v from %g ft: off by %.3f", ets, ends.Ft(), miss)
			}
		}
	}
}

// A car that stalled on the line takes as long to 1000 ft as it dials for the quarter:
// its speeds tell which it was.
func TestRacedToOfAStall(t *testing.T) {
	s := timed([Marks]float64{3.2, 6.55, 9.40, 11.90, 14.02})
	s.MPHs[At660], s.MPHs[At1320] = units.Some(84), units.Some(104.5)
	if m := RacedTo(s, []float64{660, 1000, 1320}, units.Some(12.75), LaneRun{}); m != At1320 {
		t.Errorf("raced to %g ft", m.Ft())
	}
}
