package printed

import (
	"cmp"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

// solver reads the figures of lanes by each other.
type solver struct {
	kmh      bool // speeds are in km/h
	lanes    []Lane
	sums     []printedSum
	decimals map[kind]int // that most figures of a kind have, -1 where none tells
}

// readings are those of a figure, in s or mph.
func (sv *solver) readings(f field, n number) []reading {
	all := n.readings()
	for i := range all {
		all[i].v = sv.asUS(f, all[i].v)
	}
	return all
}

// asUS is a figure in s or mph.
func (sv *solver) asUS(f field, v float64) float64 {
	if f.kind == speed && sv.kmh {
		return math.Round(v/kmhOfMPH*1e4) / 1e4
	}
	return v
}

const kmhOfMPH = 1.609344

func (sv *solver) solve(columns []*column) {
	sv.countDecimals(columns)
	for _, c := range columns {
		sv.lanes = append(sv.lanes, sv.laneOf(c))
	}
	sv.weigh(sv.sums, columns)
	sv.bearOut(columns)
	sv.question(columns)
	sv.lights(sv.sums)
}

// guessDecimals finds how many decimals times have before it is known which figures they are.
func (sv *solver) guessDecimals(items []item) {
	counts := map[int]int{}
	for _, it := range items {
		if it.of == numeral && !it.n.nothing() {
			counts[it.n.decimals()]++
		}
	}
	d := 3
	if counts[4] > counts[3] {
		d = 4
	}
	sv.decimals = map[kind]int{reaction: d, et: d, speed: 2, dial: 2, index: 2}
}

// countDecimals finds how many decimals most figures of each kind have.
func (sv *solver) countDecimals(columns []*column) {
	counts := map[kind]map[int]int{}
	for _, c := range columns {
		for f, n := range c.cells {
			if d := n.decimals(); d >= 0 && !n.nothing() && !strings.HasSuffix(n.text, "|") {
				if counts[f.kind] == nil {
					counts[f.kind] = map[int]int{}
				}
				counts[f.kind][d]++
			}
		}
	}
	sv.decimals = map[kind]int{}
	for _, k := range []kind{reaction, et, speed, dial, index} {
		best := -1
		for d, n := range counts[k] {
			if best < 0 || n > counts[k][best] || n == counts[k][best] && d > best {
				best = d
			}
		}
		sv.decimals[k] = best
	}
	// Lights are timed as runs are, speeds printed to hundredths and dials too, unless two
	// figures say otherwise: of one alone a digit may be gone.
	if d := sv.decimals[et]; d > 0 && sv.decimals[reaction] > d && counts[reaction][sv.decimals[reaction]] < 2 {
		sv.decimals[reaction] = d
	}
	for k, least := range map[kind]int{reaction: sv.decimals[et], speed: 2, dial: 2, index: 2} {
		if d := sv.decimals[k]; d < least && counts[k][d] < 2 || k == dial {
			sv.decimals[k] = max(d, least)
		}
	}
}

const (
	worst   = 25  // the most that one figure costs
	fitting = 16  // four standard deviations
	pullSD  = 0.1 // of ET x MPH, as a share
	atPoint = 0.5 // a point in another place than its like have it, a decimal
)

// off is how far a value at a mark is from the usual of a car that takes s for the quarter
// mile, squared in standard deviations.
func off(f field, v, s float64) float64 {
	if !(v > 0) {
		return math.Inf(1)
	}
	ft := markFt[f.mark]
	of, sd := typed.UsualShare(ft)
	z := (math.Log(v/of) - math.Log(s)) / sd
	if f.kind == speed {
		z = math.Log(v*s*of*1320/ft/logbook.UsualPull) / pullSD
	}
	return z * z
}

// best is the reading of a figure nearest to the usual, and what it costs; next is what the
// next one does.
func (sv *solver) best(f field, n number, s float64) (r reading, cost, next float64) {
	cost, next = math.Inf(1), math.Inf(1)
	for _, o := range sv.readings(f, n) {
		c := math.Min(off(f, o.v, s), worst)
		if n.points() != 1 && sv.decimals[f.kind] >= 0 {
			c += atPoint * math.Abs(float64(o.decimals-sv.decimals[f.kind]))
		}
		if c < cost {
			r, cost, next = o, c, cost
		} else if c < next {
			next = c
		}
	}
	return r, cost, next
}

func (f field) timed() bool { return (f.kind == et || f.kind == speed) && f.mark != finish }

// scale is the time for the quarter mile that most figures of a lane bear out.
func (sv *solver) scale(c *column) (s, cost float64) {
	cost = math.Inf(1)
	for f, n := range c.cells {
		if !f.timed() {
			continue
		}
		of, _ := typed.UsualShare(markFt[f.mark])
		for _, r := range sv.readings(f, n) {
			from := r.v / of
			if f.kind == speed {
				from = logbook.UsualPull * markFt[f.mark] / 1320 / r.v / of
			}
			if !typed.Holds(1320, from) {
				continue
			}
			total := 0.
			for g, m := range c.cells {
				if g.timed() {
					_, each, _ := sv.best(g, m, from)
					total += each
				}
			}
			if total < cost {
				s, cost = from, total
			}
		}
	}
	return s, cost
}

// laneOf reads the figures of a lane.
func (sv *solver) laneOf(c *column) Lane {
	l := Lane{Side: c.side, Car: c.car, Foul: c.foul}
	switch {
	case c.won && !c.lost:
		l.Result = "won"
	case c.lost && !c.won:
		l.Result = "lost"
	}
	s, _ := sv.scale(c)
	end, fit := 0., 0
	for m := range Marks {
		for _, f := range []field{{et, m}, {speed, m}} {
			if n, there := c.cells[f]; there {
				fig, fits := sv.timed(c, f, n, s)
				if fits {
					fit++
				}
				if f.kind == et {
					l.ETs[m], end = fig, fig.Value
				} else {
					l.MPHs[m] = fig
				}
			}
		}
	}
	const fewest = 3 // figures that hang together
	if fit < fewest {
		for m := range Marks {
			l.ETs[m].lone()
			l.MPHs[m].lone()
		}
	}
	l.grow()
	l.Reaction = sv.light(c)
	l.Dial, l.Index = sv.dialed(c, dial, end), sv.dialed(c, index, end)
	return l
}

// lone puts a figure in doubt that was mended, where too few others bear it out.
func (f *Figure) lone() {
	if f.How == Mended {
		f.How = Doubtful
	}
}

// timed reads a time or a speed.
func (sv *solver) timed(c *column, f field, n number, s float64) (fig Figure, fits bool) {
	r, _, next := sv.best(f, n, s)
	z := off(f, r.v, s)
	fits = z < fitting && (n.points() == 1 || z < fitting/4)
	clean := n.points() == 1 && !n.mended
	// A lift or a broken part makes late figures slower, never quicker.
	of, _ := typed.UsualShare(markFt[f.mark])
	slower := f.holds(r.v) && (f.kind == et && f.mark > 0 && r.v > s*of ||
		f.kind == speed && r.v*s*of*1320/markFt[f.mark] < logbook.UsualPull)
	fig = Figure{Value: r.v, Text: n.text, How: Mended}
	const apart = 3
	switch want := sv.decimals[f.kind]; {
	case n.neg, c.unsure[f], !fits && !(clean && slower), want >= 0 && r.decimals != want, want < 0 && !clean,
		n.points() != 1 && next-math.Min(z, worst) < apart:
		fig.How = Doubtful
	case clean:
		fig.How = Plain
	}
	return fig, fits
}

// grow puts times in doubt that do not grow with the distance: two beside each other, and two
// that are sure, whatever stands between them.
func (l *Lane) grow() {
	was := l.ETs
	for m := range Marks {
		beside := true
		for k := m - 1; k >= 0 && was[m].How != Absent; k-- {
			if was[k].How == Absent {
				continue
			}
			sure := was[m].How != Doubtful && was[k].How != Doubtful
			if (beside || sure) && was[m].Value <= was[k].Value {
				l.ETs[m].How, l.ETs[k].How = Doubtful, Doubtful
				l.moved = true
			}
			beside = false
		}
	}
}

// light reads a reaction.
func (sv *solver) light(c *column) (fig Figure) {
	f := field{reaction, noMark}
	n, there := c.cells[f]
	if !there {
		return fig
	}
	want := sv.decimals[reaction]
	fig = Figure{Text: n.text, How: Doubtful}
	for _, r := range n.readings() {
		if n.points() != 1 && r.decimals != want {
			continue
		}
		fig.Value = r.v
		if !c.unsure[f] && f.holds(r.v) && r.decimals == want {
			fig.How = howRead(r)
		}
	}
	return fig
}

func howRead(r reading) How {
	if r.mended {
		return Mended
	}
	return Plain
}

// dialed reads a dial or an index, which is near to the end of the run.
func (sv *solver) dialed(c *column, k kind, end float64) (fig Figure) {
	f := field{k, noMark}
	n, there := c.cells[f]
	if !there {
		return fig
	}
	const near = 0.2 // of the run, as a share
	best := math.Inf(1)
	for _, r := range n.readings() {
		if !(r.v > 0) {
			continue
		}
		apart := math.Abs(math.Log(r.v / cmp.Or(end, r.v)))
		if n.points() != 1 {
			apart += math.Abs(float64(r.decimals - sv.decimals[k]))
		}
		if apart < best {
			best = apart
			fig = Figure{Value: r.v, Text: n.text, How: howRead(r)}
			if c.unsure[f] || r.decimals != sv.decimals[k] || !f.holds(r.v) ||
				r.mended && (end == 0 || math.Abs(math.Log(r.v/end)) > near) {
				fig.How = Doubtful
			}
		}
	}
	return fig
}
