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
	airOff     float64 // how far the air is from what is said of it, as a share of its doubt
	whitenings []*whitening
	whites     []white
	posteriors []*posterior // one for each guess at the luck of days
	chance     []float64    // of each
	evidence   float64      // of them all, log, for the weights as they are
	weighedBy  luck         // the guess that the runs are weighed by
	sums       *daySums     // room for them
}

// The annealing: from far off every run is forgiven, or the first runs after an
// upgrade would all be taken for spoiled and the fit would never follow.
var anneal = []float64{4, 2.5, 1.5, 1, 1}

func newFit(f *field) (*fit, error) {
	t := &fit{field: f, weighedBy: f.middlingLuck()}
	var err error
	if t.biases, err = newBelievedBiases(f); err != nil {
		return nil, err
	}
	for i := range f.samples {
		s := &f.samples[i]
		s.sound = soundChances(s.pass)
	}
	return t, t.settleWeights()
}

func (t *fit) whiten() {
	t.resum()
	t.whites, t.whitenings = slices.Grow(t.whites[:0], len(t.samples)), t.whitenings[:0]
	known := map[whitenedBy]*whitening{}
	var by *whitening
	var last whitenedBy
	for i := range t.samples {
		s := &t.samples[i]
		if of := (whitenedBy{s.era, s.has, s.doubt}); i == 0 || of != last {
			if by, last = known[of], of; by == nil {
				by = newWhitening(s, t.eras[s.era], &t.noise[s.era], t.airOff)
				by.place, known[of] = len(t.whitenings), by
				t.whitenings = append(t.whitenings, by)
			}
		}
		t.whites = append(t.whites, by.whiten(s))
	}
}

// start is where the weighing may begin from: in each era the run of a rank, from
// quick to slow, or what the era before carries over.
type start struct {
	rank    float64
	carried bool // for eras of few runs
	steady  bool // a car whose runs are far more alike than is usual
}

// steadyStart is the noise of a steady car, as a share of the ordinary variance.
const steadyStart = 0.12

// The middle run of each era; a quick one, for when most of the first runs were
// spoiled; for new eras what the model carried, for when their first was; and the middle
// run of a steady car, whose spoiled runs pass for noise where that starts from the ordinary.
var starts = []start{{rank: 0.5}, {rank: 0.15}, {rank: 0.5, carried: true}, {rank: 0.5, steady: true}}

const (
	manyRuns    = 40 // among so many no few spoiled ones mislead the median
	manyOfAnEra = 4
)

// useful reports whether a start can end elsewhere than those before it.
func (t *fit) useful(s start, runs []int) bool {
	switch {
	case s.carried:
		return slices.ContainsFunc(runs[1:], func(n int) bool { return n > 0 && n < manyOfAnEra })
	case s.rank != 0.5, s.steady:
		return len(t.samples) <= manyRuns
	}
	return true
}

// settleWeights begins from each start and keeps what explains the runs better.
func (t *fit) settleWeights() error {
	t.resetNoise()
	if len(t.samples) == 0 {
		return nil
	}
	best := math.Inf(-1)
	var kept settled
	runs := make([]int, len(t.eras))
	for i := range t.samples {
		runs[t.samples[i].era]++
	}
	useful := slices.DeleteFunc(slices.Clone(starts), func(s start) bool { return !t.useful(s, runs) })
	for _, from := range useful {
		t.resetNoise()
		if from.steady {
			for e, n := range t.noise {
				t.noise[e] = square{}
				t.noise[e].add(&n, steadyStart)
			}
		}
		for i := range t.samples {
			t.samples[i].sound = soundChances(t.samples[i].pass)
		}
		density, err := t.settleFrom(from, runs)
		if err != nil {
			return err
		}
		if len(useful) > 1 && density > best {
			best = density
			kept = t.keep()
		}
	}
	if len(useful) > 1 {
		t.restore(kept)
	}
	return nil
}

