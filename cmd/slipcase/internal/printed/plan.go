package printed

import "slices"

// style says where labels stand by their figures.
type style int

const (
	ahead   style = iota // a label, then its figures
	midst                // a label between the lanes' figures
	apiece               // a label before each lane's figure
	listed               // all labels, then the figures
	after                // the lanes' figures, then their label
	stylesN              // so many
)

// place is where a figure of a lane is printed; of an optional one no label tells.
type place struct {
	lane     int
	f        field
	optional bool
	far      bool // nor is its distance named, or one behind it
	behind   bool // a speed right behind its time
}

// plan is an order in which a slip's figures can be printed.
type plan struct {
	style   style
	lanes   int
	byLane  bool // one lane after the other
	end     int  // the mark of a time that is called only the ET
	kmh     bool
	places  []place
	starts  map[field][]int // the places before which a label may stand
	rowSize int
}

// cue is a label in the text with what it tells, as far as the labels around it say.
type cue struct {
	f     field
	loose bool // a speed without a mark
}

// cuesOf joins labels that stand together: 660 mph, 1/8 ET, MPH 660. In a row of labels the mark
// before a speed may be a time's own: apart takes it so.
func cuesOf(items []item, apart bool) map[int]cue {
	cues := map[int]cue{}
	last, mark := -1, finish
	seen, apartSpeeds := map[field]bool{}, false // a block of speeds follows
	for i, it := range items {
		switch {
		case it.of != label:
			if it.of != word || it.text != "@" {
				last = -1
			}
			continue
		case it.f.kind == unit:
			continue
		}
		c := cue{f: it.f}
		if it.f.kind == et && it.f.mark >= 2 && seen[it.f] && heads(items, cues, i) {
			delete(cues, last)
			apartSpeeds = true
		}
		if apartSpeeds = apartSpeeds && it.f.kind == et; apartSpeeds {
			c.f.kind = speed
		}
		was, beside := cue{}, last >= 0 && items[last].line == it.line
		if beside {
			was = cues[last]
		}
		switch {
		case beside && it.f.kind == speed && was.f.kind == et && was.f.mark != finish && !(apart && listedOn(items, i)):
			delete(cues, last)
			c.f = field{speed, was.f.mark}
		case beside && it.f == field{et, finish} && was.f.kind == et:
			delete(cues, last)
			c.f = was.f
		case beside && it.f.kind == et && (was.f == field{et, finish}):
			delete(cues, last)
		case beside && it.f.kind == et && was.f.kind == speed && was.loose && !listedOn(items, i):
			delete(cues, last)
			c.f = field{speed, it.f.mark}
		case it.f.kind == speed && i > 0 && items[i-1].of == numeral && items[i-1].line == it.line &&
			!(i+1 < len(items) && items[i+1].of == numeral && items[i+1].line == it.line):
			continue // the unit of the figure before it
		case it.f.kind == speed:
			c = cue{field{speed, mark}, true}
		}
		if c.f.kind == et {
			mark = c.f.mark
			seen[c.f] = true
		}
		cues[i], last = c, i
	}
	if orderOf(items, cues).speedFirst {
		for i := len(items) - 1; i >= 0; i-- {
			switch c, is := cues[i]; {
			case is && c.f.kind == et:
				mark = c.f.mark
			case is && c.loose:
				cues[i] = cue{field{speed, mark}, true}
			}
		}
	}
	return cues
}

// heads reports that right before a label one of speeds stands, over a block of them.
func heads(items []item, cues map[int]cue, i int) bool {
	for k := i - 1; k >= 0; k-- {
		if c, is := cues[k]; is {
			return c.loose && items[k].line != items[i].line
		}
		if items[k].of != word {
			return false
		}
	}
	return false
}

// listedOn reports that more than two labels stand on the line of one.
func listedOn(items []item, at int) bool {
	n := 0
	for i := max(0, at-20); i < min(len(items), at+20); i++ {
		if items[i].line == items[at].line && items[i].of == label && items[i].f.measured() {
			n++
		}
	}
	return n > 2
}

