package predict

import "math"

// nothing is how far below another, in logs, a share of a sum is that no digit of the sum
// shows.
const nothing = 30

// logDensity is the log of the density of the slip's figures, per second and mph.
func (a *trueSlip) logDensity(y vec) float64 {
	return a.along(y, a.parts[0].spread.at[0]).logDensity(0, math.Inf(-1))
}

// alongOne is the law as one figure of a slip varies and all others stand. How far a slip is
// from a shift is then a square in that figure's log: what a typing error can have made of
// one figure is many values, and each takes two products a shift.
type alongOne struct {
	a         *trueSlip
	inSeconds float64 // from logs to the figures themselves
	shifts    []bow
	bend      []float64 // of each part: the share of the square, over df,
	within    []float64 // and how far, in roots of q/df, none of its shifts is from the slip
	// Room for logDensity: 1 + q/df of each shift and of the nearest of each part, and the log
	// of the density of that.
	far, near, nearest []float64
}

// bow is 1 + q/df of a shift: at the slip itself, and its slope there.
type bow struct{ at, slope float64 }

// along is the law about a slip as one of its figures varies.
func (a *trueSlip) along(y vec, c int) *alongOne {
	room := func() []float64 { return make([]float64, len(a.parts)) }
	l := &alongOne{a: a, bend: room(), within: room(), near: room(), nearest: room()}
	n := 0
	for i := range a.parts {
		n += len(a.parts[i].shifts)
	}
	l.shifts, l.far = make([]bow, 0, n), make([]float64, n)
	fields := a.parts[0].spread.at
	for _, k := range fields {
		l.inSeconds -= y[k]
	}
	var one vec
	one[c] = 1
	for i := range a.parts {
		p := &a.parts[i]
		z, turn := p.spread.whiten(y.minus(a.mean)), p.spread.whiten(one)
		for k := range fields {
			l.bend[i] += turn[k] * turn[k] / a.df
		}
		for j := range p.shifts {
			s, q, slope := &p.shifts[j], 0., 0.
			for k := range fields {
				d := z[k] - s[k]
				q += d * d
				slope += d * turn[k]
			}
			l.shifts = append(l.shifts, bow{1 + q/a.df, 2 * slope / a.df})
			l.within[i] = max(l.within[i], q)
		}
		l.within[i] = math.Sqrt(l.within[i] / a.df)
	}
	return l
}

// logDensity is the log of the density where the figure's log is more by d, if that is above
// a floor, else -Inf.
func (l *alongOne) logDensity(d, floor float64) float64 {
	twice := int(l.a.df) + len(l.a.parts[0].spread.at) // the power of the densities
	power := float64(twice) / 2
	inSeconds := l.inSeconds - d
	under := floor - inSeconds - math.Log(float64(len(l.shifts))) // what the nearest shift must give
	if l.atMost(d, power) < under {
		return math.Inf(-1)
	}
	most, at := math.Inf(-1), 0
	for i := range l.a.parts {
		p, bend, near := &l.a.parts[i], d*d*l.bend[i], math.Inf(1)
		for range p.shifts {
			s := &l.shifts[at]
			far := s.at + d*s.slope + bend
			near = min(near, far)
			l.far[at] = far
			at++
		}
		l.near[i] = near
		l.nearest[i] = p.each - power*math.Log(near)
		most = math.Max(most, l.nearest[i])
	}
	if most < under {
		return math.Inf(-1)
	}
	sum, at := 0., 0
	for i := range l.a.parts {
		shares, near := 0., l.near[i]
		for range l.a.parts[i].shifts {
			shares += halfPower(near/l.far[at], twice)
			at++
		}
		sum += shares * math.Exp(l.nearest[i]-most)
	}
	return most + math.Log(sum) + inSeconds
}

// atMost is more than the nearest shift can give.
func (l *alongOne) atMost(d, power float64) float64 {
	most := math.Inf(-1)
	for i := range l.a.parts {
		apart := max(math.Abs(d)*math.Sqrt(l.bend[i])-l.within[i], 0)
		most = math.Max(most, l.a.parts[i].each-power*math.Log(1+apart*apart))
	}
	return most
}

// halfPower is the square root of a power.
func halfPower(x float64, n int) float64 {
	y := 1.
	if n%2 == 1 {
		y = math.Sqrt(x)
	}
	for n /= 2; n > 0; n /= 2 {
		if n%2 == 1 {
			y *= x
		}
		x *= x
	}
	return y
}
