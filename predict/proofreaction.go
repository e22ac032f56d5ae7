package predict

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
)

// ReactionQuestion is a reaction that looks mistyped.
type ReactionQuestion struct {
	Typed     float64   // s, as all below
	Low, High float64   // outside of which it lies: those of all drivers; zero where it does not
	Usual     float64   // what the driver's own before were about, where it lies inside
	Readings  []float64 // what may have been meant, the likeliest first; may be empty
}

// How drivers leave, s after the perfect light (common practice, no source).
const (
	earliest = -0.150 // lights outside these two are asked about
	latest   = 0.300
	leastSD  = 0.015 // no driver is steadier than this
	asleep   = 0.07  // share of launches that come far from the others
	asleepBy = 0.100 // and their mean distance
	askOwn   = 3     // so many reactions tell more than those of all drivers

	unracedS = 5 // where nobody wins the tree may be watched, or slept through

	noughtsLost    = 0.3  // of the reactions mistyped
	askReaction    = 0.6  // chance of a mistyped one from which on it is asked about
	chanceMistyped = 0.01 // of a slip whose reaction was mistyped
)

// ProofreadReaction holds a reaction of a race, s, against those that the driver had before and
// those that any driver has: is it likelier that it was mistyped? perfectS is what the
// track's slips print for a perfect light, 0 also where nobody has said.
func ProofreadReaction(perfectS float64, before []float64, typed float64) (q ReactionQuestion, ask bool) {
	l := newLight(perfectS, before)
	meant := l.meant(typed)
	list := slices.SortedFunc(maps.Keys(meant), func(a, b float64) int {
		return cmp.Or(cmp.Compare(meant[b], meant[a]), cmp.Compare(a, b))
	})
	as, sum := (1-chanceMistyped)*l.density(typed), 0.
	for _, v := range list {
		sum += meant[v]
	}
	q.Typed = typed
	low, high := l.perfect+earliest, l.perfect+latest
	switch {
	case typed < low || typed > high:
		q.Low, q.High = low, high
	case l.own && sum > as*askReaction/(1-askReaction):
		q.Usual = l.centre
	default:
		return q, false
	}
	if late := l.perfect + typed; typed < 0 && late >= low && l.perfect > 0 {
		q.Readings = append(q.Readings, math.Round(late*1000)/1000) // red by so much, as it is said and not printed
	}
	for _, v := range list {
		if len(q.Readings) == mostRead || meant[v] < meant[list[0]]/100 || meant[v] < as/50 {
			break
		}
		q.Readings = append(q.Readings, v)
	}
	return q, true
}

// ProofreadUnraced is ProofreadReaction of a time trial, a test, a qualifying run or a bye:
// there any reaction of less than 5 s is everyday.
func ProofreadUnraced(perfectS float64, before []float64, typed float64) (q ReactionQuestion, ask bool) {
	if math.Abs(typed) < unracedS {
		return q, false
	}
	q, _ = ProofreadReaction(perfectS, before, typed)
	q.Low, q.High = -unracedS, unracedS
	return q, true
}

// light is the law of a driver's reaction as the slip prints it, s.
type light struct {
	perfect, centre, sd float64
	own                 bool // from reactions of his own
}

func newLight(perfect float64, before []float64) light {
	mid, some := median(before)
	if len(before) < askOwn || !some {
		return light{perfect, perfect + anyReaction.Mean, anyReaction.SD, false}
	}
	if perfect == 0 {
		// The track's light was not said: 0.4 and 0.5 tell themselves.
		for _, p := range []float64{0.4, 0.5} {
			if mid > p-0.05 {
				perfect = p
			}
		}
	}
	apart := make([]float64, len(before))
	for i, r := range before {
		apart[i] = r - mid
	}
	// Few reactions know the spread badly, so that it begins at the usual one.
	n, sd := float64(len(before)), math.Max(robustSD(apart), leastSD)
	return light{perfect, mid, math.Sqrt((askOwn*anyReaction.SD*anyReaction.SD + n*sd*sd) / (askOwn + n)), true}
}

func (l light) density(r float64) float64 {
	awake := distuv.Normal{Mu: l.centre, Sigma: l.sd}
	late := distuv.Laplace{Mu: l.centre, Scale: asleepBy}
	return (1-asleep)*awake.Prob(r) + asleep*late.Prob(r)
}

// meant weighs what may have been meant, with the sign typed or forgotten.
func (l light) meant(typed float64) map[float64]float64 {
	sign := 1.
	if typed < 0 {
		sign = -1
	}
	weights := map[float64]float64{}
	add := func(v, chance float64) {
		if w := chanceMistyped * chance * l.density(v); v != typed && w > weights[v] {
			weights[v] = w
		}
	}
	for v, chance := range undo(math.Abs(typed), 3) {
		add(sign*v, chance)
	}
	// Digits typed alone most often go wrong by their noughts: 420 for 042. Else by a
	// key hit too many, 1042.
	digits := digitsOf(math.Abs(typed), 3)[0]
	add(sign*thousandths(strings.TrimRight(digits, "0")), noughtsLost)
	for k := range digits {
		chance := hitBeside / float64(len(digits))
		if k == 0 {
			chance *= 2
		}
		add(sign*thousandths(digits[:k]+digits[k+1:]), chance)
	}
	return weights
}

// thousandths reads digits as a reaction typed without its point.
func thousandths(digits string) float64 {
	n, err := strconv.Atoi(digits)
	if err != nil {
		return math.Inf(1) // none: as unlikely as can be
	}
	return float64(n) / 1000
}
