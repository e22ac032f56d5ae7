package predict

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Why is what a forecast at its finish is made of.
type Why struct {
	Pieces []WhyPiece
	CarS   float64    // what the vehicle runs in that air but for the pieces' own: with them it makes the centre
	RangeS float64    // half the range of 8 in 10: all the pieces' together
	Counts []RunCount // the runs, the most telling first; one may count against the others, below 0
	// Chances that the next run's day is out of the ordinary, that something was changed
	// that is not entered, and that the setup's gain did not come.
	OddDay, Changed, NotCome float64
}

// WhyPiece is what one thing adds: to the time, and to half the range of 8 in 10.
type WhyPiece struct {
	Kind        WhyKind
	ETS, RangeS float64
}

// WhyKind says what a piece is.
type WhyKind string

// The pieces, in the order in which they are taken out of the range: of what two of them
// could explain, the first has it.
const (
	WhyNoise WhyKind = "noise" // the run's own luck
	WhyAir   WhyKind = "air"   // the reading, how it fades, and how the air works on the vehicle
	WhyWind  WhyKind = "wind"
	WhyLane  WhyKind = "lane"
	WhyHeat  WhyKind = "heat" // the runs of the day before
	WhyTrack WhyKind = "track"
	WhyDrift WhyKind = "drift" // wear, and care
	WhyCar   WhyKind = "car"   // how well its runs tell what it runs, and what a change made of it
	WhyDay   WhyKind = "day"   // its luck
	WhyOdd   WhyKind = "odd"   // what may have happened that nobody entered
)

// RunCount is how much a run counts.
type RunCount struct {
	ID      string
	Share   float64 // by how much the forecast moves, of a move of the run's figures alone
	SoundFt float64 // up to where it counts; 0: not
}

// Why takes the forecast at its finish apart.
func (f *Forecast) Why() (Why, error) {
	t, b := f.fit, f.ETs[f.Finish]
	w := Why{RangeS: (b.High80 - b.Low80) / 2}
	l, err := t.lawOf(t.next, t.nextEra)
	if err != nil {
		return w, err
	}
	at := timeAt[f.Finish]
	plain := l.bandOf(at, l.tails())
	moves, variances := t.apart()
	reach := math.Min((plain.High80-plain.Low80)/2, w.RangeS)
	all := 0.
	for _, v := range variances {
		all += v
	}
	w.CarS = b.Centre
	for _, k := range whyOrder {
		p := WhyPiece{Kind: k, ETS: plain.Centre * moves[k], RangeS: reach * variances[k] / all}
		if k == WhyOdd {
			p.ETS, p.RangeS = b.Centre-plain.Centre, w.RangeS-reach
		}
		w.CarS -= p.ETS
		w.Pieces = append(w.Pieces, p)
	}
	w.OddDay, w.Changed, w.NotCome = chances(f.accounts)
	w.Counts = t.counts()
	return w, nil
}

var whyOrder = []WhyKind{WhyNoise, WhyAir, WhyWind, WhyLane, WhyHeat, WhyTrack, WhyDrift, WhyCar, WhyDay, WhyOdd}

// apart gives what each piece adds to the log of the time and to its variance.
func (t *fit) apart() (moves, variances map[WhyKind]float64) {
	moves, variances = map[WhyKind]float64{}, map[WhyKind]float64{}
	e, c := t.eras[t.nextEra], timeAt[t.finish]
	air, doubt := t.airOf(t.next)
	day := t.dayOfNext()
	sens := t.sensOf(e, t.next, air, t.runsOf(day))
	variances[WhyNoise] = t.noise[t.nextEra][c][c] + math.Pow(e.stopAhead(t.next, air)[c], 2)
	variances[WhyAir] = math.Pow(e.thin[c]*doubt, 2)
	for i, p := range t.posteriors {
		x := p.load(e, t.nextEra, sens, day)
		load := make([]float64, len(p.mean))
		for a := range load {
			load[a] = x.load.At(a, c)
		}
		rest := load
		left := p.varianceOf(rest)
		for _, k := range whyOrder {
			known := t.unknownsOf(k)
			if known == nil {
				continue
			}
			rest = slices.Clone(rest)
			for _, a := range known {
				rest[a] = math.NaN()
			}
			less := p.varianceOf(rest)
			variances[k] += t.chance[i] * (left - less)
			left = less
		}
		luck := x.dayCov
		variances[WhyDay] += t.chance[i] * (left + e.launch[c]*(luck[0][0]*e.launch[c]+luck[0][1]*e.engine[c]) +
			e.engine[c]*(luck[1][0]*e.launch[c]+luck[1][1]*e.engine[c]))
		t.move(moves, p, sens, day, t.chance[i])
	}
	return moves, variances
}

// unknownsOf are the places of what a piece is about; nil for what is none of the unknowns.
func (t *fit) unknownsOf(k WhyKind) (places []int) {
	span := func(from, to int) {
		for a := from; a < to; a++ {
			places = append(places, a)
		}
	}
	levels, first := biasAt(len(t.eras)), t.firstDrift
	switch k {
	case WhyAir:
		return []int{lawOfAir}
	case WhyWind:
		return []int{lawOfWind}
	case WhyLane:
		return []int{lawOfLane}
	case WhyHeat:
		return []int{lawOfHeat}
	case WhyTrack:
		span(levels, levels+2*first)
	case WhyDrift:
		span(levels+2*first, levels+2*len(t.levels))
	case WhyCar:
		span(laws, levels)
	}
	return places
}

