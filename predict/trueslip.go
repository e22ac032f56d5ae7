package predict

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// What a true slip can look like, for telling it from a mistyped one: an ordinary
// run by the forecast's law, or one gone wrong in a way that wheels go wrong. Those
// ways leave the figures of a slip in step with each other; a typing error moves
// one alone.

// trueSlips are the laws of true slips about one run's law: one for the figures that a slip
// has, and the rest of them where one is left out.
type trueSlips struct {
	law  *runLaw
	made map[figuresOf]*trueSlip
	ways
}

// figuresOf is which figures a slip has, and what the racer noted of the run.
type figuresOf struct {
	has   [channels]bool
	noted Effort
}

// trueSlip is the law of true slips: a mixture of Student-t laws about shifted means.
type trueSlip struct {
	figuresOf
	mean  vec
	df    float64
	parts []wayWrong
}

// wayWrong is one way a run can go, of many sizes.
type wayWrong struct {
	spread lower
	shifts []vec   // already whitened
	each   float64 // log of the chance of each size, and of the constant of its density
}

// lower is the Cholesky triangle of a scale matrix over the channels of the slip.
type lower struct {
	l      [channels][channels]float64
	at     []int
	logDet float64
}

const (
	printSD  = 0.0015 // what no law of figures that hang together should trust, in logs
	spoiltSD = 0.006  // how loosely the speeds of a spoilt run follow its kind
	looseSD  = 0.012  // the same of its times, as a share of each stretch between two of them
)

// The chances of the ways, before looking: set by trial on the tuning seasons.
const (
	chanceSlow = 0.05 // of each of the ways to lose time at one place
	chanceDown = 0.05 // of an engine short of power
	chanceLift = 0.20 // of a lift or the brakes before the finish
)

// trueSlips are the laws of true slips about the forecast's.
func (f *Forecast) trueSlips() *trueSlips {
	if f.slips == nil {
		f.slips = &trueSlips{law: &f.law, made: map[figuresOf]*trueSlip{}, ways: newWays(f.law.mean)}
	}
	return f.slips
}

// of is the law of a slip with these figures; it is none that can be weighed where ok is
// false. A run that the racer says went wrong is none of the ordinary ones.
func (s *trueSlips) of(what figuresOf) (a *trueSlip, ok bool) {
	if a, ok = s.made[what]; ok {
		return a, a != nil
	}
	a = &trueSlip{figuresOf: what, mean: s.law.mean, df: math.Round(math.Min(s.law.df, 30))}
	ordinary := 1 - 4*chanceSlow - chanceDown - chanceLift
	if what.noted != "" && what.noted != FullPower {
		ordinary = 0.1
	}
	scale := square{}
	scale.add(&s.law.cov, (s.law.df-2)/s.law.df)
	ok = a.add(scale, vec{}, []vec{{}}, ordinary)
	spoilt := a.loosely(scale)
	w := s.upTo(a.finish())
	for _, lost := range w.lost {
		ok = ok && a.add(spoilt, speedsLoose, lost, chanceSlow)
	}
	ok = ok && a.add(spoilt, speedsLoose, w.down, chanceDown)
	if ok = ok && a.add(spoilt, speedsLoose, w.lifts, chanceLift); !ok {
		a = nil
	}
	s.made[what] = a
	return a, ok
}

// finish is the last mark with a figure.
func (w *figuresOf) finish() Mark {
	m := At60
	for c := range channels {
		if w.has[c] {
			m = channelOf[c].mark
		}
	}
	return m
}

// speedsLoose is how loosely the figures of a spoilt run follow, each on its own.
var speedsLoose = func() (sd vec) {
	for c, of := range channelOf {
		if of.speed {
			sd[c] = spoiltSD
		}
	}
	return sd
}()

// loosely widens the law: what is lost or found on a stretch is in all times behind it.
func (a *trueSlip) loosely(scale square) square {
	before := 0.
	for m := At60; m < Marks; m++ {
		to := math.Exp(a.mean[timeAt[m]])
		var v vec
		for later := m; later < Marks; later++ {
			v[timeAt[later]] = math.Exp(-a.mean[timeAt[later]])
		}
		scale.outer(v, math.Pow(looseSD*(to-before), 2))
		before = to
	}
	return scale
}

func (a *trueSlip) add(scale square, sd vec, shifts []vec, chance float64) bool {
	for c := range channels {
		scale[c][c] += sd[c]*sd[c] + printSD*printSD
	}
	low, ok := newLower(&scale, a.has)
	p := wayWrong{spread: low}
	p.each = math.Log(chance/float64(len(shifts))) - low.logDet/2 + gammaRatio(a.df, float64(len(low.at)))
	for _, s := range shifts {
		p.shifts = append(p.shifts, low.whiten(s))
	}
	a.parts = append(a.parts, p)
	return ok
}

func newLower(s *square, has [channels]bool) (w lower, ok bool) {
	for c := range channels {
		if has[c] {
			w.at = append(w.at, c)
		}
	}
	n := len(w.at)
	m := mat.NewSymDense(n, nil)
	for i, ci := range w.at {
		for j, cj := range w.at[:i+1] {
			m.SetSym(i, j, (s[ci][cj]+s[cj][ci])/2)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return w, false
	}
	w.logDet = chol.LogDet()
	var t mat.TriDense
	chol.LTo(&t)
	for i := range n {
		for j := range i + 1 {
			w.l[i][j] = t.At(i, j)
		}
	}
	return w, true
}

// whiten solves L z = v.
func (w *lower) whiten(v vec) (z vec) {
	for i, c := range w.at {
		sum := v[c]
		for k := range i {
			sum -= w.l[i][k] * z[k]
		}
		z[i] = sum / w.l[i][i]
	}
	return z
}

// gammaRatio is the log of the constant of the n-dimensional Student-t law.
func gammaRatio(df, n float64) float64 {
	a, _ := math.Lgamma((df + n) / 2)
	b, _ := math.Lgamma(df / 2)
	return a - b - n/2*math.Log(df*math.Pi)
}

func logSum(list []float64) float64 {
	most := math.Inf(-1)
	for _, v := range list {
		most = math.Max(most, v)
	}
	if math.IsInf(most, -1) {
		return most
	}
	sum := 0.
	for _, v := range list {
		sum += math.Exp(v - most)
	}
	return most + math.Log(sum)
}