// rowsOf is the order of the figures of a lane, by its labels; times and speeds rise.
func rowsOf(items []item, cues map[int]cue, end int) (rows []place) {
	at := map[field]int{}
	told := map[field]bool{}
	firstTime, farthest := len(items), 2
	for i := range items {
		c, is := cues[i]
		if !is {
			continue
		}
		if c.f = c.f.ending(end); c.f.timed() {
			// A speed is seldom printed at 1000 ft: its distance may have lost its name.
			told[c.f] = told[c.f] || !c.loose || c.f.mark != 3 || sameLine(items, cues, i)
			farthest = max(farthest, c.f.mark)
			if c.loose && c.f.mark == 3 {
				farthest = Marks - 1
			}
			if c.f.mark < 2 {
				firstTime = min(firstTime, i)
			}
		}
		if _, seen := at[c.f]; !seen || firstTime == len(items) {
			at[c.f] = i
		}
	}
	var late []place
	for i := range items {
		c, is := cues[i]
		if !is || at[c.f] != i || c.f.kind == et || c.f.kind == speed || !c.f.measured() && c.f.kind != car {
			continue
		}
		if i < firstTime {
			rows = append(rows, place{f: c.f})
		} else {
			late = append(late, place{f: c.f})
		}
	}
	o := orderOf(items, cues)
	var speeds []place
	for k := range Marks {
		m := k
		if o.falling {
			m = Marks - 1 - k
		}
		named := told[field{et, m}] || told[field{speed, m}]
		here := []place{{f: field{et, m}, optional: !told[field{et, m}], far: m > farthest}}
		if m >= 2 {
			here = append(here, place{f: field{speed, m}, optional: !told[field{speed, m}], far: !named})
		}
		switch {
		case o.speedsLast && m >= 2:
			here, speeds = here[:1], append(speeds, here[1])
		case o.speedFirst:
			slices.Reverse(here)
		}
		rows = append(rows, here...)
	}
	return slices.Concat(rows, speeds, late)
}

// sameLine reports that the label before one stands on its line, a time's.
func sameLine(items []item, cues map[int]cue, i int) bool {
	for k := i - 1; k >= 0 && items[k].line == items[i].line; k-- {
		if c, is := cues[k]; is {
			return c.f.kind == et
		}
	}
	return false
}

// order is in which order a lane's times and speeds are printed.
type order struct {
	falling    bool // from the finish back
	speedFirst bool // each speed before its time
	speedsLast bool // all speeds behind the times
}

