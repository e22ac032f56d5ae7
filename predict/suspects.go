package predict

import (
	"math"
	"slices"
)

// Where to look for what was not entered: days whose middle run is out of line with the
// other days', seen against the run model at the finish.

const (
	suspectSD = 2.5  // standard deviations of a day, from which on it is looked at
	lastOut   = 1.2  // the same for the last day, the next run's neighbour
	moreOf    = 0.04 // log of the power that a setup adds, from which on it is asked whether it came
)

// dayLevel is a day's middle run.
type dayLevel struct {
	day, era int
	level    float64 // log of the time at the finish, less the run model's
	doubt    float64 // its standard deviation about those of other days
}

func (t *fit) dayLevels() (list []dayLevel) {
	of := make([][]float64, 2*len(t.days)) // with a stop behind those without
	era := make([]int, 2*len(t.days))
	c, ordinary := timeAt[t.finish], t.usualLuckSD()
	for i := range t.samples {
		if s := &t.samples[i]; s.has[c] && !math.IsInf(s.sound[5], -1) {
			at := 2 * s.day
			if s.pass.stopped() {
				at++
			}
			of[at], era[at] = append(of[at], s.y[c]), s.era
		}
	}
	for at, y := range of {
		if mid, some := median(y); some {
			noise := t.noise[era[at]][c][c] / float64(len(y))
			luck := math.Min(t.weighedBy.launch+t.weighedBy.engine, 2*ordinary*ordinary)
			list = append(list, dayLevel{at / 2, era[at], mid, math.Sqrt(luck + noise)})
		}
	}
	return list
}

// byEra are the days' levels in each era, in order.
func byEra(list []dayLevel) map[int][]float64 {
	of := map[int][]float64{}
	for _, d := range list {
		of[d.era] = append(of[d.era], d.level)
	}
	for _, levels := range of {
		slices.Sort(levels)
	}
	return of
}

// against is how much slower a day is than the middle of the others of its era, whose levels
// in order with its own these are.
func (d dayLevel) against(levels []float64) (step float64, others int) {
	n := len(levels) - 1
	if n == 0 {
		return 0, 0
	}
	own, _ := slices.BinarySearch(levels, d.level)
	at := func(k int) float64 {
		if k >= own {
			k++
		}
		return levels[k]
	}
	return d.level - (at((n-1)/2)+at(n/2))/2, n
}

// suspects are what to suppose next, beside what is supposed: the oddest day, the
// likeliest change, whatever the last day may have been, and whether the last gain came.
func (a account) suspects() (list []supposition) {
	add := func(s supposition) {
		if !slices.ContainsFunc(list, s.same) && !slices.ContainsFunc(a.supposed, s.same) {
			list = append(list, s)
		}
	}
	days := a.dayLevels()
	levels := byEra(days)
	var oddest, parted supposition
	mostOdd, mostParted := suspectSD, suspectSD
	for i, d := range days {
		odd := supposition{kind: oddDay, day: d.day, era: d.era}
		since := supposition{kind: changed, day: d.day, era: d.era}
		step, n := d.against(levels[d.era])
		if z := math.Abs(step) / d.doubt; n > 0 && z > mostOdd && a.eras[d.era].change.kind != oddDay {
			oddest, mostOdd = odd, z
		}
		if i == len(days)-1 && n > 0 && math.Abs(step) > lastOut*d.doubt {
			since.step = step
			add(odd)
			add(since)
		}
		if i == len(days)-1 && n == 0 {
			if _, slow := a.slowAlone(d.day); slow {
				add(odd) // of a setup's first run: its gain did not come, the day, or the run
			}
		}
		if step, sd := parting(days, i); math.Abs(step) > mostParted*sd {
			since.step = step
			parted, mostParted = since, math.Abs(step)/sd
		}
	}
	for _, s := range []supposition{oddest, parted} {
		if s.kind != asEntered {
			add(s)
		}
	}
	for era := len(a.eras) - 1; era > 0; era-- {
		if c := a.eras[era].change; c.kind == asEntered && !c.sameSetup && c.power > moreOf {
			return append(list, supposition{kind: notCame, era: era})
		}
	}
	return list
}

// parting is how much slower the days of an era are on the mean from one on than before it,
// and the standard deviation of that.
func parting(days []dayLevel, from int) (step, sd float64) {
	var before, after, n, k float64
	for i, o := range days {
		switch {
		case o.era != days[from].era:
		case i < from:
			before, n = before+o.level, n+1
		default:
			after, k = after+o.level, k+1
		}
	}
	if n == 0 {
		return 0, 1
	}
	return after/k - before/n, days[from].doubt * math.Sqrt(1/n+1/k)
}
