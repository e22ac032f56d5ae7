package predict

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The runs summed up by day, and the days' luck taken out of them (Schur complements). The
// sums are the same for every guess at the luck: they are made once, in room that is used
// again.

// dayRuns are a day's runs summed up, era by era.
type dayRuns struct {
	eras   []int // ascending
	grams  []*gram
	shares []dayShare
	at     []int // the unknowns that its luck hangs on, ascending
}

// daySums are those of all days, and what they add to the unknowns before luck.
type daySums struct {
	of     *believedBiases
	days   []dayRuns
	info   *mat.SymDense // with what was believed
	pull   []float64     // the same
	square float64       // the same
	levels []levelPair
	room   [][2]float64 // for what a day hangs on
	stale  bool         // the runs are weighed or whitened otherwise since
}

// levelPair is what two levels have in common in all days; divided by the luck it is
// information on them.
type levelPair struct {
	a, b int // places of their launches among the unknowns, a <= b
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
	for i := range t.sums.days {
		t.sums.days[i].clear()
	}
	for i := range t.samples {
		t.sums.days[t.samples[i].day].add(&t.samples[i], &t.whites[i])
	}
	t.sums.total()
	return t.sums
}

// resum has the runs summed up anew when the sums are asked for next.
func (t *fit) resum() {
	if t.sums != nil {
		t.sums.stale = true
	}
}

// emptySums makes the room.
func (t *fit) emptySums() *daySums {
	s := &daySums{of: t.biases, days: make([]dayRuns, len(t.days)), info: mat.NewSymDense(t.biases.dim, nil)}
	for i := range t.samples {
		d := &s.days[t.samples[i].day]
		if at, known := slices.BinarySearch(d.eras, t.samples[i].era); !known {
			d.eras = slices.Insert(d.eras, at, t.samples[i].era)
			d.grams = append(d.grams, new(gram))
		}
	}
	pairs := map[[2]int]float64{}
	for day := range s.days {
		d := &s.days[day]
		d.shares = t.placed(t.dayShares[day])
		d.hangOn()
		for _, a := range d.shares {
			for _, b := range d.shares {
				if a.at <= b.at {
					pairs[[2]int{a.at, b.at}] += a.by * b.by
				}
			}
		}
	}
	for of, by := range pairs {
		s.levels = append(s.levels, levelPair{of[0], of[1], by})
	}
	return s
}

// hangOn lists the unknowns that the day's luck hangs on.
func (d *dayRuns) hangOn() {
	d.at = make([]int, 0, laws+channels*len(d.eras)+2*len(d.shares))
	for k := range laws {
		d.at = append(d.at, k)
	}
	for _, e := range d.eras {
		for c := range channels {
			d.at = append(d.at, biasAt(e)+c)
		}
	}
	for _, s := range d.shares {
		d.at = append(d.at, s.at, s.at+1)
	}
}

func (d *dayRuns) clear() {
	for _, g := range d.grams {
		*g = gram{}
	}
}

func (d *dayRuns) add(s *sample, w *white) {
	at, _ := slices.BinarySearch(d.eras, s.era)
	for r := range w.n {
		if weight := s.weight[w.channel[r]]; weight > 1e-6 {
			d.grams[at].add(&w.rows[r], weight)
		}
	}
}

// total adds up what the days say of the unknowns before luck, and what was believed.
func (s *daySums) total() {
	s.info.CopySym(s.of.precision)
	s.pull, s.square = append(s.pull[:0], s.of.pull...), s.of.square
	raw := s.info.RawSymmetric()
	for i := range s.days {
		d := &s.days[i]
		for k, g := range d.grams {
			s.square += g[colSeen][colSeen]
			for c := range staticCols {
				a := unknownOf(c, d.eras[k])
				s.pull[a] += g[colSeen][c]
				for c2 := range c + 1 {
					b := unknownOf(c2, d.eras[k])
					raw.Data[min(a, b)*raw.Stride+max(a, b)] += g[c][c2]
				}
			}
		}
	}
}

// dayLink is a day's luck given the unknowns: mean = cov (pull - cross' β), with cross what
// the day's runs say of luck and unknowns together.
type dayLink struct {
	cov  [2][2]float64
	pull [2]float64
}

