package predict

import (
	"errors"
	"math"

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
	if col < channels {
		return biasAt(era) + col
	}
	return col - channels
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
		b.precision.SetSym(at, at, 1/l.launch)
		b.precision.SetSym(at+1, at+1, 1/l.engine)
	}
	for i, e := range f.eras {
		doubt := firstDoubt(e, f.belief)
		if i > 0 {
			doubt = changeDoubt(e)
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
	var chol mat.Cholesky
	if !chol.Factorize(b.precision) {
		return nil, errNotPositive
	}
	b.logDet = chol.LogDet()
	// Every era's mean is the first's, but for what was not entered: the run models
	// carry the changes.
	mean := make([]float64, b.dim)
	for i := range f.eras {
		at := f.prior
		for k := i; k > 0; k = f.eras[k].change.from {
			at = at.minus(f.eras[k].change.shift.scaled(-1))
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

// dayRuns are a day's runs summed up, era by era.
type dayRuns struct {
	eras   []int
	grams  []*gram
	shares []dayShare
}

func (d *dayRuns) gram(era int) *gram {
	for i, e := range d.eras {
		if e == era {
			return d.grams[i]
		}
	}
	d.eras = append(d.eras, era)
	d.grams = append(d.grams, new(gram))
	return d.grams[len(d.grams)-1]
}

// dayLink is a day's luck given the biases: mean = cov (pull - cross' β).
type dayLink struct {
	cov   [2][2]float64
	pull  [2]float64
	at    []int // which unknowns cross speaks of
	cross [][2]float64
}

// posterior is what the runs leave of the unknowns, for given variances of luck.
type posterior struct {
	luck     luck
	ahead    []dayShare // of a day without runs
	mean     []float64
	chol     mat.Cholesky
	links    []dayLink
	evidence float64 // log, up to a constant that luck does not touch
}

// solve combines belief and runs.
func (b *believedBiases) solve(days []dayRuns, l luck) (*posterior, error) {
	p := &posterior{luck: l, ahead: b.ahead, links: make([]dayLink, len(days))}
	info := mat.NewSymDense(b.dim, nil)
	info.CopySym(b.precision)
	raw := info.RawSymmetric()
	pull := append([]float64(nil), b.pull...)
	square, logDet := b.square, 0.
	for i := range days {
		square += days[i].eliminate(&p.links[i], l, raw.Data, raw.Stride, pull)
		c := &p.links[i].cov
		logDet += math.Log(l.launch*l.engine) - math.Log(c[0][0]*c[1][1]-c[0][1]*c[0][1])
	}
	if !p.chol.Factorize(info) {
		return nil, errNotPositive
	}
	mean := mat.NewVecDense(b.dim, nil)
	rhs := mat.NewVecDense(b.dim, pull)
	if err := p.chol.SolveVecTo(mean, rhs); err != nil {
		return nil, errNotPositive
	}
	p.mean = mean.RawVector().Data
	p.evidence = -0.5 * (square - mat.Dot(mean, rhs) + p.chol.LogDet() - b.logDet + logDet)
	return p, nil
}

// density is the log density of the solved biases under belief.
func (b *believedBiases) density(p *posterior) float64 {
	m := mat.NewVecDense(b.dim, p.mean)
	return -(mat.Inner(m, b.precision, m) - 2*mat.Dot(m, mat.NewVecDense(b.dim, b.pull)) + b.square) / 2
}

// eliminate adds a day to the information on the biases, its luck taken out; it
// returns what the day adds to the square.
func (d *dayRuns) eliminate(link *dayLink, l luck, info []float64, stride int, pull []float64) float64 {
	m := [2][2]float64{{1 / l.launch, 0}, {0, 1 / l.engine}}
	seen := 0.
	for _, g := range d.grams {
		m[0][0] += g[colLaunch][colLaunch]
		m[0][1] += g[colEngine][colLaunch]
		m[1][1] += g[colEngine][colEngine]
		link.pull[0] += g[colSeen][colLaunch]
		link.pull[1] += g[colSeen][colEngine]
		seen += g[colSeen][colSeen]
	}
	det := m[0][0]*m[1][1] - m[0][1]*m[0][1]
	link.cov = [2][2]float64{{m[1][1] / det, -m[0][1] / det}, {-m[0][1] / det, m[0][0] / det}}
	link.at = make([]int, 0, len(d.grams)*staticCols)
	link.cross = make([][2]float64, 0, len(d.grams)*staticCols)
	for i, g := range d.grams {
		for c := range staticCols {
			a := unknownOf(c, d.eras[i])
			link.at = append(link.at, a)
			link.cross = append(link.cross, [2]float64{g[colLaunch][c], g[colEngine][c]})
			pull[a] += g[colSeen][c]
			for c2 := range c + 1 {
				b := unknownOf(c2, d.eras[i])
				info[min(a, b)*stride+max(a, b)] += g[c][c2]
			}
		}
	}
	for _, s := range d.shares {
		link.at = append(link.at, s.at, s.at+1)
		link.cross = append(link.cross, [2]float64{-s.by / l.launch, 0}, [2]float64{0, -s.by / l.engine})
		for _, o := range d.shares {
			if s.at <= o.at {
				info[s.at*stride+o.at] += s.by * o.by / l.launch
				info[(s.at+1)*stride+o.at+1] += s.by * o.by / l.engine
			}
		}
	}
	u := [2]float64{
		link.cov[0][0]*link.pull[0] + link.cov[0][1]*link.pull[1],
		link.cov[1][0]*link.pull[0] + link.cov[1][1]*link.pull[1],
	}
	for i, a := range link.at {
		x := link.cross[i]
		pull[a] -= x[0]*u[0] + x[1]*u[1]
		y := [2]float64{
			link.cov[0][0]*x[0] + link.cov[0][1]*x[1],
			link.cov[1][0]*x[0] + link.cov[1][1]*x[1],
		}
		for j, b := range link.at {
			if a <= b {
				info[a*stride+b] -= y[0]*link.cross[j][0] + y[1]*link.cross[j][1]
			}
		}
	}
	return seen - link.pull[0]*u[0] - link.pull[1]*u[1]
}

// luckOf is a day's luck, as well as it is known.
func (p *posterior) luckOf(day int) (launch, engine float64) {
	k := &p.links[day]
	r := k.pull
	for i, a := range k.at {
		r[0] -= k.cross[i][0] * p.mean[a]
		r[1] -= k.cross[i][1] * p.mean[a]
	}
	return k.cov[0][0]*r[0] + k.cov[0][1]*r[1], k.cov[1][0]*r[0] + k.cov[1][1]*r[1]
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
	x := loaded{
		load:   mat.NewDense(len(p.mean), channels, nil),
		dayCov: [2][2]float64{{p.luck.launch, 0}, {0, p.luck.engine}},
	}
	load := x.load
	var launch, engine float64
	for c := range channels {
		load.Set(biasAt(eraAt)+c, c, 1)
		for k := range laws {
			load.Set(k, c, sens[k][c])
		}
	}
	if day >= 0 {
		launch, engine = p.luckOf(day)
		k := &p.links[day]
		x.dayCov = k.cov
		for i, a := range k.at {
			x := k.cross[i]
			dl := k.cov[0][0]*x[0] + k.cov[0][1]*x[1]
			de := k.cov[1][0]*x[0] + k.cov[1][1]*x[1]
			for c := range channels {
				load.Set(a, c, load.At(a, c)-e.launch[c]*dl-e.engine[c]*de)
			}
		}
	}
	if day < 0 {
		for _, s := range p.ahead {
			launch, engine = launch+s.by*p.mean[s.at], engine+s.by*p.mean[s.at+1]
			for c := range channels {
				load.Set(s.at, c, s.by*e.launch[c])
				load.Set(s.at+1, c, s.by*e.engine[c])
			}
		}
	}
	x.mean = p.static(eraAt, sens)
	for c := range x.mean {
		x.mean[c] += launch*e.launch[c] + engine*e.engine[c]
	}
	return x
}

// predict gives the mean and covariance of a run's logs less the model's, but
// for the run's own noise; day is -1 for one not seen yet.
func (p *posterior) predict(e *era, eraAt int, sens [laws]vec, day int) (mean vec, cov square) {
	x := p.load(e, eraAt, sens, day)
	var solved mat.Dense
	if err := p.chol.SolveTo(&solved, x.load); err != nil {
		return mean, cov // a Cholesky factor that exists solves; only ill condition is reported
	}
	for i := range channels {
		for j := range i + 1 {
			sum := 0.
			for a := range p.mean {
				sum += x.load.At(a, i) * solved.At(a, j)
			}
			sum += e.launch[i]*(x.dayCov[0][0]*e.launch[j]+x.dayCov[0][1]*e.engine[j]) +
				e.engine[i]*(x.dayCov[1][0]*e.launch[j]+x.dayCov[1][1]*e.engine[j])
			cov[i][j], cov[j][i] = sum, sum
		}
	}
	return x.mean, cov
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
	var solved, product mat.Dense
	if err := p.chol.SolveTo(&solved, load); err != nil {
		return mean, cov // as in predict
	}
	product.Mul(load.T(), &solved)
	for i := range channels {
		for j := range channels {
			cov[i][j] = product.At(i, j)
		}
	}
	return mean, cov
}
