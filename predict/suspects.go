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

// against is how far a day is from the middle of the others of its era, whose levels in
// order with its own these are.
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
	return math.Abs(d.level - (at((n-1)/2)+at(n/2))/2), n
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
	levels, parts := byEra(days), partings(days, len(a.eras))
	var oddest, parted supposition
	mostOdd, mostParted := suspectSD, suspectSD
	for i, d := range days {
		odd := supposition{kind: oddDay, day: d.day, era: d.era}
		since := supposition{kind: changed, day: d.day, era: d.era}
		step, n := d.against(levels[d.era])
		if z := step / d.doubt; n > 0 && z > mostOdd && a.eras[d.era].change.kind != oddDay {
			oddest, mostOdd = odd, z
		}
		if i == len(days)-1 && n > 0 && step > lastOut*d.doubt {
			since.step = step
			add(odd)
			add(since)
		}
		if i == len(days)-1 && n == 0 {
			if _, slow := a.slowAlone(d.day); slow {
				add(odd) // of a setup's first run: its gain did not come, the day, or the run
			}
		}
		if p := parts[i]; p.step > mostParted*p.sd {
			since.step = p.step
			parted, mostParted = since, p.step/p.sd
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

// partings are how far the mean of the days of an era, of so many, from each on is from that of
// those before it, and the standard deviation of that.
func partings(days []dayLevel, eras int) []parting {
	all, before := make([]levelSum, eras), make([]levelSum, eras)
	for _, d := range days {
		all[d.era].add(d.level)
	}
	list := make([]parting, len(days))
	for i, d := range days {
		b, a := before[d.era], all[d.era]
		before[d.era].add(d.level)
		if list[i].sd = 1; b.n > 0 {
			k := a.n - b.n
			list[i] = parting{math.Abs((a.level-b.level)/k - b.level/b.n), d.doubt * math.Sqrt(1/b.n+1/k)}
		}
	}
	return list
}

type parting struct{ step, sd float64 }

type levelSum struct{ level, n float64 }

func (s *levelSum) add(level float64) { s.level, s.n = s.level+level, s.n+1 }
