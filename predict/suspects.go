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
	of := make([][]float64, len(t.days))
	era := make([]int, len(t.days))
	c, ordinary := timeAt[t.finish], t.usualLuckSD()
	for i := range t.samples {
		if s := &t.samples[i]; s.has[c] && !math.IsInf(s.sound[5], -1) {
			of[s.day] = append(of[s.day], s.y[c])
			era[s.day] = s.era
		}
	}
	for day, y := range of {
		if mid, some := median(y); some {
			noise := t.noise[era[day]][c][c] / float64(len(y))
			luck := math.Min(t.weighedBy.launch+t.weighedBy.engine, 2*ordinary*ordinary)
			list = append(list, dayLevel{day, era[day], mid, math.Sqrt(luck + noise)})
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
// order with its own these are, in standard deviations.
func (d dayLevel) against(levels []float64) (z float64, others int) {
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
	return math.Abs(d.level-(at((n-1)/2)+at(n/2))/2) / d.doubt, n
}

// suspects are what to suppose next, beside what is supposed: the oddest day, the
// likeliest change, whatever the last day may have been, and whether the last gain came.
func (a account) suspects() (list []supposition) {
	add := func(kind unentered, d dayLevel) {
		s := supposition{kind: kind, day: d.day, era: d.era}
		if !slices.Contains(list, s) && !slices.Contains(a.supposed, s) {
			list = append(list, s)
		}
	}
	days := a.dayLevels()
	levels := byEra(days)
	oddest, parted := -1, -1
	mostOdd, mostParted := suspectSD, suspectSD
	for i, d := range days {
		z, n := d.against(levels[d.era])
		if n > 0 && z > mostOdd && a.eras[d.era].change.kind != oddDay {
			oddest, mostOdd = i, z
		}
		if i == len(days)-1 && n > 0 && z > lastOut {
			add(oddDay, d)
			add(changed, d)
		}
		if z := parting(days, i); z > mostParted {
			parted, mostParted = i, z
		}
	}
	if oddest >= 0 {
		add(oddDay, days[oddest])
	}
	if parted >= 0 {
		add(changed, days[parted])
	}
	for era := len(a.eras) - 1; era > 0; era-- {
		if c := a.eras[era].change; c.kind == asEntered && !c.sameSetup && c.power > moreOf {
			return append(list, supposition{kind: notCame, era: era})
		}
	}
	return list
}

// parting is how far the mean of the days of an era from one on is from that of those
// before it, in standard deviations.
func parting(days []dayLevel, from int) float64 {
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
		return 0
	}
	return math.Abs(after/k-before/n) / days[from].doubt / math.Sqrt(1/n+1/k)
}
