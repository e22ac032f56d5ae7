package predict

import (
	"math"

	"slipcase/weather/units"

	"gonum.org/v1/gonum/mat"
)

// What a true slip can look like, for telling it from a mistyped one: an ordinary
// run by the forecast's law, or one gone wrong in a way that wheels go wrong. Those
// ways leave the figures of a slip in step with each other; a typing error moves
// one alone.

// trueSlip is the law of true slips: a mixture of Student-t laws about shifted means.
type trueSlip struct {
	has   [channels]bool
	mean  vec
	df    float64
	parts []wayWrong
	law   *runLaw
	noted Effort
	rest  [channels]*trueSlip // without one of the channels
	far   []float64           // room for logDensity
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

// newTrueSlip builds the law of a slip with these channels. A run that the racer says
// went wrong is none of the ordinary ones.
func newTrueSlip(l *runLaw, has [channels]bool, noted Effort) (*trueSlip, bool) {
	a := &trueSlip{has: has, mean: l.mean, df: math.Min(l.df, 30), law: l, noted: noted}
	ordinary := 1 - 4*chanceSlow - chanceDown - chanceLift
	if noted != "" && noted != FullPower {
		ordinary = 0.1
	}
	scale := square{}
	scale.add(&l.cov, (l.df-2)/l.df)
	ok := a.add(scale, vec{}, []vec{{}}, ordinary)
	spoilt := a.loosely(scale)
	for _, from := range []Mark{At60, At330, At660, At1000} {
		ok = ok && a.add(spoilt, speedsLoose, a.lost(from), chanceSlow)
	}
	ok = ok && a.add(spoilt, speedsLoose, a.down(), chanceDown)
	return a, ok && a.add(spoilt, speedsLoose, a.lifts(), chanceLift)
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

// nothing is how far below another, in logs, a share of a sum is that no digit of the sum
// shows: 1e-17.
const nothing = 40

// logDensity is the log of the density of the slip's figures, per second and mph.
func (a *trueSlip) logDensity(y vec) float64 { return a.logDensityOver(y, math.Inf(-1)) }

// logDensityOver is logDensity where that is above a floor; else it is anything below it.
// The logarithms take the time: they are left out for shifts that add nothing to the sum.
func (a *trueSlip) logDensityOver(y vec, floor float64) float64 {
	fields := a.parts[0].spread.at
	n := float64(len(fields))
	power, inSeconds := (a.df+n)/2, 0.
	for _, c := range fields {
		inSeconds -= y[c] // from logs to the figures themselves
	}
	a.far = a.far[:0] // 1 + q/df of each shift
	most, shifts := math.Inf(-1), 0
	for i := range a.parts {
		p := &a.parts[i]
		z := p.spread.whiten(y.minus(a.mean))
		nearest := math.Inf(1)
		for j := range p.shifts {
			s, q := &p.shifts[j], 0.
			for k := range fields {
				d := z[k] - s[k]
				q += d * d
			}
			far := 1 + q/a.df
			nearest = min(nearest, far)
			a.far = append(a.far, far)
		}
		most = math.Max(most, p.each-power*math.Log(nearest))
		shifts += len(p.shifts)
	}
	if most+math.Log(float64(shifts))+inSeconds < floor {
		return most + inSeconds - nothing
	}
	sum, at := 0., 0
	for i := range a.parts {
		p := &a.parts[i]
		// each - power log far > most - nothing
		reach := math.Exp((p.each - most + nothing) / power)
		for range p.shifts {
			if far := a.far[at]; far < reach {
				sum += math.Exp(p.each - power*math.Log(far) - most)
			}
			at++
		}
	}
	return most + math.Log(sum) + inSeconds
}

// marginal is logDensity of all figures but one.
func (a *trueSlip) marginal(y vec, c int) float64 {
	if a.rest[c] == nil {
		has := a.has
		has[c] = false
		rest, ok := newTrueSlip(a.law, has, a.noted)
		if !ok {
			return math.Inf(-1)
		}
		a.rest[c] = rest
	}
	return a.rest[c].logDensity(y)
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

// lost is time lost about a mark, of 0.03 to 1.5 s, some of it behind the mark:
// every later time is later by all of it, the speed soon after a little lower.
func (a *trueSlip) lost(about Mark) (shifts []vec) {
	for _, before := range []float64{0.25, 0.5, 0.75, 1} {
		for s := 0.03; s < 1.5; s *= 1.2 {
			var v vec
			for c, of := range channelOf {
				late := s
				if of.mark == about {
					late *= before
				}
				switch {
				case of.mark < about:
				case of.speed:
					v[c] = -0.1 * late / math.Exp(a.mean[timeAt[of.mark]])
				default:
					v[c] = math.Log1p(late / math.Exp(a.mean[c]))
				}
			}
			shifts = append(shifts, v)
		}
	}
	return shifts
}

// down is an engine short of a share of its power from the start; speed and time
// follow its cube root, the launch hardly (Fox 1973).
func (a *trueSlip) down() (shifts []vec) {
	follows := [Marks]float64{0.10, 0.22, 0.27, 0.30, 0.31}
	for less := 0.03; less < 0.5; less += 0.02 {
		var v vec
		for c, of := range channelOf {
			if of.speed {
				v[c] = math.Log(1-less) / 3
			} else {
				v[c] = -math.Log(1-less) * follows[of.mark]
			}
		}
		shifts = append(shifts, v)
	}
	return shifts
}

// lifts are lifts or brakes from a place on, which take a share of the speed by the
// end, evenly with the distance.
func (a *trueSlip) lifts() (shifts []vec) {
	finish := At60
	for c := range channels {
		if a.has[c] {
			finish = channelOf[c].mark
		}
	}
	if finish < At660 {
		return []vec{{}}
	}
	end := finish.Ft()
	endMPH := math.Exp(a.mean[speedAt[finish]])
	for _, from := range []float64{0.50, 0.60, 0.68, 0.76, 0.83, 0.89, 0.94, 0.98} {
		lifted := a.liftFrom(from*end, end, endMPH)
		for less := 0.02; less < 0.65; less *= 1.05 {
			shifts = append(shifts, lifted.by(less))
		}
	}
	return shifts
}

// liftFrom is a lift from a place on; how late it makes each time is summed up over steps of
// the way, whose lengths in time do not depend on the share of speed that is lost.
type liftFrom struct {
	a         *trueSlip
	from, end float64
	steps     [channels][]liftStep // up to the place of each time
}

type liftStep struct{ fullS, share float64 } // at full power, and of the way from lift to end

func (a *trueSlip) liftFrom(from, end, endMPH float64) *liftFrom {
	const steps = 12
	w := &liftFrom{a: a, from: from, end: end}
	for c, of := range channelOf {
		ft := of.mark.Ft()
		if of.speed || ft <= from || ft > end {
			continue
		}
		dx := (ft - from) / steps
		for i := range steps {
			x := from + (float64(i)+0.5)*dx
			full := endMPH * math.Cbrt(x/end) * units.FtPerSPerMPH
			w.steps[c] = append(w.steps[c], liftStep{dx / full, (x - from) / (end - from)})
		}
	}
	return w
}

func (w *liftFrom) by(less float64) (v vec) {
	for c, of := range channelOf {
		ft := of.mark.Ft()
		if ft <= w.from || ft > w.end {
			continue
		}
		if of.speed {
			v[c] = math.Log(1 - less*math.Max(ft-33-w.from, 0)/(w.end-w.from)) // the middle of the trap
			continue
		}
		late := 0.
		for _, s := range w.steps[c] {
			late += s.fullS * (1/(1-less*s.share) - 1)
		}
		v[c] = math.Log1p(late / math.Exp(w.a.mean[c]))
	}
	return v
}