func (t *fit) resetNoise() {
	t.noise = make([]square, len(t.eras))
	for i, e := range t.eras {
		t.noise[i] = ordinaryNoise(e)
	}
	t.noiseDF, t.airOff = noiseRuns, 1
}

// settled is where an alternation has ended.
type settled struct {
	weights []vec
	sound   [][6]float64
	noise   []square
	df      float64
	airOff  float64
}

func (t *fit) keep() settled {
	k := settled{noise: t.noise, df: t.noiseDF, airOff: t.airOff}
	k.weights, k.sound = make([]vec, 0, len(t.samples)), make([][6]float64, 0, len(t.samples))
	for i := range t.samples {
		k.weights = append(k.weights, t.samples[i].weight)
		k.sound = append(k.sound, t.samples[i].sound)
	}
	return k
}

func (t *fit) restore(k settled) {
	t.noise, t.noiseDF, t.airOff = k.noise, k.df, k.airOff
	for i := range t.samples {
		t.samples[i].weight, t.samples[i].sound = k.weights[i], k.sound[i]
	}
	t.whiten()
}

// settleFrom alternates between the fit and the weights of the runs (EM), and
// learns the noise on the way. It returns the log density of it all.
func (t *fit) settleFrom(from start, runs []int) (density float64, err error) {
	t.whiten()
	t.firstWeights(from, runs, func(*sample) bool { return true })
	for i, scale := range anneal {
		p, err := t.biases.solve(t.daySums(), t.weighedBy)
		if err != nil {
			return 0, err
		}
		if i >= 3 { // the weights have settled enough
			t.learnNoise(p)
			t.whiten()
			t.learnHabits()
		}
		density = t.reweigh(p, scale) + t.biases.density(p)
	}
	return density, nil
}

// firstWeights judges each of some runs by what the start says of its era.
func (t *fit) firstWeights(s start, runs []int, of func(*sample) bool) {
	t.resum()
	from, known := make([]vec, len(t.eras)), make([]bool, len(t.eras))
	var bias vec
	var by *whitening
	for i := range t.samples {
		x, w := &t.samples[i], &t.whites[i]
		if !of(x) {
			continue
		}
		if !known[x.era] {
			from[x.era], known[x.era] = t.startOf(s, x.era, runs), true
		}
		if by != w.whitening {
			by, bias = w.whitening, w.of(&from[x.era])
		}
		u := w.residuals(0, 0, &[laws]float64{}, &bias)
		x.weigh(w, &u, anneal[0])
	}
}

// startOf are the biases that an era starts from.
func (t *fit) startOf(s start, era int, runs []int) (at vec) {
	if s.carried && era > 0 && runs[era] < manyOfAnEra {
		return t.startOf(s, era-1, runs)
	}
	y := make([]float64, 0, len(t.samples))
	for c, of := range channelOf {
		y = y[:0]
		for i := range t.samples {
			if s := &t.samples[i]; s.era == era && s.has[c] && !math.IsInf(s.sound[5], -1) {
				y = append(y, s.y[c])
			}
		}
		slices.Sort(y)
		if n := len(y); n > 0 {
			k := s.rank
			if of.speed {
				k = 1 - k
			}
			at[c] = y[int(math.Round(k*float64(n-1)))]
		}
	}
	return at
}

func (t *fit) reweigh(p *posterior, scale float64) (density float64) {
	t.resum()
	off := [laws]float64(p.mean)
	var launch, engine float64
	var bias vec
	for i := range t.samples {
		s, w := &t.samples[i], &t.whites[i]
		if i == 0 || s.day != t.samples[i-1].day {
			launch, engine = p.luckOf(s.day)
		}
		if i == 0 || w.whitening != t.whites[i-1].whitening {
			bias = w.of((*vec)(p.mean[biasAt(s.era):]))
		}
		u := w.residuals(launch, engine, &off, &bias)
		density += s.weigh(w, &u, scale)
	}
	for day := range p.links {
		launch, engine := p.luckOf(day)
		density -= (launch*launch/p.luck.launch + engine*engine/p.luck.engine) / 2
	}
	return density
}
