package predict

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Peers holds every run of one vehicle against all its others, by one fit to them all of
// which each run is taken out when its turn comes.
type Peers struct {
	fit *fit
	at  map[string]int // of the samples, by the runs' ids
}

// NewPeers fits the runs of one vehicle; each has an id.
func NewPeers(runs []Pass) (*Peers, error) {
	p := &Peers{at: map[string]int{}}
	h, err := NewHindsight(runs)
	if err != nil || h.fit == nil {
		return p, err
	}
	p.fit = h.fit
	for i := range p.fit.samples {
		p.at[p.fit.samples[i].pass.ID] = i
	}
	return p, p.fit.average()
}

// fewPeers are so few that what they say of another is a rough guess.
const fewPeers = 4

// Proofread is Forecast.Proofread by the run's peers; told is false where they are too few
// or none of them is near enough in time to count.
func (p *Peers) Proofread(run Pass) (q Question, ask, told bool, err error) {
	i, some := p.at[run.ID]
	if !some || len(p.fit.samples) <= fewPeers {
		return q, false, false, nil
	}
	s := &p.fit.samples[i]
	l, ok, err := p.lawWithout(s)
	if err != nil || !ok {
		return q, false, false, err
	}
	if l.ordinary(run.Splits) {
		return q, false, true, nil
	}
	f := Forecast{law: l}
	q, ask, err = f.Proofread(run)
	return q, ask, true, err
}

// lawWithout is the law of a run by all others. What a Gaussian fit with it says of its
// signal has precision P and mean m; the run itself has brought W, the weighted precision
// of its noise, and its figures y: without it they are P-W and m + (P-W)^-1 W (m-y). See
// e.g. S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (1992), ch. 7.
func (p *Peers) lawWithout(s *sample) (runLaw, bool, error) {
	t := p.fit
	l, err := t.lawOf(s.pass, s.era)
	if err != nil {
		return l, false, err
	}
	noise := t.noise[s.era]
	_, doubt := t.airOf(s.pass)
	noise.outer(t.eras[s.era].thin, doubt*doubt)
	signal, w := mat.NewDense(channels, channels, nil), broughtBy(s, &noise)
	for i := range channels {
		for j := range channels {
			signal.Set(i, j, l.cov[i][j]-noise[i][j])
		}
	}
	y, has := s.pass.Splits.typedLogs()
	off := mat.NewVecDense(channels, nil)
	for c := range channels {
		if has[c] && s.has[c] {
			off.SetVec(c, l.mean[c]-y[c])
		}
	}
	// C' = C (I - W C)^-1, which needs no inverse of C.
	var wc, less, without mat.Dense
	wc.Mul(w, signal)
	less.Sub(eye(), &wc)
	var back mat.Dense
	if err := back.Inverse(&less); err != nil {
		return l, false, nil
	}
	without.Mul(signal, &back)
	var pulled, move mat.VecDense
	pulled.MulVec(w, off)
	move.MulVec(&without, &pulled)
	for i := range channels {
		l.mean[i] += move.AtVec(i)
		for j := range channels {
			l.cov[i][j] = (without.At(i, j)+without.At(j, i))/2 + noise[i][j]
		}
		if !(l.cov[i][i] > 0) || math.IsNaN(l.mean[i]) {
			return l, false, nil
		}
	}
	l.parts = nil
	return l, true, nil
}

func eye() *mat.Dense {
	m := mat.NewDense(channels, channels, nil)
	for c := range channels {
		m.Set(c, c, 1)
	}
	return m
}

// broughtBy is the precision that a run has brought into the fit, each of its whitened
// rows by its weight.
func broughtBy(s *sample, noise *square) *mat.Dense {
	w := mat.NewDense(channels, channels, nil)
	low, ok := newLower(noise, s.has)
	if !ok {
		return w
	}
	n := len(low.at)
	if n == 0 {
		return w
	}
	inv := mat.NewDense(n, n, nil)
	for c, at := range low.at {
		var unit vec
		unit[at] = 1
		z := low.whiten(unit)
		for r := range n {
			inv.Set(r, c, z[r])
		}
	}
	for i, a := range low.at {
		for j, b := range low.at {
			sum := 0.
			for r, at := range low.at {
				sum += inv.At(r, i) * s.weight[at] * inv.At(r, j)
			}
			w.Set(a, b, sum)
		}
	}
	return w
}

// ordinary reports figures that hang together so well with a law that no reading of them
// could be likelier.
func (l *runLaw) ordinary(s Splits) bool {
	y, has := s.typedLogs()
	scale := l.cov
	for c := range channels {
		scale[c][c] += printSD * printSD
	}
	low, ok := newLower(&scale, has)
	if !ok {
		return false
	}
	// Each figure alone, and each given all others: their precision is that of the whitened.
	const usual = 3
	z, n := low.whiten(y.minus(l.mean)), len(low.at)
	for _, c := range low.at {
		var unit vec
		unit[c] = 1
		u, given, precision := low.whiten(unit), 0., 0.
		for k := range n {
			given += u[k] * z[k]
			precision += u[k] * u[k]
		}
		alone := (y[c] - l.mean[c]) / math.Sqrt(scale[c][c])
		if math.Abs(alone) > usual || math.Abs(given) > usual*math.Sqrt(precision) {
			return false
		}
	}
	return true
}
