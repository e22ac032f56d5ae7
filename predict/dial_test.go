package predict

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// foretold is a forecast whose ET at the quarter mile is known in law: ln ET is
// Student-t about ln centre with that standard deviation.
func foretold(centre, sd, df float64) *Forecast {
	f := &Forecast{Finish: At1320}
	f.law.df = df
	f.ETs[At1320].Centre, f.ETs[At1320].Low95 = centre, centre*(1-5*sd)
	for c := range channels {
		f.law.mean[c], f.law.cov[c][c] = math.Log(centre), sd*sd
	}
	return f
}

// Quantiles of Student's t with 5 degrees of freedom: 1.476 at 0.90, 2.015 at 0.95
// (any table of the distribution, as in Abramowitz and Stegun, table 26.10).
func TestBreakoutChance(t *testing.T) {
	f := foretold(13.2, 0.004, 5)
	scale := 0.004 * math.Sqrt(3./5)
	for _, c := range []struct{ z, chance float64 }{{0, 0.5}, {-1.476, 0.10}, {-2.015, 0.05}, {2.015, 0.95}} {
		dial := 13.2 * math.Exp(c.z*scale)
		if got := f.BreakoutChance(At1320, dial); math.Abs(got-c.chance) > 1e-4 {
			t.Errorf("dial %.3f: %.4f, want %.4f", dial, got, c.chance)
		}
	}
}

// Of the two hundredths about the wanted risk the nearer one.
func TestDialForRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := foretold(
			rapid.Float64Range(4, 20).Draw(t, "et"),
			rapid.Float64Range(0.001, 0.1).Draw(t, "sd"),
			rapid.Float64Range(4.5, 1000).Draw(t, "df"),
		)
		risk := rapid.Float64Range(0.01, 0.99).Draw(t, "risk")
		dial, err := f.DialFor(At1320, risk)
		if err != nil {
			t.Fatal(err)
		}
		off := func(d float64) float64 { return math.Abs(f.BreakoutChance(At1320, d) - risk) }
		if off(dial) > off(dial+0.01)+1e-9 || off(dial) > off(dial-0.01)+1e-9 {
			t.Fatalf("%.2f is off by %.4f, its neighbours by %.4f and %.4f", dial, off(dial), off(dial-0.01), off(dial+0.01))
		}
		if math.Abs(dial*100-math.Round(dial*100)) > 1e-6 {
			t.Fatalf("%v is no dial", dial)
		}
	})
	for _, risk := range []float64{0, 1, -0.1, math.NaN()} {
		if dial, err := foretold(13.2, 0.004, 5).DialFor(At1320, risk); err == nil {
			t.Errorf("risk %g: dial %g", risk, dial)
		}
	}
}

// Against each hundredth tried in turn, from the run that one in 200 beats to the one that
// one in 200 is slower than: none wins a percent more, and of those that win as much none
// lies nearer to the usual one. Some of the other dials are among those tried: who leaves
// first, and loses when both are red, changes there.
func TestBestDial(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	for range sized(40, 4) {
		f := foretold(9, between(0.001, 0.006), 6)
		own, other := normally(
			between(0, 0.08),
			0.02,
		), Opponent{
			DialS:    between(8.7, 9.3),
			Reaction: normally(between(-0.05, 0.1), 0.015),
		}
		other.ET = Spread{other.DialS + between(-0.05, 0.1), between(0.005, 0.05)}
		known := map[float64]float64{}
		win := func(dial float64) (chance float64, err error) {
			if c, seen := known[dial]; seen {
				return c, nil
			}
			known[dial], err = f.WinChance(At1320, RoundRules{}, own, dial, other)
			return known[dial], err
		}
		usual, err := f.DialFor(At1320, UsualRisk)
		if err != nil {
			t.Fatal(err)
		}
		got, err := f.BestDial(At1320, usual, win)
		if err != nil {
			t.Fatal(err)
		}
		wins, _ := win(got)
		for k := 800; k < 1000; k++ {
			dial := float64(k) / 100
			if p := f.BreakoutChance(At1320, dial); p < 0.005 || p > 0.995 {
				continue
			}
			chance, _ := win(dial)
			if sameWin(chance) > sameWin(wins) {
				t.Errorf("%.2f wins %.4f, %.2f wins %.4f", got, wins, dial, chance)
			}
			if sameWin(chance) == sameWin(wins) && math.Abs(dial-usual) < math.Abs(got-usual)-1e-9 {
				t.Errorf("%.2f wins as much as %.2f and is nearer to %.2f", dial, got, usual)
			}
		}
	}
	bad := func(float64) (float64, error) { return 0, errors.New("no chance") }
	if _, err := foretold(9, 0.004, 5).BestDial(At1320, 8.97, bad); err == nil {
		t.Error("an error was lost")
	}
}

