package predict

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The linear-Gaussian core. The logs of a run, less those of the run model, are
//
//	y = b(era) + κ·laws + δ(day) + ε,
//
// with b one bias a channel for each era, κ the car's own departures from the usual
// laws of the conditions, δ the day's luck in launch and engine about the levels that it
// shares with others, and ε the noise of the run. b, κ and the levels are solved for;
// the days are taken out one by one (Schur complements), so that the cost grows with the
// runs and not with their cube. See e.g. S. R. Searle, G. Casella, C. E. McCulloch,
// Variance Components (1992), ch. 7, or any text on mixed models.

// luck holds the variances of a day's launch and engine, in the log of the
// finishing time.
type luck struct{ launch, engine float64 }

// believedBiases is the Gaussian of b and κ before any run, as precision.
type believedBiases struct {
	dim       int
	precision *mat.SymDense
	pull      []float64 // precision times mean
	square    float64   // mean' precision mean
	logDet    float64
	ahead     []dayShare // of the next day
}

// biasAt is where an era's biases stand among the unknowns, after the laws.
func biasAt(era int) int { return laws + channels*era }

// unknownOf is the unknown that a static column of an era's runs speaks of.
func unknownOf(col, era int) int {
	if col < laws {
		return col
	}
	return biasAt(era) + col - laws
}

var errNotPositive = errors.New("the forecast's covariances are not positive definite: a run model is out of range")

func newBelievedBiases(f *field) (*believedBiases, error) {
	b := &believedBiases{dim: biasAt(len(f.eras)) + 2*len(f.levels), ahead: f.placed(f.ahead)}
	b.precision = mat.NewSymDense(b.dim, nil)
	b.pull = make([]float64, b.dim)
	for k, sd := range lawSD {
		b.precision.SetSym(k, k, 1/(sd*sd))
	}
	for k, l := range f.levels {
		at := biasAt(len(f.eras)) + 2*k
		for i, variance := range []float64{l.launch, l.engine} {
			b.precision.SetSym(at+i, at+i, b.precision.At(at+i, at+i)+1/variance)
			if l.step {
				b.precision.SetSym(at+i-2, at+i-2, b.precision.At(at+i-2, at+i-2)+1/variance)
				b.precision.SetSym(at+i-2, at+i, -1/variance)
			}
		}
	}
	for i, e := range f.eras {
		doubt := firstDoubt(e, f.belief)
		if i > 0 {
			doubt = changeDoubt(e)
		}
		if i == 0 && e.stopped || e.change.stop {
			stop, err := f.stopDoubt(i)
			if err != nil {
				return nil, err
			}
			doubt.add(&stop, 1)
		}
		inv, err := invert(&doubt)
		if err != nil {
			return nil, err
		}
		for r := range channels {
			for c := range channels {
				p := inv[r][c]
				at := biasAt(i)
				if r <= c {
					b.precision.SetSym(at+r, at+c, b.precision.At(at+r, at+c)+p)
				}
				if i > 0 {
					was := biasAt(e.change.from)
					if r <= c {
						b.precision.SetSym(was+r, was+c, b.precision.At(was+r, was+c)+p)
					}
					b.precision.SetSym(was+r, at+c, b.precision.At(was+r, at+c)-p)
				}
			}
		}
	}
	whole := mat.NewSymDense(b.dim, nil)
	whole.CopySym(b.precision)
	of, ok := newFactor(whole)
	if !ok {
		return nil, errNotPositive
	}
	b.logDet = of.logDet()
	// Every era's mean is the first's, but for what was not entered: the run models
	// carry the changes.
	mean := make([]float64, b.dim)
	for i := range f.eras {
		at := f.prior
		for k := i; k > 0; k = f.eras[k].change.from {
			at = at.plus(f.eras[k].change.shift)
		}
		copy(mean[biasAt(i):], at[:])
	}
	m := mat.NewVecDense(b.dim, mean)
	pull := mat.NewVecDense(b.dim, b.pull)
	pull.MulVec(b.precision, m)
	b.square = mat.Dot(m, pull)
	return b, nil
}

