package printed

import (
	"math"
	"slices"
	"strings"
)

// What it costs that a text is other than its plan has it, in the measure of a quarter of the
// square of standard deviations; set by what misread texts look like (no source).
const (
	noFigure    = 3.0 // a place is empty
	noOption    = 0.2 // one that no label tells is
	noLabel     = 1.0 // a figure in a place that no label tells
	noName      = 3.0 // one whose distance none tells
	astray      = 4.0 // a label stands elsewhere
	astrayLike  = 2.0 // one that is much like a label does
	extra       = 4.0 // a figure has no place
	extraWhole  = 1.5 // a whole number has none
	extraLong   = 2.5 // one that may have lost its point has none
	extraAside  = 0.5 // a figure behind a label that is none of a run's, or a stray mark
	extraGap    = 1.5 // a sign that there is no figure has none
	awry        = 0.5 // a label begins a line where it should end one, or stand amid it
	joined      = 1.0 // a figure has a gap
	cut         = 2.0 // two figures have none between them
	apartSide   = 5.0 // a lane's name stands amid the figures of one
	otherPoint  = 0.5 // a point is elsewhere, a decimal
	oddPoint    = 0.3 // there is none, or more than one
	oddDecimals = 3.0 // a figure has other decimals than its like
	mostPieces  = 4   // of a figure
)

// aligner lays the items of a text along a plan.
type aligner struct {
	items  []item
	cues   map[int]cue
	aside  []bool // behind a label that is none of a run's
	begins []bool // a label begins a line of figures
	ends   []bool // a label ends one
	plan   *plan
	solver *solver
	scales []float64 // of the lanes, 0 where not known yet
	cost   [][]float64
	rest   [][]float64
	from   [][]step
	puts   []float64 // what put costs, NaN where it is not known yet
	nums   []numeric
}

// numeric is the number that some items make, with its readings.
type numeric struct {
	number
	all  []reading
	made bool
}

// step is how a state was come to: from an item and a place.
type step struct{ i, p int }

func newAligner(items []item, cues map[int]cue) *aligner {
	n := len(items)
	a := &aligner{items: items, cues: cues, nums: make([]numeric, n*mostPieces)}
	a.aside, a.begins, a.ends = make([]bool, n), make([]bool, n), make([]bool, n)
	figure := func(i, line int) bool {
		return i >= 0 && i < n && items[i].line == line && (items[i].of == numeral || items[i].of == gap)
	}
	aside := true
	for i, it := range items {
		if it.of == label && it.f.kind != unit {
			aside = !it.f.measured() && it.f.kind != car
		}
		if it.of == sideName {
			aside = false
		}
		before, behind := i > 0 && items[i-1].line == it.line, i+1 < n && items[i+1].line == it.line
		a.begins[i] = it.of == label && !before && figure(i+1, it.line)
		a.ends[i] = it.of == label && !behind && figure(i-1, it.line)
		a.aside[i] = aside
	}
	return a
}

// mostItems are more figures, labels and names than any slip has.
const mostItems = 400

// telling are the items that can be of a lane, without mere words.
func telling(items []item) (out []item) {
	for _, it := range items {
		if it.of != word || strings.ContainsAny(it.text, "0123456789@") {
			out = append(out, it)
		}
	}
	return out
}

// number is the figure that some items make.
func (a *aligner) number(i, to int) number { return a.numeric(i, to).number }

func (a *aligner) numeric(i, to int) *numeric {
	f := &a.nums[i*mostPieces+to-i-1]
	if f.made {
		return f
	}
	var text strings.Builder
	gap, mended := false, false
	for k := i; k < to; k++ {
		text.WriteString(a.items[k].text)
		gap = gap || k > i && !a.items[k].glued
		mended = mended || a.items[k].n.mended
	}
	n, ok := numberOf(text.String())
	if !ok {
		n.digits = ""
	}
	n.mended = n.mended || gap || mended
	*f = numeric{n, n.readings(), true}
	return f
}