// A forecast so wide that not each hundredth is tried: the best of a chance with one top
// is found all the same.
func TestBestDialOfAWideForecast(t *testing.T) {
	f := foretold(9, 0.06, 6)
	for _, top := range []float64{8.11, 8.5, 9.03, 9.77} {
		tried := 0
		win := func(dial float64) (float64, error) {
			tried++
			return 1 - math.Abs(dial-top), nil
		}
		got, err := f.BestDial(At1320, top, win)
		if err != nil || math.Abs(got-top) > 1e-9 || tried > 200 {
			t.Errorf("%.2f in place of %.2f after %d tries, %v", got, top, tried, err)
		}
		if got, _ := f.BestDial(At1320, 8.8, win); math.Abs(got-top) > 0.006 {
			t.Errorf("%.2f in place of %.2f", got, top)
		}
	}
}

// The same table's quantile for 10 %, however far the index is from what the car runs:
// no search may stop short of it.
func TestSlowerForAnIndex(t *testing.T) {
	f := foretold(13.2, 0.004, 5)
	at10 := 13.2 * math.Exp(-1.476*0.004*math.Sqrt(3./5))
	for _, index := range []float64{13.2, 13.5, 17, 40} {
		got, err := f.SlowerFor(At1320, index, 0.10)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "slower", got, index-at10, 1e-4)
		near(t, "risk then", f.BreakoutChance(At1320, index-got), 0.10, 1e-9)
	}
	if got, err := f.SlowerFor(At1320, 13, 0.10); err != nil || got != 0 {
		t.Errorf("an index that it cannot reach: %.3f slower, %v", got, err)
	}
	if got, err := f.SlowerFor(At1320, 13.2, 0); err == nil {
		t.Errorf("no risk at all: %.3f slower", got)
	}
}

func TestDialsAround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := foretold(
			rapid.Float64Range(4, 20).Draw(t, "et"),
			rapid.Float64Range(0.001, 0.05).Draw(t, "sd"),
			rapid.Float64Range(4.5, 1000).Draw(t, "df"),
		)
		wanted, err := f.DialFor(At1320, rapid.Float64Range(0.001, 0.999).Draw(t, "risk"))
		if err != nil {
			t.Fatal(err)
		}
		dials := f.DialsAround(At1320, wanted)
		found := false
		for i, d := range dials {
			found = found || math.Abs(d-wanted) < 1e-9
			if math.Abs(d*100-math.Round(d*100)) > 1e-6 || i > 0 && d <= dials[i-1] {
				t.Fatalf("%v", dials)
			}
		}
		if !found || len(dials) > mostDials+2 {
			t.Fatalf("%d dials, the wanted %.2f among them %t: %v", len(dials), wanted, found, dials)
		}
		if least := f.BreakoutChance(At1320, dials[0]); least > 0.03 && dials[0] > 0.02 {
			t.Fatalf("the safest, %.2f, breaks out with %.3f: %v", dials[0], least, dials)
		}
		if most := f.BreakoutChance(At1320, dials[len(dials)-1]+0.01); most < 0.5 {
			t.Fatalf("the boldest, %.2f, breaks out with %.3f: %v", dials[len(dials)-1], most, dials)
		}
	})
}

// 60 mph is 88 ft/s.
func TestTimeOver(t *testing.T) {
	f := &Forecast{MPHs: [Marks]Band{At1320: {Centre: 60}}}
	if s, known := f.TimeOver(At1320, 15); !known || math.Abs(s-15./88) > 1e-12 {
		t.Errorf("%.4f s, %t", s, known)
	}
	if _, known := f.TimeOver(At60, 15); known {
		t.Error("a speed at 60 ft")
	}
}

// Without reds and breakouts the closed form is a normal law of the difference of
// the packages.
func TestWinChanceClosedForm(t *testing.T) {
	const et, sd = 13.3, 0.03
	f := foretold(et, sd/et, 1e6)
	own, other := normally(0.5, 0.02), Opponent{DialS: 12, Reaction: normally(0.48, 0.015), ET: Spread{12.35, 0.025}}
	for _, dial := range []float64{12.9, 12.95, 13} {
		got, err := f.WinChance(At1320, RoundRules{}, own, dial, other)
		if err != nil {
			t.Fatal(err)
		}
		lead := (other.Reaction.Mean + other.ET.Mean - other.DialS) - (own.Mean + et - dial)
		all := math.Sqrt(own.SD*own.SD + sd*sd + other.Reaction.SD*other.Reaction.SD + other.ET.SD*other.ET.SD)
		if want := distuv.UnitNormal.CDF(lead / all); math.Abs(got-want) > 5e-4 {
			t.Errorf("dial %.2f: %.5f, want %.5f", dial, got, want)
		}
	}
}