// move adds what the pieces do to the time, by one guess at the luck.
func (t *fit) move(moves map[WhyKind]float64, p *posterior, sens [laws]vec, day int, chance float64) {
	e, c := t.eras[t.nextEra], timeAt[t.finish]
	for k, kind := range [laws]WhyKind{lawOfAir: WhyAir, lawOfWind: WhyWind, lawOfLane: WhyLane, lawOfHeat: WhyHeat} {
		moves[kind] += chance * p.mean[k] * sens[k][c]
	}
	moves[WhyWind] += chance * t.windOf(c)
	shares := p.ahead
	luck := 0.
	if day >= 0 {
		shares = t.placed(t.dayShares[day])
		launch, engine := p.luckOf(day)
		luck = launch*e.launch[c] + engine*e.engine[c]
	}
	for _, s := range shares {
		by := s.by * (p.mean[s.at]*e.launch[c] + p.mean[s.at+1]*e.engine[c])
		kind := WhyTrack
		if s.at >= biasAt(len(t.eras))+2*t.firstDrift {
			kind = WhyDrift
		}
		moves[kind] += chance * by
		if day >= 0 {
			luck -= by
		}
	}
	moves[WhyDay] += chance * luck
}

// windOf is what the wind does by the model.
func (t *fit) windOf(c int) float64 { return t.eras[t.nextEra].wind[c] * windShare * headwind(t.next) }

// varianceOf is that of a sum of unknowns; those with NaN for a factor are known.
func (p *posterior) varianceOf(load []float64) float64 {
	var free []int
	for a, v := range load {
		if !math.IsNaN(v) {
			free = append(free, a)
		}
	}
	if len(free) == 0 {
		return 0
	}
	info := p.factor.sym()
	part := mat.NewSymDense(len(free), nil)
	l := mat.NewVecDense(len(free), nil)
	for i, a := range free {
		l.SetVec(i, load[a])
		for j := i; j < len(free); j++ {
			part.SetSym(i, j, info.At(a, free[j]))
		}
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(part) || chol.SolveVecTo(&x, l) != nil {
		return 0 // of a part of what was positive definite: only ill condition is reported
	}
	return mat.Dot(l, &x)
}

// chances are those of what nobody entered, where the next run is.
func chances(all []account) (odd, change, notCome float64) {
	sum := 0.
	for _, a := range all {
		sum += math.Exp(a.log - all[0].log)
	}
	for _, a := range all {
		w := math.Exp(a.log-all[0].log) / sum
		day, begun := a.days[a.next.dayKey()]
		for _, s := range a.supposed {
			switch {
			case s.kind == oddDay && begun && s.day == day:
				odd += w
			case s.kind == changed:
				change += w
			case s.kind == notCame && s.era == a.nextEra:
				notCome += w
			}
		}
		if !a.told(a.next.dayKey()) && len(a.samples) > 0 {
			odd += w * a.oddNext()
			change += w * changedAhead
		}
	}
	return odd, math.Min(change, 1), notCome
}

// counts tells how far the forecast follows when a run's figures move: it is linear in what
// they pull the unknowns by.
func (t *fit) counts() (list []RunCount) {
	p, c := t.likeliest(), timeAt[t.finish]
	e, day := t.eras[t.nextEra], t.dayOfNext()
	air, _ := t.airOf(t.next)
	load := p.load(e, t.nextEra, t.sensOf(e, t.next, air, t.runsOf(day)), day).load
	follows := mat.Col(nil, c, load) // for each unknown, the more the surer it is
	p.factor.solveVec(follows)
	for i := range t.samples {
		s := &t.samples[i]
		one := RunCount{ID: s.pass.ID}
		if one.SoundFt, _ = s.soundFt(); one.SoundFt > 0 {
			pull := t.pullOf(i)
			launch, engine := p.links[s.day].times(pull.day)
			for k := range staticCols {
				one.Share += pull.static[k] * follows[unknownOf(k, s.era)]
			}
			d := &p.sums.days[s.day]
			ls, es := d.cross(p.luck)
			for k, a := range d.kin.at {
				one.Share -= (ls[k]*launch + es[k]*engine) * follows[a]
			}
			if s.day == day {
				one.Share += launch*e.launch[c] + engine*e.engine[c]
			}
		}
		list = append(list, one)
	}
	slices.SortStableFunc(list, func(a, b RunCount) int { return cmp.Compare(math.Abs(b.Share), math.Abs(a.Share)) })
	return list
}

// pulled is what a run slower by one in its logs pulls its day's luck and the unknowns by.
type pulled struct {
	day    [2]float64
	static [staticCols]float64
}

func (t *fit) pullOf(run int) (pull pulled) {
	s, w := &t.samples[run], &t.whites[run]
	var slower vec
	for c, of := range channelOf {
		if slower[c] = 1; of.speed {
			slower[c] = -1
		}
	}
	for i, by := range w.of(&slower) {
		weight := s.weight[w.channel[i]]
		if i >= w.n || weight <= leastWeight {
			continue
		}
		by *= weight
		pull.day[0] += by * w.launch[i]
		pull.day[1] += by * w.engine[i]
		for k := range laws {
			pull.static[k] += by * w.laws[k][i]
		}
		for c, v := range w.inverse[i] {
			pull.static[laws+c] += by * v
		}
	}
	return pull
}

// dayOfNext is the next run's day among those of the runs, -1 where it has none.
func (t *fit) dayOfNext() int {
	if day, seen := t.days[t.next.dayKey()]; seen {
		return day
	}
	return -1
}