// run lays the text along a plan and says what it costs.
func (a *aligner) run() float64 {
	n, ps := len(a.items), len(a.plan.places)
	a.cost, a.from = make([][]float64, n+1), make([][]step, n+1)
	for i := range a.cost {
		a.cost[i], a.from[i] = make([]float64, ps+1), make([]step, ps+1)
		for p := range a.cost[i] {
			a.cost[i][p] = math.Inf(1)
		}
	}
	a.cost[0][0] = 0
	for i := 0; i <= n; i++ {
		for p := 0; p <= ps; p++ {
			if p < ps {
				a.reach(i, p, i, p+1, a.empty(p))
			}
			if i == n {
				continue
			}
			a.reach(i, p, i+1, p, a.pass(i, p))
			for to := i + 1; p < ps && to <= min(n, i+mostPieces) && a.joins(i, to); to++ {
				a.reach(i, p, to, p+1, a.put(i, to, p))
			}
		}
	}
	return a.cost[n][ps]
}

// back finds what the text costs from each state on.
func (a *aligner) back() {
	n, ps := len(a.items), len(a.plan.places)
	a.rest = make([][]float64, n+1)
	for i := n; i >= 0; i-- {
		a.rest[i] = make([]float64, ps+1)
		for p := ps; p >= 0; p-- {
			if i == n && p == ps {
				continue
			}
			least := math.Inf(1)
			if p < ps {
				least = a.empty(p) + a.rest[i][p+1]
			}
			if i < n {
				least = math.Min(least, a.pass(i, p)+a.rest[i+1][p])
			}
			for to := i + 1; i < n && p < ps && to <= min(n, i+mostPieces) && a.joins(i, to); to++ {
				least = math.Min(least, a.put(i, to, p)+a.rest[to][p+1])
			}
			a.rest[i][p] = least
		}
	}
}

// settle lays the text along a plan until the lanes' times no longer change.
func (a *aligner) settle(p *plan, sides []string) (way laid) {
	const rounds = 3
	a.plan, a.scales = p, nil
	a.puts = make([]float64, len(a.items)*mostPieces*len(p.places))
	a.solver = &solver{kmh: p.kmh}
	a.solver.guessDecimals(a.items)
	for range rounds {
		for i := range a.puts {
			a.puts[i] = math.NaN()
		}
		way.cost = a.run()
		was := a.scales
		if a.scales = slices.Clone(was); was == nil {
			a.scales = make([]float64, p.lanes)
		}
		for lane, c := range a.columns(sides, false) {
			if s, _ := a.solver.scale(c); s > 0 {
				a.scales[lane] = s
			}
		}
		if slices.Equal(was, a.scales) {
			break // it would be laid as it is
		}
	}
	way.columns, way.plan = a.columns(sides, true), p
	return way
}

func (a *aligner) reach(i, p, toI, toP int, by float64) {
	if c := a.cost[i][p] + by; c < a.cost[toI][toP] {
		a.cost[toI][toP], a.from[toI][toP] = c, step{i, p}
	}
}

// joins reports that items up to one can be one figure.
func (a *aligner) joins(i, to int) bool {
	return a.items[to-1].line == a.items[i].line
}

func (a *aligner) empty(p int) float64 {
	switch at := a.plan.places[p]; {
	case at.f.kind == worked:
		return 0
	case at.optional:
		return noOption
	case at.f.kind == car:
		return noLabel
	}
	return noFigure
}

