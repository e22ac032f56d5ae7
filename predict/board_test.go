package predict_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"slipcase/predict"
)

const (
	afterUpgrade = "after an upgrade"
	newTrack     = "at a new track"
)

// finishes are the distances that seasons are raced to.
var finishes = []predict.Mark{predict.At660, predict.At1000, predict.At1320}

func toFinish(m predict.Mark) string { return fmt.Sprintf("to %g ft", m.Ft()) }

// board sums trials up in the rows of the acceptance table.
type board struct {
	names []string
	rows  map[string]*standing
}

func newBoard() *board {
	b := &board{names: []string{"0", "1-2", "3-5", "6-10", "11-20", "21+", afterUpgrade, newTrack, "cars", "motorcycles"}}
	for _, m := range finishes {
		b.names = append(b.names, toFinish(m))
	}
	b.names = append(b.names, "all")
	b.rows = map[string]*standing{}
	for _, n := range b.names {
		b.rows[n] = &standing{bySeason: map[uint64]*[4]float64{}}
	}
	return b
}

func (b *board) add(trials []trial) {
	for _, x := range trials {
		if x.runs > 0 {
			b.rows["all"].add(x)
		}
		// The first two runs after the upgrade are a row of their own.
		if x.setup == 1 && x.nth < 2 {
			if x.sheet {
				b.rows[afterUpgrade].add(x)
			}
			continue
		}
		b.rows[lengthOf(x.runs)].add(x)
		if x.newTrack {
			b.rows[newTrack].add(x)
		}
		if x.runs > 0 {
			b.rows[toFinish(x.finish)].add(x)
		}
		switch {
		case x.runs == 0:
		case x.kind == predict.Motorcycle:
			b.rows["motorcycles"].add(x)
		default:
			b.rows["cars"].add(x)
		}
	}
}

func lengthOf(runs int) string {
	switch {
	case runs == 0:
		return "0"
	case runs <= 2:
		return "1-2"
	case runs <= 5:
		return "3-5"
	case runs <= 10:
		return "6-10"
	case runs <= 20:
		return "11-20"
	}
	return "21+"
}

// standing is one row: sums over n trials.
type standing struct {
	n, toldN                                      int
	mae, bias, floor, possible, toldBias, toldMAE float64
	hand                                          [4]float64
	held                                          [3]float64
	score, floorScore                             float64
	bySeason                                      map[uint64]*[4]float64 // n, and held of each interval
	biasSquares                                   float64
}

func (y *standing) add(x trial) {
	y.n++
	e := x.got.Centre - x.et
	y.mae += math.Abs(e)
	y.bias += e
	y.biasSquares += e * e
	y.floor += math.Abs(x.floor - x.et)
	y.possible += math.Abs(x.possible - x.et)
	if x.told > 0 {
		y.toldN++
		y.toldBias += x.told - x.et
		y.toldMAE += math.Abs(x.told - x.et)
	}
	for i := range y.hand {
		y.hand[i] += math.Abs(x.hand[i] - x.et)
	}
	s := y.bySeason[x.season]
	if s == nil {
		s = new([4]float64)
		y.bySeason[x.season] = s
	}
	s[0]++
	for i, in := range [3]bool{
		x.got.Low50 <= x.et && x.et <= x.got.High50,
		x.got.Low80 <= x.et && x.et <= x.got.High80,
		x.got.Low95 <= x.et && x.et <= x.got.High95,
	} {
		if in {
			y.held[i]++
			s[i+1]++
		}
	}
	const z80 = 1.2816
	y.score += predict.IntervalScore(x.got.Low80, x.got.High80, x.et, 0.2)
	y.floorScore += predict.IntervalScore(x.floor-z80*x.floorSD, x.floor+z80*x.floorSD, x.et, 0.2)
}

func (y *standing) bestHand() float64 {
	return min(y.hand[0], y.hand[1], y.hand[2], y.hand[3])
}

// coverage is the share held of interval i in percent, and its standard error
// with seasons as the unit.
func (y *standing) coverage(i int) (share, se float64) {
	p := y.held[i] / float64(y.n)
	v := 0.
	for _, s := range y.bySeason {
		d := s[i+1] - p*s[0]
		v += d * d
	}
	return 100 * p, 100 * math.Sqrt(v) / float64(y.n)
}

