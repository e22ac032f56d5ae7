package predict

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The runs summed up by day, and the days' luck taken out of them (Schur complements). The
// sums are the same for every guess at the luck: they are made once, in room that is used
// again.

// dayRuns are a day's runs summed up, era by era.
type dayRuns struct {
	eras   []int   // ascending
	runs   [][]int // of each, places among the samples
	shares []dayShare
	kin    *kin // what its luck hangs on

	// What its runs say of its luck, as information and pull, and of launch and engine
	// together with each unknown that they hang on, in the kin's order.
	info           [2][2]float64
	pull           [2]float64
	launch, engine []float64
}

// kin are days whose luck hangs on the same unknowns. They are taken out among these, and
// what they leave is put in its place once for all of them.
type kin struct {
	at     []int // ascending
	days   []int
	levels []levelPair
}

// daySums are those of all days, and what they add to the unknowns before luck.
type daySums struct {
	of     *believedBiases
	days   []dayRuns
	kin    []*kin
	laws   []int // those that some run tells of, ascending
	solved map[luck]*posterior
	info   *mat.SymDense // with what was believed
	pull   []float64     // the same
	square float64       // the same
	block  []float64     // room
	tied   []float64     // room
	all    []rowSums     // room, for each whitening
	stale  bool          // the runs are weighed or whitened otherwise since
}

// levelPair is what two levels have in common in all days of a kin; divided by the luck it is
// information on them.
type levelPair struct {
	a, b int // places among the shares of each day, a's level not behind b's
	by   float64
}

// daySums sums the runs up by day, each row by its weight; as long as they are weighed as
// they were, the sums stand.
func (t *fit) daySums() *daySums {
	switch {
	case t.sums == nil || t.sums.of != t.biases: // a copy of a fit is fitted with other unknowns
		t.sums = t.emptySums()
	case !t.sums.stale:
		return t.sums
	}
	t.sums.stale = false
	t.sumUp()
	return t.sums
}

// resum has the runs summed up anew when the sums are asked for next.
func (t *fit) resum() {
	if t.sums != nil {
		t.sums.stale = true
	}
}

// emptySums makes the room, of all days at once.
func (t *fit) emptySums() *daySums {
	s := &daySums{of: t.biases, days: make([]dayRuns, len(t.days)), info: mat.NewSymDense(t.biases.dim, nil)}
	for k := range laws {
		for i := range t.samples {
			if t.samples[i].laws[k] != (vec{}) {
				s.laws = append(s.laws, k)
				break
			}
		}
	}
	s.partRuns(t.samples)
	var at []int
	n := 0
	for day := range s.days {
		d := &s.days[day]
		d.shares = t.placed(t.dayShares[day])
		at = d.hangsOn(at[:0], s.laws)
		d.kin = s.kinOf(at, d.shares)
		d.kin.take(day, d.shares)
		n += 2 * len(at)
	}
	room := make([]float64, n)
	for day := range s.days {
		d := &s.days[day]
		n := len(d.kin.at)
		d.launch, d.engine, room = room[:n], room[n:2*n], room[2*n:]
	}
	return s
}

// partRuns lists the runs of each day, era by era.
func (s *daySums) partRuns(samples []sample) {
	places, eras, runs := make([]int, len(samples)), make([]int, 0, len(samples)), make([][]int, 0, len(samples))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(a, b int) int {
		x, y := &samples[a], &samples[b]
		return cmp.Or(x.day-y.day, x.era-y.era)
	})
	for from := 0; from < len(places); {
		of, first, n := &samples[places[from]], from, len(eras)
		for from < len(places) && samples[places[from]].day == of.day && samples[places[from]].era == of.era {
			from++
		}
		d := &s.days[of.day]
		n -= len(d.eras) // those of one day come one after the other
		eras, runs = append(eras, of.era), append(runs, places[first:from])
		d.eras, d.runs = eras[n:], runs[n:]
	}
}

// kinOf are the days that hang on the same, with shares of the same levels.
func (s *daySums) kinOf(at []int, shares []dayShare) *kin {
	for _, k := range slices.Backward(s.kin) {
		if slices.Equal(k.at, at) {
			return k
		}
	}
	k := &kin{at: slices.Clone(at)}
	for i, a := range shares {
		for j, b := range shares {
			if a.at <= b.at {
				k.levels = append(k.levels, levelPair{a: i, b: j})
			}
		}
	}
	s.kin = append(s.kin, k)
	return k
}

// take adds a day.
func (k *kin) take(day int, shares []dayShare) {
	k.days = append(k.days, day)
	for i := range k.levels {
		p := &k.levels[i]
		p.by += shares[p.a].by * shares[p.b].by
	}
}

// hangsOn lists the unknowns that the day's luck hangs on.
func (d *dayRuns) hangsOn(at, laws []int) []int {
	at = append(at, laws...)
	for _, e := range d.eras {
		for c := range channels {
			at = append(at, biasAt(e)+c)
		}
	}
	for _, s := range d.shares {
		at = append(at, s.at, s.at+1)
	}
	return at
}

// sumUp adds up what the runs say of each day's luck, and of the unknowns before luck; and
// what was believed.
func (t *fit) sumUp() {
	s := t.sums
	s.solved = map[luck]*posterior{}
	s.info.CopySym(s.of.precision)
	s.pull, s.square = append(s.pull[:0], s.of.pull...), s.of.square
	all := slices.Grow(s.all[:0], len(t.whitenings))[:len(t.whitenings)]
	s.all = all
	clear(all)
	for i := range s.days {
		d := &s.days[i]
		d.clear()
		for k, runs := range d.runs {
			for len(runs) > 0 {
				w, n, sum := t.whites[runs[0]].whitening, 0, rowSums{}
				for ; n < len(runs) && t.whites[runs[n]].whitening == w; n++ {
					sum.addRun(&t.samples[runs[n]], &t.whites[runs[n]], s.laws)
				}
				sum.tellDay(d, w, k, s.laws)
				all[w.place].add(&sum, s.laws)
				runs = runs[n:]
			}
		}
	}
	for i, w := range t.whitenings {
		s.square += all[i].tell(s.info, s.pull, w, s.laws)
	}
}

