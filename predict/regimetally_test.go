package predict_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/predict"
)

// risks are those that a dial is asked for.
var risks = [...]float64{0.05, 0.1, 0.15, 0.2, 0.3}

// sd15 is how many standard deviations below the mean 15 % of a normal law lie.
const sd15 = 1.0364

// sums are over the runs of one season, or of all.
type sums struct {
	n                   float64
	miss, ideal, taught float64 // s
	bias, toldBias      float64
	gap, sure           float64 // from the forecast to the dial of 15 %; to that of one who is told
	apart, toldApart    float64 // from the run's truth, its own noise apart
	stop, toldStop      float64 // the same in s of a throttle stop
	hand                [4]float64
	held                [3]float64 // runs in the 50, 80 and 95 % range
	under               [len(risks)]float64
	toldHeld            [3]float64 // and those of one who is told all but the car's scatter (doubter)
	toldUnder           [len(risks)]float64
}

func (s *sums) add(o *sums) {
	s.n, s.miss, s.ideal, s.taught = s.n+o.n, s.miss+o.miss, s.ideal+o.ideal, s.taught+o.taught
	s.bias, s.toldBias, s.gap, s.sure = s.bias+o.bias, s.toldBias+o.toldBias, s.gap+o.gap, s.sure+o.sure
	s.apart, s.toldApart = s.apart+o.apart, s.toldApart+o.toldApart
	s.stop, s.toldStop = s.stop+o.stop, s.toldStop+o.toldStop
	for i := range s.hand {
		s.hand[i] += o.hand[i]
	}
	for i := range s.held {
		s.held[i], s.toldHeld[i] = s.held[i]+o.held[i], s.toldHeld[i]+o.toldHeld[i]
	}
	for i := range s.under {
		s.under[i], s.toldUnder[i] = s.under[i]+o.under[i], s.toldUnder[i]+o.toldUnder[i]
	}
}

// tally is a row of the table of regimes.
type tally struct {
	sums
	out      float64 // share of the clean runs that are left out in the end
	bySeason map[uint64]*sums
}

func (y *tally) add(x *followed) {
	b, one := x.got.ETs[x.at], sums{n: 1}
	off := func(et float64) float64 { return math.Abs(et - x.et) }
	one.bias, one.sure = b.Centre-x.et, sd15*x.sure
	one.miss, one.ideal, one.taught = off(b.Centre), off(x.ideal), off(x.taught)
	for i, h := range x.hand {
		one.hand[i] = off(h)
	}
	for i, in := range [...]bool{
		b.Low50 <= x.et && x.et <= b.High50, b.Low80 <= x.et && x.et <= b.High80, b.Low95 <= x.et && x.et <= b.High95,
	} {
		if in {
			one.held[i] = 1
		}
	}
	for i, share := range [...]float64{0.5, 0.8, 0.95} {
		if math.Abs(x.doubts.under(x.et)-0.5) <= share/2 {
			one.toldHeld[i] = 1
		}
	}
	for i, risk := range risks {
		if x.et < x.doubts.dial(risk)-1e-9 {
			one.toldUnder[i] = 1
		}
		dial, err := x.got.DialFor(x.at, risk)
		if err == nil && x.et < dial-1e-9 {
			one.under[i] = 1
		}
		if risk == predict.UsualRisk {
			one.gap = b.Centre - dial
		}
	}
	today := x.run.Today[x.at]
	one.apart, one.toldApart, one.toldBias = math.Abs(b.Centre-today), math.Abs(x.taught-today), x.taught-x.et
	if cost, _, _ := x.got.StopSlope(); cost > 0 {
		one.stop, one.toldStop = one.apart/cost, one.toldApart/cost
	}
	y.sums.add(&one)
	if y.bySeason == nil {
		y.bySeason = map[uint64]*sums{}
	}
	if y.bySeason[x.season] == nil {
		y.bySeason[x.season] = &sums{}
	}
	y.bySeason[x.season].add(&one)
}