func normally(mean, sd float64) Reactions { return Reactions{Spread: Spread{mean, sd}} }

// draw takes one by its law: usualReactions of the normal one to each that was seen.
func (l Reactions) draw(r *rand.Rand) float64 {
	if k := r.IntN(usualReactions + len(l.Seen)); k >= usualReactions {
		return l.Seen[k-usualReactions]
	}
	return l.Mean + l.SD*r.NormFloat64()
}

// Thirty lights of which none is red, as of one who has learned where the edge is, and some
// that are.
var (
	neverRed, _ = UsualReaction([]float64{
		.004, .005, .006, .007, .008, .009, .010, .011, .012, .013, .014, .015, .016, .018, .020,
		.022, .024, .026, .028, .030, .033, .036, .040, .044, .048, .055, .060, .068, .080, .100,
	})
	seen, _ = UsualReaction([]float64{-.012, .004, .021, .008, .015, .033, .002, .041, -.003, .019})
)

// No red in thirty is not given a normal law's: 11 % of it would be red.
func TestReactionsAsTheyWere(t *testing.T) {
	normal := neverRed
	normal.Seen = nil
	if red := newLights(normal).red; red < 0.1 {
		t.Fatalf("by a normal law %.3f are red: no test", red)
	}
	if red := newLights(neverRed).red; red > 0.03 {
		t.Errorf("of thirty green lights the next is red with %.3f", red)
	}
	if red := newLights(seen).red; math.Abs(red-0.2) > 0.05 {
		t.Errorf("of ten lights with two red the next is red with %.3f", red)
	}
}

// The quadrature against a hundred thousand rounds drawn at random and decided by
// Adjudicate, by 4 standard errors: 0.006.
func TestWinChanceMonteCarlo(t *testing.T) {
	t.Parallel()
	n := sized(100_000, 10_000)
	for _, c := range []struct {
		name  string
		rules RoundRules
		own   Reactions
		dial  float64
		other Opponent
	}{
		{"usual", RoundRules{}, normally(0.03, 0.02), 13.21, Opponent{12.40, normally(0.042, 0.02), Spread{12.43, 0.03}}},
		{"dialled soft", RoundRules{}, normally(0.03, 0.02), 13.16, Opponent{12.40, normally(0.042, 0.02), Spread{12.43, 0.03}}},
		{"dialled hard", RoundRules{}, normally(0.03, 0.02), 13.30, Opponent{14.40, normally(0.01, 0.01), Spread{14.39, 0.03}}},
		{"both often red, worst", RoundRules{WorstRed: true}, normally(0, 0.02), 13.21, Opponent{13.40, normally(0.002, 0.01), Spread{13.43, 0.03}}},
		{"both often red, first", RoundRules{}, normally(0, 0.02), 13.21, Opponent{13.22, normally(0.002, 0.02), Spread{13.23, 0.03}}},
		{"index", RoundRules{Format: Index}, normally(0.03, 0.02), 13.20, Opponent{13.20, normally(0.03, 0.02), Spread{13.21, 0.03}}},
		{"lights as they were", RoundRules{}, neverRed, 13.22, Opponent{13.25, seen, Spread{13.28, 0.03}}},
		{"heads-up", RoundRules{Format: HeadsUp}, normally(0.03, 0.02), 0, Opponent{0, normally(0.06, 0.02), Spread{13.18, 0.03}}},
	} {
		f := foretold(13.22, 0.003, 6)
		got, err := f.WinChance(At1320, c.rules, c.own, c.dial, c.other)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(1, 2))
		law := f.etLaw(At1320)[0].t
		law.Src = r
		won := 0.
		for range n {
			// Unrounded, as the quadrature is: the slip's thousandths, times 1000.
			const fine = 1000
			res := Adjudicate(c.rules, [2]LaneRun{
				{
					ReactionS: units.Some(fine * c.own.draw(r)),
					ETS:       units.Some(fine * math.Exp(law.Rand())),
					DialS:     units.Some(fine * c.dial),
				},
				{
					ReactionS: units.Some(fine * c.other.Reaction.draw(r)),
					ETS:       units.Some(fine * (c.other.ET.Mean + c.other.ET.SD*r.NormFloat64())),
					DialS:     units.Some(fine * c.other.DialS),
				},
			}, false)
			switch res.Winner {
			case 0:
				won++
			case Nobody:
				won += 0.5
			}
		}
		if drawn := won / float64(n); math.Abs(got-drawn) > 0.006*math.Sqrt(100_000/float64(n)) {
			t.Errorf("%s: %.4f, drawn %.4f", c.name, got, drawn)
		}
	}
}