// biasSE is the standard error of the bias, s.
func (y *standing) biasSE() float64 { return math.Sqrt(y.biasSquares) / float64(y.n) }

func (b *board) String() string {
	var out strings.Builder
	fmt.Fprintf(
		&out,
		"%-17s %5s | %5s %5s %5s %5s | %4s %4s %4s %4s | %5s %5s | %5s %5s %5s %5s | %11s %11s %11s | %5s\n",
		"runs before",
		"n",
		"mae",
		"bias",
		"told",
		"bias",
		"last",
		"m3",
		"line",
		"corr",
		"floor",
		"poss",
		"/hand",
		"f/h",
		"/flr",
		"/poss",
		"50 %",
		"80 %",
		"95 %",
		"score",
	)
	for _, name := range b.names {
		y := b.rows[name]
		n := float64(y.n)
		ms := func(v float64) float64 { return 1000 * v / n }
		told := "    -     -"
		if y.toldN > 0 {
			told = fmt.Sprintf("%5.1f %+5.1f", 1000*y.toldMAE/float64(y.toldN), 1000*y.toldBias/float64(y.toldN))
		}
		fmt.Fprintf(
			&out,
			"%-17s %5d | %5.1f %+5.1f %s | %4.0f %4.0f %4.0f %4.0f | %5.1f %5.1f | %5.2f %5.2f %5.2f %5.2f |",
			name,
			y.n,
			ms(y.mae),
			ms(y.bias),
			told,
			ms(
				y.hand[0],
			),
			ms(y.hand[1]),
			ms(y.hand[2]),
			ms(y.hand[3]),
			ms(y.floor),
			ms(y.possible),
			y.mae/y.bestHand(),
			y.floor/y.bestHand(),
			y.mae/y.floor,
			y.mae/y.possible,
		)
		for i := range y.held {
			share, se := y.coverage(i)
			fmt.Fprintf(&out, " %4.1f ± %3.1f |", share, se)
		}
		fmt.Fprintf(&out, " %5.2f\n", y.score/y.floorScore)
	}
	out.WriteString(
		"thousandths of a second; /hand, /flr, /poss: mae over the best hand method, the floor, poss; f/h: floor over the best hand method, which no forecast can beat; told: mae and bias of the same forecast given the clean runs alone; poss: floor with the power sheets' error; ± one standard error, seasons as the unit; score: of the 80 % interval over the floor's\n",
	)
	return out.String()
}

// atMost are limits; 0 is none. coverage is in points for the 50 and 80 %
// intervals, half that for the 95 %; it fails when two standard errors beyond.
type atMost struct {
	hand, floor, possible, score, coverage float64
	unbiased                               bool // within 5 ms or two standard errors
}

func (b *board) check(t *testing.T, name string, limit atMost) {
	t.Helper()
	y := b.rows[name]
	for _, c := range []struct {
		what       string
		got, limit float64
	}{
		{"times the best hand method", y.mae / y.bestHand(), limit.hand},
		{"times the noise floor", y.mae / y.floor, limit.floor},
		{"times what the sheets leave possible", y.mae / y.possible, limit.possible},
		{"times the floor's interval score", y.score / y.floorScore, limit.score},
	} {
		if c.limit > 0 && c.got > c.limit {
			t.Errorf("%s: %.3f %s, want at most %.2f", name, c.got, c.what, c.limit)
		}
	}
	bias, se := y.bias/float64(y.n), y.biasSE()
	if limit.unbiased && math.Abs(bias) > max(0.005, 2*se) {
		t.Errorf("%s: bias %+.4f s, standard error %.4f", name, bias, se)
	}
	for i, want := range []float64{50, 80, 95} {
		points := limit.coverage
		if want == 95 {
			points /= 2
		}
		if share, se := y.coverage(i); points > 0 && math.Abs(share-want) > points+2*se {
			t.Errorf("%s: the %.0f %% interval held %.1f ± %.1f %%, want within %g points", name, want, share, se, points)
		}
	}
}