// solve combines belief and runs. The posterior holds as long as the sums do.
func (b *believedBiases) solve(s *daySums, l luck) (*posterior, error) {
	p := &posterior{luck: l, ahead: b.ahead, sums: s, links: make([]dayLink, len(s.days))}
	info := mat.NewSymDense(b.dim, nil)
	info.CopySym(s.info)
	raw := info.RawSymmetric()
	for _, pair := range s.levels {
		raw.Data[pair.a*raw.Stride+pair.b] += pair.by / l.launch
		raw.Data[(pair.a+1)*raw.Stride+pair.b+1] += pair.by / l.engine
	}
	pull, square, logDet := slices.Clone(s.pull), s.square, 0.
	for i := range s.days {
		d, k := &s.days[i], &p.links[i]
		*k = d.link(l)
		square -= k.eliminate(d.at, d.cross(l, &s.room), raw.Data, raw.Stride, pull)
		logDet += math.Log(l.launch * l.engine / (k.cov[0][0]*k.cov[1][1] - k.cov[0][1]*k.cov[0][1]))
	}
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
	return p, nil
}

// link works out a day's luck given the unknowns.
func (d *dayRuns) link(l luck) (k dayLink) {
	m := [2][2]float64{{1 / l.launch, 0}, {0, 1 / l.engine}}
	for _, g := range d.grams {
		m[0][0] += g[colLaunch][colLaunch]
		m[0][1] += g[colEngine][colLaunch]
		m[1][1] += g[colEngine][colEngine]
		k.pull[0] += g[colSeen][colLaunch]
		k.pull[1] += g[colSeen][colEngine]
	}
	det := m[0][0]*m[1][1] - m[0][1]*m[0][1]
	k.cov = [2][2]float64{{m[1][1] / det, -m[0][1] / det}, {-m[0][1] / det, m[0][0] / det}}
	return k
}

// cross is what the day's runs say of luck and of each unknown together.
func (d *dayRuns) cross(l luck, room *[][2]float64) [][2]float64 {
	cross := slices.Grow((*room)[:0], len(d.at))[:len(d.at)]
	*room = cross
	clear(cross[:laws])
	at := laws
	for _, g := range d.grams {
		launch, engine := &g[colLaunch], &g[colEngine]
		for c := range channels {
			cross[at+c] = [2]float64{launch[c], engine[c]}
		}
		for c := range laws {
			cross[c][0] += launch[channels+c]
			cross[c][1] += engine[channels+c]
		}
		at += channels
	}
	for _, s := range d.shares {
		cross[at], cross[at+1] = [2]float64{-s.by / l.launch, 0}, [2]float64{0, -s.by / l.engine}
		at += 2
	}
	return cross
}

// eliminate takes a day's luck out of the information on the unknowns; it returns what
// that takes from the square.
func (k *dayLink) eliminate(at []int, cross [][2]float64, info []float64, stride int, pull []float64) float64 {
	c00, c01, c11 := k.cov[0][0], k.cov[0][1], k.cov[1][1]
	u0, u1 := c00*k.pull[0]+c01*k.pull[1], c01*k.pull[0]+c11*k.pull[1]
	for i, a := range at {
		x := cross[i]
		if x[0] == 0 && x[1] == 0 {
			continue
		}
		pull[a] -= x[0]*u0 + x[1]*u1
		y0, y1 := c00*x[0]+c01*x[1], c01*x[0]+c11*x[1]
		row, rest := info[a*stride:][:stride], cross[i:]
		for j, b := range at[i:] {
			row[b] -= y0*rest[j][0] + y1*rest[j][1]
		}
	}
	return k.pull[0]*u0 + k.pull[1]*u1
}

// luckOf is a day's luck, as well as it is known.
func (p *posterior) luckOf(day int) (launch, engine float64) {
	k, d := &p.links[day], &p.sums.days[day]
	r := k.pull
	for i, x := range d.cross(p.luck, &p.sums.room) {
		m := p.mean[d.at[i]]
		r[0] -= x[0] * m
		r[1] -= x[1] * m
	}
	return k.cov[0][0]*r[0] + k.cov[0][1]*r[1], k.cov[1][0]*r[0] + k.cov[1][1]*r[1]
}
