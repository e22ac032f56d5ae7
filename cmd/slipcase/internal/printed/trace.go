package printed

import (
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/typed"
)

// taken is a figure in its place.
type taken struct {
	i, to int // the items, none where the place is empty
	foul  bool
}

// trace follows the best way back: what each place holds, and before which place each item stands.
func (a *aligner) trace() (held []taken, before []int) {
	n, ps := len(a.items), len(a.plan.places)
	held, before = make([]taken, ps), make([]int, n)
	for i, p := n, ps; i > 0 || p > 0; {
		s := a.from[i][p]
		switch {
		case s.p < p && s.i < i:
			held[s.p] = taken{i: s.i, to: i, foul: a.items[s.i].of == label && a.items[s.i].f.kind == foul}
			for k := s.i; k < i; k++ {
				before[k] = -1
			}
		case s.i < i:
			before[s.i] = p
		}
		i, p = s.i, s.p
	}
	return held, before
}

// columns are the lanes as the best way has them; once it is settled, with what is unsure.
func (a *aligner) columns(sides []string, settled bool) []*column {
	held, before := a.trace()
	if settled {
		a.back()
	}
	all := make([]*column, a.plan.lanes)
	for lane := range all {
		all[lane] = newColumn(a.side(lane, before, sides))
	}
	if len(all) == 2 && all[0].side == all[1].side && (all[0].side != "" || a.plan.byLane) {
		all[0].side, all[1].side = "left", "right"
	}
	for i := range all {
		if was := all[len(all)-1-i]; len(all) == 2 && all[i].side == "" && was.side != "" {
			all[i].side = other(was.side)
		}
	}
	for p, h := range held {
		at := a.plan.places[p]
		c := all[at.lane]
		for k := h.i; k < h.to; k++ {
			c.used = append(c.used, a.items[k].n.id)
		}
		switch {
		case h.foul:
			c.foul = true
		case h.to == 0, at.f.kind == worked:
		case a.none(h.i, h.to, at.f):
			c.nones++
		case at.f.kind == car:
			c.car, _, _ = strings.Cut(a.text(h.i, h.to), ",")
		default:
			c.cells[at.f] = a.number(h.i, h.to)
			c.unsure[at.f] = settled && a.unsure(p, held, before)
		}
	}
	for i := range a.items {
		if p := before[i]; a.plan.byLane && a.items[i].of == sideName && p > 0 && p%a.plan.rowSize != 0 {
			for _, c := range all {
				c.car = "" // a lane's name stands amid its figures: the number may be the other's
			}
		}
	}
	if len(all) == 2 && !a.plan.byLane && (all[0].car == "") != (all[1].car == "") {
		all[0].car, all[1].car = "", "" // of one number in a row for two it is not told whose it is
	}
	return all
}

// side is the name of a lane.
func (a *aligner) side(lane int, before []int, sides []string) (name string) {
	if a.plan.lanes == 1 && len(sides) == 2 {
		return "" // which of them it is is not told
	}
	if !a.plan.byLane {
		if len(sides) == 2 {
			return sides[lane]
		}
		if a.namesLanes() {
			return "" // what is printed of them is not read
		}
		return []string{"left", "right"}[lane]
	}
	for i, it := range a.items {
		if it.of == sideName && before[i] == lane*a.plan.rowSize && (lane > 0 || i == 0 || !a.won(i)) {
			if name != "" && name != it.text && a.plan.lanes == 1 {
				return "" // both stand over it
			}
			name = it.text
		}
	}
	if name == "" && a.plan.lanes == 1 && len(sides) == 0 {
		for i, it := range a.items {
			if it.of == sideName && before[i] >= 0 && !a.won(i) {
				return it.text
			}
		}
	}
	return name
}

// namesLanes reports a row of the text for the names of the lanes.
func (a *aligner) namesLanes() bool {
	return slices.ContainsFunc(a.items, func(it item) bool { return it.of == label && it.f.kind == laneWord })
}

// won reports that the lane that an item names is the winner's.
func (a *aligner) won(i int) bool {
	for k := i - 1; k >= 0 && k > i-3; k-- {
		if a.items[k].of == label {
			return a.items[k].f.kind == winner
		}
	}
	return false
}

// unsure reports that it is not told whose, or of what, the figure in a place is.
func (a *aligner) unsure(p int, held []taken, before []int) bool {
	at, h := a.plan.places[p], held[p]
	labeled := a.labeled(p, at.f, before)
	if !at.f.timed() && (!labeled || a.loosely(h, before)) || a.behindOther(h.i) {
		return true
	}
	at1000 := at.f == field{speed, 3}
	if at.optional && (at.far || at1000) && !a.rightBehind(at, held, h.i) ||
		at.optional && at1000 && !a.speedAfter(at, held) {
		return true // the speed at 1000 ft is more likely the one at the end
	}
	if at.optional {
		s := a.solver
		r, _, _ := s.best(at.f, a.number(h.i, h.to), a.scales[at.lane])
		const near = 4 // two standard deviations
		if !(off(at.f, r.v, a.scales[at.lane]) < near) {
			return true
		}
	}
	return a.margin(p, held[p]) < clear || a.number(h.i, h.to).points() != 1 && a.alone(p, held)
}

