package printed

import (
	"math"
	"slices"
	"strings"
)

// sum says what a figure is worked out from.
type sum int

const (
	noSum   sum = iota
	over        // the end's time less the dial, either way round
	pkg         // the light and over: the package
	total       // the light and the end's time
	margin      // between the lanes at the stripe
	perfect     // the perfect light
)

// sum is what the label of one says, noSum of any other.
func (f field) sum() sum {
	if f.kind != worked {
		return noSum
	}
	return sum(f.mark)
}

// printedSum is a sum as a slip has it.
type printedSum struct {
	of     sum
	values []reading // that the figures behind its label may have
	lane   string    // under whose name it stands, "" where that is not told
}

// sumsOf are the sums of a text: the figures at their labels that no lane has.
func sumsOf(segs []segment, items []item, columns []*column) (all []printedSum) {
	used := map[int]bool{}
	for _, c := range columns {
		for _, id := range c.used {
			used[id] = true
		}
	}
	for _, g := range segs {
		of := g.f.sum()
		if of == noSum {
			continue
		}
		s := printedSum{of: of, lane: g.section}
		seen := map[int]bool{}
		take := func(it item) {
			if n, ok := numberOf(strings.Trim(it.text, "()")); it.of == word && ok && of == perfect {
				s.values = append(s.values, n.asSum()...) // REACTION (.500 PERFECT)
			}
			if it.of != numeral || it.weak || used[it.n.id] || seen[it.n.id] {
				return
			}
			seen[it.n.id] = true
			s.values = append(s.values, it.n.asSum()...)
		}
		for _, it := range items {
			if it.line == g.line {
				take(it)
			}
		}
		for _, it := range g.vals {
			take(it)
		}
		all = append(all, s)
	}
	return all
}

// asSum is the reading of a sum, none where its point is not told.
func (n number) asSum() []reading {
	if n.points() != 1 {
		return nil
	}
	return n.readings()
}

// is reports that a sum has a value, whichever way round.
func (r reading) is(v float64) bool {
	return math.Abs(math.Abs(v)-math.Abs(r.v)) < 0.6*math.Pow10(-r.decimals)
}

// part is a figure in a sum, with its sign there.
type part struct {
	lane int
	f    field
	by   float64
}

var atEnd = field{et, finish}

// partsOf are the ways in which a sum may be made for a lane; a margin, of both, is the first one's.
func (s sum) partsOf(lane, lanes int) [][]part {
	light, end := part{lane, field{reaction, noMark}, 1}, part{lane, atEnd, 1}
	at := func(k kind) part { return part{lane, field{k, noMark}, -1} }
	var ways [][]part
	switch s {
	case over:
		return [][]part{{end, at(dial)}, {end, at(index)}}
	case pkg:
		return [][]part{{light, end, at(dial)}, {light, end, at(index)}}
	case total:
		return [][]part{{light, end}}
	case margin:
		if lanes < 2 || lane > 0 {
			return nil
		}
		for _, one := range [][]part{{light, end, at(dial)}, {light, end, at(index)}, {end, at(dial)}, {light, end}} {
			way := slices.Clone(one)
			for _, p := range one {
				way = append(way, part{1, p.f, -p.by})
			}
			ways = append(ways, way)
		}
	}
	return ways
}

// figureAt is the figure of a part, nil where the slip has none.
func (sv *solver) figureAt(p part) *Figure {
	l := &sv.lanes[p.lane]
	end := l.lastMark()
	if p.f == atEnd && end < 2 {
		return nil
	}
	if f := l.figure(p.f.ending(end)); f.How != Absent {
		return f
	}
	return nil
}

// worth is what a sum's parts make, with its figures; false where one is not there.
func (sv *solver) worth(way []part) (v float64, figs []*Figure, ok bool) {
	if len(way) == 4 && way[1].f == atEnd && sv.figureAt(part{0, field{dial, noMark}, 0}) != nil {
		return 0, nil, false // where there are dials, no lane starts with the other
	}
	for _, p := range way {
		f := sv.figureAt(p)
		if f == nil {
			return 0, nil, false
		}
		v += p.by * f.Value
		figs = append(figs, f)
	}
	return v, figs, true
}