func (d *dayRuns) clear() {
	d.info, d.pull = [2][2]float64{}, [2]float64{}
	clear(d.launch)
	clear(d.engine)
}

// dayLink is the covariance of a day's luck given the unknowns: its mean is cov (pull -
// cross' β), with cross what the day's runs say of luck and unknowns together.
type dayLink [2][2]float64

// solve combines belief and runs, once for each guess at the luck. The posterior holds as
// long as the sums do.
func (b *believedBiases) solve(s *daySums, l luck) (*posterior, error) {
	if p := s.solved[l]; p != nil {
		return p, nil
	}
	p := &posterior{luck: l, ahead: b.ahead, sums: s, links: make([]dayLink, len(s.days))}
	info := mat.NewSymDense(b.dim, nil)
	info.CopySym(s.info)
	raw := info.RawSymmetric()
	for _, k := range s.kin {
		shares := s.days[k.days[0]].shares
		for _, pair := range k.levels {
			a, b := shares[pair.a].at, shares[pair.b].at
			raw.Data[a*raw.Stride+b] += pair.by / l.launch
			raw.Data[(a+1)*raw.Stride+b+1] += pair.by / l.engine
		}
	}
	pull, square, logDet, shrink := slices.Clone(s.pull), s.square, 0., 1.
	for _, k := range s.kin {
		n := len(k.at)
		s.block = slices.Grow(s.block[:0], n*n+n)[:n*n+n]
		clear(s.block)
		taken, pulled := s.block[:n*n], s.block[n*n:]
		for _, day := range k.days {
			d := &s.days[day]
			link, by := d.link(l)
			launch, engine := d.cross(l)
			square -= link.eliminate(d.pull, launch, engine, taken, pulled)
			p.links[day] = link
			if shrink *= by; shrink > 1e200 {
				logDet, shrink = logDet+math.Log(shrink), 1
			}
		}
		for i, a := range k.at {
			pull[a] -= pulled[i]
			row, from := raw.Data[a*raw.Stride:], taken[i*n:][:n]
			for j := i; j < n; j++ {
				row[k.at[j]] -= from[j]
			}
		}
	}
	logDet += math.Log(shrink)
	var ok bool
	if p.factor, ok = newFactor(info); !ok {
		return nil, errNotPositive
	}
	p.mean = slices.Clone(pull)
	p.factor.solveVec(p.mean)
	for a, m := range p.mean {
		square -= m * pull[a]
	}
	p.evidence = -0.5 * (square + p.factor.logDet() - b.logDet + logDet)
	s.solved[l] = p
	return p, nil
}

// link works out a day's luck given the unknowns, and how many times smaller its variance
// has become, as a determinant.
func (d *dayRuns) link(l luck) (k dayLink, shrink float64) {
	launch, both, engine := 1/l.launch+d.info[0][0], d.info[0][1], 1/l.engine+d.info[1][1]
	det := launch*engine - both*both
	return dayLink{{engine / det, -both / det}, {-both / det, launch / det}}, l.launch * l.engine * det
}

// firstBias is where biases begin among what a day hangs on.
func (s *daySums) firstBias() int { return len(s.laws) }

// cross is what the day's runs say of launch and of engine together with each unknown.
func (d *dayRuns) cross(l luck) (launch, engine []float64) {
	at := len(d.launch) - 2*len(d.shares)
	for _, s := range d.shares {
		d.launch[at], d.engine[at+1] = -s.by/l.launch, -s.by/l.engine
		at += 2
	}
	return d.launch, d.engine
}

// eliminate adds up what a day's luck takes out of the information on the unknowns, and of
// their pull, its own pull given; it returns what that takes from the square.
func (k *dayLink) eliminate(own [2]float64, launch, engine, info, pull []float64) float64 {
	n := len(pull)
	c00, c01, c11 := k[0][0], k[0][1], k[1][1]
	u0, u1 := k.times(own)
	for i, l := range launch {
		e := engine[i]
		if l == 0 && e == 0 {
			continue
		}
		pull[i] += l*u0 + e*u1
		y0, y1 := c00*l+c01*e, c01*l+c11*e
		row := info[i*n+i : (i+1)*n]
		ls, es := launch[i:][:len(row)], engine[i:][:len(row)]
		for j := range row {
			row[j] += y0*ls[j] + y1*es[j]
		}
	}
	return own[0]*u0 + own[1]*u1
}

func (k *dayLink) times(v [2]float64) (launch, engine float64) {
	return k[0][0]*v[0] + k[0][1]*v[1], k[1][0]*v[0] + k[1][1]*v[1]
}

// luckOf is a day's luck, as well as it is known.
func (p *posterior) luckOf(day int) (launch, engine float64) {
	if p.lucks == nil {
		p.lucks = make([][2]float64, len(p.links))
		for day := range p.lucks {
			d := &p.sums.days[day]
			r := d.pull
			ls, es := d.cross(p.luck)
			for i, a := range d.kin.at {
				r[0] -= ls[i] * p.mean[a]
				r[1] -= es[i] * p.mean[a]
			}
			p.lucks[day][0], p.lucks[day][1] = p.links[day].times(r)
		}
	}
	return p.lucks[day][0], p.lucks[day][1]
}
