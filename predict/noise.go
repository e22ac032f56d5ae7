package predict

import (
	"math"
	"slices"
)

// noiseRuns is how many runs the shape of the noise is worth before they are made; set by
// trial on the tuning seasons, as how far cars differ in its size: they do so before they
// differ in its shape.
const (
	noiseRuns = 10
	steadySD  = 0.6 // of the log of the standard deviation
)

// airRuns is how many runs the doubt about the air is worth as it is stated.
const airRuns = 4

// learnNoise moves the noise towards what the sound runs scatter by: the mean of
// an inverse-Wishart posterior, absent channels filled in by their conditional
// Gaussians, what the fit itself may be off by added and what the air may be taken off (an
// EM step). The prior is of the size that their last times show. How far the air is off
// is learned beside it.
func (t *fit) learnNoise(p *posterior) {
	last := t.eras[t.nextEra]
	prior := ordinaryNoise(last)
	squares, tell := 0., 0.
	airOff, aired := float64(airRuns), float64(airRuns)
	now := t.noise[t.nextEra]
	fittedDay, fittedEra := -1, -1
	var cov square
	type scatter struct {
		of    [channels]bool
		known *known
		air   airDoubt // of the latest run
		sum   square   // its lower triangle
		n     float64
	}
	var scatters []scatter
	for i := range t.samples {
		s := &t.samples[i]
		var sound [channels]bool
		some := false
		for c := range channels {
			sound[c] = s.has[c] && s.weight[c] > 0.5
			some = some || sound[c]
		}
		if !some {
			continue
		}
		e := t.eras[s.era]
		if s.day != fittedDay || s.era != fittedEra {
			cov = p.predictCov(e, s.era, s.laws, s.day)
			fittedDay, fittedEra = s.day, s.era
		}
		launch, engine := p.luckOf(s.day)
		left := s.y.minus(p.static(s.era, s.laws))
		for c := range left {
			left[c] -= launch*e.launch[c] + engine*e.engine[c]
		}
		at := slices.IndexFunc(scatters, func(s scatter) bool { return s.of == sound })
		if at < 0 {
			at = len(scatters)
			scatters = append(scatters, scatter{of: sound, known: newKnown(&now, sound)})
		}
		x, own := &scatters[at], cov
		if doubt := s.doubt.scaled(t.airOff); x.n == 0 || doubt != x.air.doubt {
			x.air = newAirDoubt(x.known, doubt)
		}
		airOff += x.air.without(&left, &own, x.known)
		aired++
		for c := channels - 1; c > 0; c-- {
			if sound[c] && !channelOf[c].speed {
				squares += s.weight[c] * left[c] * left[c] / prior[c][c]
				tell += s.weight[c] * math.Max(1-own[c][c]/now[c][c], 0)
				break
			}
		}
		for i, v := range left {
			for j := range i + 1 {
				x.sum[i][j] += own[i][j] + v*left[j]
			}
		}
		x.n++
	}
	t.airOff = math.Min(math.Sqrt((airRuns+(airOff-airRuns)*t.airOff*t.airOff)/aired), 1)
	n := float64(noiseRuns)
	var total square
	size := steadiness(squares, tell)
	total.add(&prior, noiseRuns*size)
	for i := range scatters {
		x := &scatters[i]
		for i := range channels {
			for j := range i {
				x.sum[j][i] = x.sum[i][j]
			}
		}
		filled := x.known.fillIn(&x.sum, x.n)
		total.add(&filled, 1)
		n += x.n
	}
	c := timeAt[t.finish]
	shape := size * prior[c][c] / total[c][c]
	for e := range t.noise {
		t.noise[e] = square{}
		t.noise[e].add(&total, shape)
	}
	t.noiseDF = n
}

// steadiness is the likeliest size of a car's noise, as a share of the ordinary variance:
// squares of what its runs are off by, in those terms, over so many that tell of it. Cars
// differ in it by factors, so that its logarithm is what is normal.
func steadiness(squares, tell float64) float64 {
	const precision = 1 / (4 * steadySD * steadySD) // of the variance's log
	log := 0.
	for range 30 {
		pull := tell/2 - squares/2*math.Exp(-log) + precision*log
		step := pull / (squares/2*math.Exp(-log) + precision)
		if log -= math.Max(math.Min(step, 1), -1); math.Abs(step) < 1e-6 {
			break
		}
	}
	return math.Exp(log)
}

// airDoubt is what the air may be off by, and what tells of it: with d its doubt, a = R⁻¹ d under
// the noise R and s = 1 + d'a.
type airDoubt struct {
	doubt, a vec
	s        float64
}

func newAirDoubt(k *known, doubt vec) airDoubt {
	d := airDoubt{doubt: doubt, s: 1}
	if doubt != (vec{}) {
		d.a = k.solve(&doubt)
		for _, i := range k.at {
			d.s += doubt[i] * d.a[i]
		}
	}
	return d
}

// without takes out of what a run is off by, its mean and covariance C over the known
// channels, what the air was off by: d z, with z of unit variance before. With g = C a/s, z has
// the mean a'off/s and the variance v = (1 + a'g)/s, and what is left is C + d h' + h d', where
// h = d v/2 - g. It returns E(z²).
func (d *airDoubt) without(off *vec, cov *square, k *known) (z2 float64) {
	if d.doubt == (vec{}) {
		return 1
	}
	z, v, h := 0., 1/d.s, vec{}
	for _, i := range k.at {
		z += d.a[i] * off[i]
		g := 0.
		for j, a := range d.a {
			g += cov[i][j] * a
		}
		h[i] = -g / d.s
		v -= d.a[i] * h[i] / d.s
	}
	z /= d.s
	for i, doubt := range d.doubt {
		off[i] -= doubt * z
		h[i] += doubt * v / 2
	}
	for i := range channels {
		for j := range i + 1 {
			cov[i][j] += d.doubt[i]*h[j] + h[i]*d.doubt[j]
			cov[j][i] = cov[i][j]
		}
	}
	return z*z + v
}