// perfects are the lights that a package may count from.
var perfects = []float64{0, 0.4, 0.5}

// weigh holds the lanes against the sums of the slip: what one bears out is sure, what one speaks
// against is in doubt.
func (sv *solver) weigh(sums []printedSum, columns []*column) {
	type made struct {
		of   sum
		lane int
	}
	borne, left := map[made]bool{}, make([]int, len(sums))
	each := func(do func(i, lane int, way []part)) {
		for i, s := range sums {
			for lane := range sv.lanes {
				for _, way := range s.of.partsOf(lane, len(sv.lanes)) {
					if s.lane == "" || s.lane == sv.lanes[lane].Side || s.of == margin {
						do(i, lane, way)
					}
				}
			}
		}
	}
	for i, s := range sums {
		left[i] = len(s.values)
	}
	each(func(i, lane int, way []part) {
		if at := (made{sums[i].of, lane}); !borne[at] && sv.bears(sums[i], way) {
			borne[at] = true
			left[i]--
		}
	})
	each(func(i, lane int, way []part) {
		whose := sums[i].lane != "" || sums[i].of == margin || len(sums[i].values) >= len(sv.lanes)
		if left[i] > 0 && whose && !borne[made{sums[i].of, lane}] {
			sv.against(sums[i], way, columns)
		}
	})
}

// bears reports that figures make a sum; they are then as printed.
func (sv *solver) bears(s printedSum, way []part) bool {
	v, figs, ok := sv.worth(way)
	if !ok {
		return false
	}
	doubtful := 0
	for i, f := range figs {
		if f.How != Doubtful {
			continue
		}
		if doubtful++; !sv.whole(way[i].f.kind, f.Value) {
			return false
		}
	}
	light := way[0].f.kind == reaction && s.of == pkg
	for _, r := range s.values {
		for _, p := range perfects {
			if !r.is(v-p) || p != 0 && !light {
				continue
			}
			for _, f := range figs {
				if f.borne = true; f.How == Doubtful && doubtful < 2 {
					f.How = Mended
				}
			}
			return true
		}
	}
	return false
}

// whole reports that a value has no more decimals than its like.
func (sv *solver) whole(k kind, v float64) bool {
	v *= math.Pow10(max(0, sv.decimals[k]))
	return math.Abs(v-math.Round(v)) < 1e-6
}

// against puts figures in doubt that do not make the sum that the slip has: of two both, of more
// those that would make it with one character read otherwise.
func (sv *solver) against(s printedSum, way []part, columns []*column) {
	v, figs, ok := sv.worth(way)
	if !ok || slices.ContainsFunc(figs, func(f *Figure) bool { return !f.sure() }) {
		return
	}
	if s.of == over {
		for _, f := range figs {
			f.doubt()
		}
		return
	}
	for i, f := range figs {
		c := columns[way[i].lane]
		at := way[i].f.ending(sv.lanes[way[i].lane].lastMark())
		for _, o := range sv.others(at, c.cells[at]) {
			sum := v + way[i].by*(o-f.Value)
			if slices.ContainsFunc(s.values, func(r reading) bool { return r.is(sum) }) {
				f.doubt()
			}
		}
	}
}

// doubt puts a figure in doubt that no sum bears out.
func (f *Figure) doubt() {
	if f.sure() && !f.borne {
		f.How = Doubtful
	}
}

// Reactions are seldom farther from the perfect light, s (common practice, no source).
const earlyS, lateS = -.15, .3

// lights puts reactions in doubt that no perfect light of a tree makes likely for all lanes.
func (sv *solver) lights(sums []printedSum) {
	trees := perfects
	for _, s := range sums {
		if s.of == perfect && len(s.values) == 1 && slices.Contains(perfects, s.values[0].v) {
			trees = []float64{s.values[0].v}
		}
	}
	least := len(sv.lanes) + 1
	var far []*Figure
	for _, p := range trees {
		var odd []*Figure
		for i := range sv.lanes {
			if f := &sv.lanes[i].Reaction; f.sure() && (f.Value < p+earlyS || f.Value > p+lateS) {
				odd = append(odd, f)
			}
		}
		if len(odd) < least {
			least, far = len(odd), odd
		}
	}
	for _, f := range far {
		f.doubt()
	}
}
