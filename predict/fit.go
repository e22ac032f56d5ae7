package predict

import (
	"math"
	"slices"
)

// fit is the car as its runs show it.
type fit struct {
	*field
	biases     *believedBiases
	noise      []square // of one run, for each era
	noiseDF    float64
	whites     []white
	posteriors []*posterior // one for each guess at the luck of days
	chance     []float64    // of each
}

var (
	// The annealing: from far off every run is forgiven, or the first runs after an
	// upgrade would all be taken for spoiled and the fit would never follow.
	anneal = []float64{4, 2.5, 1.5, 1, 1}

	middlingLuck = luck{0.0018 * 0.0018, 0.0018 * 0.0018}
)

func newFit(f *field) (*fit, error) {
	t := &fit{field: f}
	var err error
	if t.biases, err = newBelievedBiases(f); err != nil {
		return nil, err
	}
	t.noise = make([]square, len(f.eras))
	for i, e := range f.eras {
		t.noise[i] = ordinaryNoise(e)
	}
	for i := range f.samples {
		s := &f.samples[i]
		s.sound = soundChances(s.pass)
	}
	if err := t.settleWeights(); err != nil {
		return nil, err
	}
	return t, t.average()
}

func (t *fit) whiten() {
	t.whites = slices.Grow(t.whites[:0], len(t.samples))
	for i := range t.samples {
		s := &t.samples[i]
		t.whites = append(t.whites, whiten(s, t.eras[s.era], &t.noise[s.era]))
	}
}

// days sums the runs up by day, each row by its weight.
func (t *fit) daySums() []dayRuns {
	days := make([]dayRuns, len(t.days))
	for i := range t.samples {
		s, w := &t.samples[i], &t.whites[i]
		g := days[s.day].gram(s.era)
		for r := range w.n {
			if weight := s.weight[w.channel[r]]; weight > 1e-6 {
				g.add(&w.rows[r], weight)
			}
		}
	}
	return days
}

// settleWeights alternates between the fit and the weights of the runs (EM),
// and learns the noise on the way.
func (t *fit) settleWeights() error {
	if len(t.samples) == 0 {
		return nil
	}
	t.whiten()
	t.firstWeights()
	for i, scale := range anneal {
		p, err := t.biases.solve(t.daySums(), middlingLuck)
		if err != nil {
			return err
		}
		if i >= 2 {
			t.learnNoise(p)
			t.whiten()
		}
		t.reweigh(p, scale)
	}
	return nil
}

// firstWeights judges each run by the medians of its era.
func (t *fit) firstWeights() {
	mid := make([]vec, len(t.eras))
	for e := range t.eras {
		for c := range channels {
			var y []float64
			for i := range t.samples {
				if s := &t.samples[i]; s.era == e && s.has[c] && !math.IsInf(s.sound[5], -1) {
					y = append(y, s.y[c])
				}
			}
			mid[e][c], _ = median(y)
		}
	}
	for i := range t.samples {
		s, w := &t.samples[i], &t.whites[i]
		s.weigh(w, w.residuals(mid[s.era], 0, 0, 0), anneal[0])
	}
}

// residuals are the whitened run less biases, law of the air and luck.
func (w *white) residuals(bias vec, air, launch, engine float64) []float64 {
	var u [channels]float64
	for i := range w.n {
		r := &w.rows[i]
		v := r[colSeen] - air*r[colAir] - launch*r[colLaunch] - engine*r[colEngine]
		for c, b := range bias {
			v -= r[c] * b
		}
		u[i] = v
	}
	return u[:w.n]
}

func (t *fit) reweigh(p *posterior, scale float64) {
	for i := range t.samples {
		s, w := &t.samples[i], &t.whites[i]
		launch, engine := p.luckOf(s.day)
		s.weigh(w, w.residuals(vec(p.mean[biasAt(s.era):][:channels]), p.mean[0], launch, engine), scale)
	}
}