func invert(s *square) (square, error) {
	var out square
	sym := mat.NewSymDense(channels, nil)
	for i := range channels {
		for j := i; j < channels; j++ {
			sym.SetSym(i, j, s[i][j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return out, errNotPositive
	}
	var inv mat.SymDense
	if err := chol.InverseTo(&inv); err != nil {
		return out, errNotPositive
	}
	for i := range channels {
		for j := range channels {
			out[i][j] = inv.At(i, j)
		}
	}
	return out, nil
}

// posterior is what the runs leave of the unknowns, for given variances of luck.
type posterior struct {
	luck   luck
	ahead  []dayShare // of a day without runs
	mean   []float64
	factor factor    // of the precision
	spread []float64 // the covariance, once it is asked for
	part   struct {  // of it, what was asked for last
		of  *kin
		cov []float64
	}
	sums     *daySums
	links    []dayLink
	lucks    [][2]float64 // of the days, once one is asked for
	evidence float64      // log, up to a constant that luck does not touch
}

// density is the log density of the solved biases under belief.
func (b *believedBiases) density(p *posterior) float64 {
	m := mat.NewVecDense(b.dim, p.mean)
	return -(mat.Inner(m, b.precision, m) - 2*mat.Dot(m, mat.NewVecDense(b.dim, b.pull)) + b.square) / 2
}

// static is what does not change from day to day: biases and laws.
func (p *posterior) static(era int, sens [laws]vec) vec {
	v := vec(p.mean[biasAt(era):][:channels])
	for k := range laws {
		for c := range v {
			v[c] += p.mean[k] * sens[k][c]
		}
	}
	return v
}

// loaded is a run's logs as a function of the unknowns, and their mean.
type loaded struct {
	load   *mat.Dense
	mean   vec
	dayCov [2][2]float64 // of the day's luck beside them
}

// load gives it for a run of a day; day is -1 for one not seen yet.
func (p *posterior) load(e *era, eraAt int, sens [laws]vec, day int) loaded {
	d := p.tied(day)
	x := loaded{load: mat.NewDense(len(p.mean), channels, nil), mean: p.runOf(e, eraAt, sens, d), dayCov: d.cov}
	for c := range channels {
		x.load.Set(biasAt(eraAt)+c, c, 1)
		for k := range laws {
			x.load.Set(k, c, sens[k][c])
		}
		for i, a := range d.hangs.at {
			x.load.Set(a, c, x.load.At(a, c)+e.launch[c]*d.byLaunch[i]+e.engine[c]*d.byEngine[i])
		}
	}
	return x
}

// runOf is the mean of a run's logs on a day.
func (p *posterior) runOf(e *era, eraAt int, sens [laws]vec, d tied) vec {
	mean := p.static(eraAt, sens)
	for c := range mean {
		mean[c] += d.launch*e.launch[c] + d.engine*e.engine[c]
	}
	return mean
}

// tied is a day's luck as a function of the unknowns: its mean, what each of those that it
// hangs on adds to launch and engine, and what is left beside them.
type tied struct {
	launch, engine     float64
	hangs              *kin
	byLaunch, byEngine []float64
	cov                [2][2]float64
}

// tied gives it for a day, good until the next; -1 is one not seen yet.
func (p *posterior) tied(day int) (d tied) {
	if day < 0 {
		d.cov = [2][2]float64{{p.luck.launch, 0}, {0, p.luck.engine}}
		var at []int
		for _, s := range p.ahead {
			d.launch, d.engine = d.launch+s.by*p.mean[s.at], d.engine+s.by*p.mean[s.at+1]
			at, d.byLaunch, d.byEngine = append(at, s.at, s.at+1), append(d.byLaunch, s.by, 0), append(d.byEngine, 0, s.by)
		}
		d.hangs = &kin{at: at}
		return d
	}
	d.launch, d.engine = p.luckOf(day)
	k, of := &p.links[day], &p.sums.days[day]
	d.hangs, d.cov = of.kin, *k
	launch, engine := of.cross(p.luck)
	room := slices.Grow(p.sums.tied[:0], 2*len(launch))[:2*len(launch)]
	p.sums.tied = room
	d.byLaunch, d.byEngine = room[:len(launch)], room[len(launch):]
	for i, l := range launch {
		d.byLaunch[i], d.byEngine[i] = k.times([2]float64{-l, -engine[i]})
	}
	return d
}

// predict gives the mean and covariance of a run's logs less the model's, but for the
// run's own noise; day is -1 for one not seen yet. It is load' C load, C the covariance of
// the unknowns, by the half of its factor.
func (p *posterior) predict(e *era, eraAt int, sens [laws]vec, day int) (mean vec, cov square) {
	x := p.load(e, eraAt, sens, day)
	half := p.factor.half(x.load)
	for k := range len(p.mean) {
		cov.outer(vec(half.Data[k*half.Stride:][:channels]), 1)
	}
	for i := range channels {
		launch := x.dayCov[0][0]*e.launch[i] + x.dayCov[0][1]*e.engine[i]
		engine := x.dayCov[1][0]*e.launch[i] + x.dayCov[1][1]*e.engine[i]
		for j := range channels {
			cov[i][j] += launch*e.launch[j] + engine*e.engine[j]
		}
	}
	return x.mean, cov
}

// predictCov gives that covariance for one of the runs that were made, where many are asked
// about: by C itself, which is worked out once, and taken apart. A run is its biases and, along
// a few directions D (launch, engine and the laws that it tells of), what those come to; with S
// the covariance of these, X that of each with the biases B, it is cov B + D Y' + Y D', where
// Y = X + D S / 2.
func (p *posterior) predictCov(e *era, eraAt int, sens [laws]vec, day int) (cov square) {
	d := p.tied(day)
	at, c, first := d.hangs.at, p.among(d.hangs), p.sums.firstBias()
	n := len(at)
	bias, _ := slices.BinarySearch(at, biasAt(eraAt))
	const most = 2 + laws
	dirs, of, many := [most]*vec{&e.launch, &e.engine}, [most]int{}, 2
	for i, k := range at[:first] {
		if sens[k] != (vec{}) {
			dirs[many], of[many] = &sens[k], i
			many++
		}
	}
	var shared [most][most]float64
	var y [most]vec
	shared[0][0], shared[0][1], shared[1][1] = d.cov[0][0], d.cov[0][1], d.cov[1][1]
	byLaunch, byEngine := d.byLaunch[:n], d.byEngine[:n]
	for i := range at {
		var launch, engine float64
		row := c[i*n:][:n]
		for j, v := range byLaunch {
			launch += row[j] * v
			engine += row[j] * byEngine[j]
		}
		shared[0][0] += byLaunch[i] * launch
		shared[0][1] += byLaunch[i] * engine
		shared[1][1] += byEngine[i] * engine
		switch {
		case i < first:
			for k := 2; k < many; k++ {
				if of[k] == i {
					shared[0][k], shared[1][k] = launch, engine
				}
			}
		case i >= bias && i < bias+channels:
			y[0][i-bias], y[1][i-bias] = launch, engine
		}
	}
	for a := 2; a < many; a++ {
		row := c[of[a]*n:][:n]
		y[a] = vec(row[bias:])
		for b := a; b < many; b++ {
			shared[a][b] = row[of[b]]
		}
	}
	for a := range many {
		for b := range many {
			by := shared[min(a, b)][max(a, b)] / 2
			for ch, v := range dirs[b] {
				y[a][ch] += by * v
			}
		}
	}
	for i := range channels {
		for j, v := range c[(bias+i)*n+bias:][:i+1] {
			for a := range many {
				v += dirs[a][i]*y[a][j] + y[a][i]*dirs[a][j]
			}
			cov[i][j], cov[j][i] = v, v
		}
	}
	return cov
}

// among is the covariance of what days of a kin hang on.
func (p *posterior) among(k *kin) []float64 {
	if p.spread == nil {
		p.spread = p.factor.inverse()
	}
	if p.part.of != k {
		p.part.of, p.part.cov = k, p.part.cov[:0]
		for _, a := range k.at {
			for _, b := range k.at {
				p.part.cov = append(p.part.cov, p.spread[a*len(p.mean)+b])
			}
		}
	}
	return p.part.cov
}

// moments are the mean and covariance of a linear function of the unknowns.
func (p *posterior) moments(u unknowns) (mean vec, cov square) {
	load := mat.NewDense(len(p.mean), channels, nil)
	for _, x := range u {
		for c, by := range x.by {
			mean[c] += by * p.mean[x.at]
			load.Set(x.at, c, load.At(x.at, c)+by)
		}
	}
	var product mat.Dense
	solved := mat.DenseCopyOf(load)
	p.factor.solve(solved)
	product.Mul(load.T(), solved)
	for i := range channels {
		for j := range channels {
			cov[i][j] = product.At(i, j)
		}
	}
	return mean, cov
}