// ratio of two sums, and its standard error by the seasons (a ratio's, linearised: W. G.
// Cochran, Sampling Techniques, ch. 6; from memory).
func (y *tally) ratio(over, under func(*sums) float64) (r, se float64) {
	all := under(&y.sums)
	r = over(&y.sums) / all
	for _, s := range y.bySeason {
		d := over(s) - r*under(s)
		se += d * d
	}
	if n := float64(len(y.bySeason)); n > 1 {
		se *= n / (n - 1)
	}
	return r, math.Sqrt(se) / all
}

// percent of the runs that a sum counts, and its standard error.
func (y *tally) percent(of func(*sums) float64) (share, se float64) {
	share, se = y.ratio(of, runsOf)
	return 100 * share, 100 * se
}

func runsOf(s *sums) float64      { return s.n }
func missOf(s *sums) float64      { return s.miss }
func idealOf(s *sums) float64     { return s.ideal }
func taughtOf(s *sums) float64    { return s.taught }
func biasOf(s *sums) float64      { return s.bias }
func toldBiasOf(s *sums) float64  { return s.toldBias }
func gapOf(s *sums) float64       { return s.gap }
func sureOf(s *sums) float64      { return s.sure }
func apartOf(s *sums) float64     { return s.apart }
func toldApartOf(s *sums) float64 { return s.toldApart }
func stopOf(s *sums) float64      { return s.stop }
func toldStopOf(s *sums) float64  { return s.toldStop }
func lastOf(s *sums) float64      { return s.hand[0] }

func heldOf(i int) func(*sums) float64     { return func(s *sums) float64 { return s.held[i] } }
func toldHeldOf(i int) func(*sums) float64 { return func(s *sums) float64 { return s.toldHeld[i] } }

func toldUnderOf(i int) func(*sums) float64 { return func(s *sums) float64 { return s.toldUnder[i] } }
func underOf(i int) func(*sums) float64     { return func(s *sums) float64 { return s.under[i] } }

// byHandOf is the best way by hand, picked over all seasons.
func (y *tally) byHandOf() func(*sums) float64 {
	best := slices.Index(y.hand[:], slices.Min(y.hand[:]))
	return func(s *sums) float64 { return s.hand[best] }
}

func (y *tally) row(what, tail string) string {
	ms := func(v float64) float64 { return 1000 * v / y.n }
	ideal, idealSE := y.ratio(missOf, idealOf)
	taught, taughtSE := y.ratio(taughtOf, idealOf)
	hand, _ := y.ratio(missOf, y.byHandOf())
	var held, se [3]float64
	for i := range held {
		held[i], se[i] = y.percent(heldOf(i))
	}
	var out strings.Builder
	fmt.Fprintf(
		&out,
		"%-30s %5.0f %4d | %6.1f %6.1f %+6.1f | %5.2f ± %4.2f %5.2f ± %4.2f | %6.0f %4.2f | %2.0f/%2.0f/%3.0f ± %3.1f %3.1f %3.1f |",
		what,
		y.n,
		len(y.bySeason),
		ms(y.miss),
		ms(y.apart),
		ms(y.bias),
		ideal,
		idealSE,
		taught,
		taughtSE,
		ms(y.hand[0]),
		hand,
		held[0],
		held[1],
		held[2],
		se[0],
		se[1],
		se[2],
	)
	for i := range risks {
		share, se := y.percent(underOf(i))
		fmt.Fprintf(&out, " %4.1f", share)
		if i == len(risks)-1 {
			fmt.Fprintf(&out, " ± %3.1f", se)
		}
	}
	fmt.Fprintf(&out, " | %4.0f %4.0f", ms(y.gap), ms(y.sure))
	return out.String() + tail + "\n"
}

const regimeHead = `thousandths of a second; apart: from the run's truth, its own noise apart; ideal: times who knows car, noise and day;
told: the same of one who is told as much as can be and has to learn the car; hand: times the best way by hand; n: seasons,
the unit of all ± ; dial: share under a dial for 5, 10, 15, 20, 30 %; gap: from forecast to the dial of 15 %, and of one who is told; out: clean runs left out in the end
regime, from the third run on    runs    n |   miss  apart   bias | ideal        told         |   last hand | 50/80/95                  | dial                             |  gap told | out
`