// orderOf tells it by the labels.
func orderOf(items []item, cues map[int]cue) (o order) {
	var all []cue
	for i := range items {
		if c, is := cues[i]; is && (c.f.kind == et || c.f.kind == speed) {
			all = append(all, c)
		}
	}
	falls, last, parted := 0, noMark, 0
	for i, c := range all {
		switch {
		case c.f.kind == et:
			if last != noMark && c.f.mark != last {
				falls += 2*b2i(c.f.mark < last) - 1
			}
			last = c.f.mark
		case !c.loose:
			parted++
		}
		if i > 0 && c.f.kind == et && all[i-1].f.kind == speed {
			parted = -len(all)
		}
	}
	if len(all) > 0 {
		first, end := all[0].f.kind, all[len(all)-1].f.kind
		o = order{falls > 0, first == speed && end == et, first == et && parted > 1}
	}
	return o
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// ending puts a mark in for the end of the run.
func (f field) ending(end int) field {
	if f.mark == finish {
		f.mark = end
	}
	return f
}

// plansOf are the orders that are tried.
func plansOf(w *written, items []item, cues map[int]cue) (all []*plan) {
	open, farthest := endsOf(cues)
	aside := asideColumn(items)
	ends := []int{max(2, farthest)}
	if open {
		ends = nil
		for m := max(2, farthest+1); m < Marks; m++ {
			ends = append(ends, m)
		}
		if len(ends) == 0 {
			ends = []int{Marks - 1}
		}
	}
	for _, end := range ends {
		rows := rowsOf(items, cues, end)
		for _, kmh := range []bool{false, true} {
			if kmh && w.mph && !w.kmh || !kmh && w.kmh && !w.mph {
				continue
			}
			for s := range stylesN {
				if s == after && !behindFigures(items) {
					continue
				}
				if s == ahead || s == listed || s == after {
					all = append(all, newPlan(rows, s, 1, true, end, kmh), newPlan(rows, s, 2, true, end, kmh))
				}
				if s != listed {
					all = append(
						all,
						newPlan(rows, s, 2, false, end, kmh),
						newPlan(paired(rows), s, 2, false, end, kmh),
					)
				}
				if aside && (s == ahead || s == after) {
					all = append(all, newPlan(rows, s, 2, false, end, kmh).withAside())
				}
			}
		}
	}
	return all
}

// behindFigures reports more lines that end in a label behind their figures than begin with one.
func behindFigures(items []item) bool {
	n := 0
	for i, it := range items {
		begins := i == 0 || items[i-1].line != it.line
		ends := i+1 == len(items) || items[i+1].line != it.line
		switch {
		case it.of != label || !it.f.measured() || begins == ends:
		case begins:
			n--
		default:
			n++
		}
	}
	return n > 0
}

// asideColumn reports a third column beside the lanes: what stands there is worked out from them.
func asideColumn(items []item) bool {
	for i := 2; i < len(items); i++ {
		if it := items[i]; it.of == label && it.f.sum() != noSum && items[i-1].of == sideName &&
			items[i-2].of == sideName && items[i-2].line == it.line {
			return true
		}
	}
	return false
}

// withAside has a third figure behind those of the lanes.
func (p *plan) withAside() *plan {
	out := *p
	out.places, out.starts = nil, map[field][]int{}
	moved := make([]int, len(p.places)+1)
	for i, at := range p.places {
		moved[i] = len(out.places)
		out.places = append(out.places, at)
		if at.lane == p.lanes-1 {
			out.places = append(out.places, place{f: field{worked, noMark}})
		}
	}
	moved[len(p.places)] = len(out.places)
	for f, all := range p.starts {
		for _, at := range all {
			out.starts[f] = append(out.starts[f], moved[at])
		}
	}
	return &out
}

// endsOf reports a time that is called only the ET, and the farthest mark that is named.
func endsOf(cues map[int]cue) (open bool, farthest int) {
	for _, c := range cues {
		if c.f.kind == et && c.f.mark == finish {
			open = true
		} else if c.f.kind == et {
			farthest = max(farthest, c.f.mark)
		}
	}
	return open, farthest
}

// together marks a speed that is printed with its time.
const together = 100

// paired lets each speed stand by its time: lane for lane, not time for time.
func paired(rows []place) []place {
	out := slices.Clone(rows)
	for i := range out {
		if out[i].f.kind == speed {
			out[i].lane = together
		}
	}
	return out
}

func newPlan(rows []place, s style, lanes int, byLane bool, end int, kmh bool) *plan {
	p := &plan{
		style:   s,
		lanes:   lanes,
		byLane:  byLane,
		end:     end,
		kmh:     kmh,
		starts:  map[field][]int{},
		rowSize: len(rows),
	}
	add := func(lane int, r place) {
		p.places = append(p.places, place{lane, r.f, r.optional, r.far, r.lane == together})
	}
	starts := func(group []place) {
		n := len(p.places)
		end := n + len(group)*lanes
		if byLane {
			end = n + len(group)
		}
		at := map[style][]int{
			ahead: {n}, midst: {n + len(group)}, apiece: {n, n + len(group)}, listed: {0}, after: {end},
		}[s]
		for _, r := range group {
			p.starts[r.f] = append(p.starts[r.f], at...)
		}
	}
	for lane := 0; byLane && lane < lanes; lane++ {
		for i := range rows {
			starts(rows[i : i+1])
			add(lane, rows[i])
		}
	}
	for i := 0; !byLane && i < len(rows); {
		n := 1
		for i+n < len(rows) && rows[i+n].lane == together {
			n++
		}
		starts(rows[i : i+n])
		for lane := range lanes {
			for _, r := range rows[i : i+n] {
				add(lane, r)
			}
		}
		i += n
	}
	return p
}

// fits reports that a label may stand before a place.
func (p *plan) fits(c cue, at int) bool {
	if !c.loose {
		return slices.Contains(p.starts[c.f.ending(p.end)], at)
	}
	for m := 2; m < Marks; m++ {
		if slices.Contains(p.starts[field{speed, m}], at) {
			return true
		}
	}
	return false
}

// knows reports that the plan has a place for what a label says.
func (p *plan) knows(c cue) bool { return c.loose || len(p.starts[c.f.ending(p.end)]) > 0 }