// rightBehind reports that a speed stands right behind its time.
func (a *aligner) rightBehind(at place, held []taken, i int) bool {
	for q, other := range a.plan.places {
		if other.lane == at.lane && other.f == (field{et, at.f.mark}) {
			to := held[q].to
			for to > 0 && to < i && a.items[to].of == label && a.items[to].f.kind == unit {
				to++
			}
			return to > 0 && to == i
		}
	}
	return false
}

// speedAfter reports that the lane of a place has a speed at the last mark.
func (a *aligner) speedAfter(at place, held []taken) bool {
	for q, other := range a.plan.places {
		if other.lane == at.lane && other.f == (field{speed, Marks - 1}) {
			return held[q].to > 0
		}
	}
	return false
}

// alone reports that the other lane's figure of a row is lost: either may stand there.
func (a *aligner) alone(p int, held []taken) bool {
	at := a.plan.places[p]
	for q, other := range a.plan.places {
		if !a.plan.byLane && other.f == at.f && other.lane != at.lane && held[q].to == 0 {
			return true
		}
	}
	return false
}

// clear is by how much the best way must be better than any that reads a figure otherwise: nearly
// three standard deviations.
const clear = 2

// margin is by how much the best way is better than the best one that has another figure in a
// place, or none.
func (a *aligner) margin(p int, h taken) float64 {
	n := len(a.items)
	least := math.Inf(1)
	for i := range n + 1 {
		least = math.Min(least, a.cost[i][p]+a.empty(p)+a.rest[i][p+1])
		for to := i + 1; to <= min(n, i+mostPieces) && a.joins(i, to); to++ {
			if (i != h.i || to != h.to) && !math.IsInf(a.cost[i][p], 1) &&
				a.number(i, to).digits != a.number(h.i, h.to).digits {
				least = math.Min(least, a.cost[i][p]+a.put(i, to, p)+a.rest[to][p+1])
			}
		}
	}
	return least - a.cost[n][len(a.plan.places)]
}

// labeled reports that the label of a place stands where its plan has it.
func (a *aligner) labeled(p int, f field, before []int) bool {
	starts, by := a.plan.starts[f], 0
	if a.plan.style == after {
		by = 1
	}
	for i, c := range a.cues {
		if before[i] < 0 || c.f.ending(a.plan.end) != f || !slices.Contains(starts, before[i]) {
			continue
		}
		if !a.plan.byLane || a.plan.style == listed || before[i] == p+by {
			return true
		}
	}
	return false
}

// behindOther reports that an item stands right behind the label of a sum.
func (a *aligner) behindOther(i int) bool {
	if i == 0 || a.items[i-1].line != a.items[i].line {
		return false
	}
	of := a.items[i-1].f.sum()
	return of != noSum && of != perfect
}

// loosely reports that a figure may have more to it: a sign, or a digit, stands by it.
func (a *aligner) loosely(h taken, before []int) bool {
	k := h.i - 1
	if k < 0 || a.items[k].line != a.items[h.i].line || a.items[k].of != numeral {
		return false
	}
	return before[k] >= 0 || strings.HasSuffix(a.items[k].text, ".")
}

// unlike is how far a figure is from what a car that takes s for the quarter mile has there, in
// quarters of squared standard deviations; a car of which nothing is known where s is 0.
func (sv *solver) unlike(f field, n *numeric, s float64, end int) (by float64) {
	const most = worst / 4.
	by = math.Inf(1)
	for _, r := range n.all {
		c := 0.
		switch f.kind {
		case et, speed:
			if v := sv.asUS(f, r.v); s > 0 {
				c = off(f, v, s) / 4
			} else {
				c = anyCar(f, v)
			}
		case dial, index:
			c = sv.unlikeDial(r.v, s, end)
		case reaction:
			c = unlikeLight(r.v)
		}
		want := sv.decimals[f.kind]
		c = math.Min(c, most)
		if n.points() != 1 && (f.kind != reaction || r.decimals == want) {
			c += oddPoint + otherPoint*math.Abs(float64(r.decimals-want))
		} else if r.decimals != want {
			c += oddDecimals
		}
		by = math.Min(by, c)
	}
	if n.neg && f.kind != reaction {
		by += extraAside
	}
	return by
}

// anyCar is how unlike any car's figure one is.
func anyCar(f field, v float64) float64 {
	const usual, sd = 11, 0.25 // s, and as a share (common practice, no source)
	if !(v > 0) {
		return worst / 4.
	}
	of, _ := typed.UsualShare(markFt[f.mark])
	z := math.Log(v / of / usual)
	if f.kind == speed {
		z = math.Log(v * usual * of * 1320 / markFt[f.mark] / 1390)
	}
	return z * z / sd / sd / 4
}

// unlikeDial is how far a dial is from the end of the run.
func (sv *solver) unlikeDial(v, s float64, end int) float64 {
	const sd = 0.04 // of the run, as a share
	if !typed.HoldsDial(v) {
		return worst / 4.
	}
	if s == 0 {
		return 0
	}
	least := noFigure
	for _, m := range []int{end, Marks - 1} { // the last mark may have lost its name
		of, _ := typed.UsualShare(markFt[m])
		z := math.Log(v/s/of) / sd
		least = math.Min(least, z*z/4)
	}
	return least
}

// unlikeLight is how far a reaction is from a racer's.
func unlikeLight(v float64) float64 {
	switch {
	case v > -0.5 && v < 0.8:
		return 0
	case v > -1 && v < 2:
		return 2
	case v < 5 && v > -2:
		return 3
	}
	return worst / 4.
}