// pass is what it costs that an item is no figure of a place.
func (a *aligner) pass(i, p int) float64 {
	switch it := a.items[i]; it.of {
	case label:
		switch c, is := a.cues[i]; {
		case !is:
			return 0
		case !a.plan.knows(c), a.plan.fits(c, p):
			if a.begins[i] && (a.plan.style == midst || a.plan.style == after) || a.ends[i] && a.plan.style == ahead {
				return awry
			}
			return 0
		case it.like || it.n.digits != "":
			return astrayLike
		}
		return astray
	case sideName:
		if a.plan.byLane && p%a.plan.rowSize != 0 {
			return apartSide
		}
	case word:
		if digits := strings.Trim(it.text, "0123456789"); len(it.text)-len(digits) > 2 && !a.aside[i] {
			return extraWhole // the number of a car
		}
	case gap:
		return extraGap
	case numeral:
		switch {
		case it.weak:
			return 0
		case a.aside[i] && it.n.whole(), len(it.n.digits) < 2:
			return extraAside
		case a.aside[i], it.n.whole() && len(it.n.digits) < 3:
			return extraWhole
		case it.n.whole():
			return extraLong
		}
		return extra
	}
	return 0
}

// put is what it costs that items are the figure of a place.
func (a *aligner) put(i, to, p int) float64 {
	cost := &a.puts[(p*len(a.items)+i)*mostPieces+to-i-1]
	if math.IsNaN(*cost) {
		*cost = a.costOf(i, to, p)
	}
	return *cost
}

func (a *aligner) costOf(i, to, p int) float64 {
	at := &a.plan.places[p]
	if at.f.kind == worked {
		if to == i+1 && a.items[i].of == numeral {
			return 0
		}
		return math.Inf(1)
	}
	by := 0.
	if at.optional ||
		a.plan.style == apiece && (i == 0 || a.cues[i-1].f.ending(a.plan.end) != at.f && !a.cues[i-1].loose) {
		by = noLabel
	}
	if at.optional && at.far {
		by = noName
	} else if at.behind && i > 0 && (a.items[i-1].of == numeral || a.items[i-1].text == "@") {
		by = 0
	}
	if a.none(i, to, at.f) || to == i+1 && at.f.kind == reaction && a.items[i].n.nothing() {
		return by
	}
	if a.behindOther(i) {
		by += astray
	}
	if at.f.kind == car {
		return by + a.named(i, to)
	}
	if at.f.kind == reaction && to == i+1 && a.items[i].of == label && a.items[i].f.kind == foul {
		if i > 0 && a.cues[i-1].f.kind == reaction {
			return 0
		}
		return noLabel
	}
	for k := i; k < to; k++ {
		switch it := &a.items[k]; {
		case it.of == label && it.n.digits != "":
			by += oddDecimals
		case it.of != numeral && !(it.of == sideName && it.n.digits != ""):
			return math.Inf(1)
		}
		if k > i && !a.items[k].glued {
			by += joined
		}
	}
	if a.items[i].glued {
		by += cut
	}
	n := a.numeric(i, to)
	if n.digits == "" || n.points() > 3 || to-i > 1 && n.points() == 0 && a.items[i].of == label {
		return math.Inf(1)
	}
	s := 0.
	if a.scales != nil {
		s = a.scales[at.lane]
	}
	return by + a.solver.unlike(at.f, n, s, a.plan.end)
}

// none reports that an item says that there is no figure in its place: -.---, or 0.000 for a time.
func (a *aligner) none(i, to int, f field) bool {
	if to != i+1 {
		return false
	}
	it := &a.items[i]
	return it.of == gap || it.of == numeral && f.kind != reaction && f.kind != worked && it.n.nothing()
}

// named is what it costs that items are the number of a car.
func (a *aligner) named(i, to int) float64 {
	by := 0.
	for k := i; k < to; k++ {
		it := &a.items[k]
		if it.of == sideName || it.of == label && it.n.digits == "" || it.of == numeral && !it.n.whole() {
			return math.Inf(1)
		}
		if k > i {
			by += joined
		}
	}
	if a.aside[i] {
		by += noLabel
	}
	if !strings.ContainsAny(a.text(i, to), "0123456789") {
		return math.Inf(1)
	}
	return by
}

func (a *aligner) text(i, to int) string {
	var text strings.Builder
	for k := i; k < to; k++ {
		text.WriteString(a.items[k].text)
	}
	return text.String()
}
