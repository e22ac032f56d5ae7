package printed

import (
	"math"
	"strconv"
	"strings"
)

// mistaken are the digits that a phone takes for each other; a letter stands for any of its.
var mistaken = map[byte]string{
	'0': "869", '1': "74", '2': "7", '3': "85", '4': "91", '5': "638", '6': "580", '7': "12", '8': "3069", '9': "408",
}

// others are the values that a figure may have been printed with, if one character of it was
// misread, lost or added.
func (sv *solver) others(f field, n number) (all []float64) {
	seen := map[string]bool{n.digits: true}
	add := func(digits string) {
		if seen[digits] {
			return
		}
		seen[digits] = true
		as := n
		as.digits = digits
		for _, r := range sv.readings(f, as) {
			if as.points() == 1 || r.decimals == sv.decimals[f.kind] {
				all = append(all, r.v)
			}
		}
	}
	d := n.digits
	for i := range len(d) {
		if d[i] == '.' {
			bare := d[:i] + d[i+1:]
			for _, at := range []int{i - 1, i + 1} {
				if at >= 0 && at <= len(bare) {
					add(bare[:at] + "." + bare[at:])
				}
			}
			continue
		}
		for _, c := range mistaken[d[i]] {
			add(d[:i] + string(c) + d[i+1:])
		}
	}
	add("1" + d)
	return all
}

// held is a figure of a lane with its field.
type held struct {
	f   field
	fig *Figure
}

// at is where a shape has a field.
func (p *shape) at(f field) *float64 {
	switch f.kind {
	case et:
		return &p.et[f.mark]
	case speed:
		return &p.mph[f.mark]
	case dial:
		return &p.dial
	case index:
		return &p.index
	}
	return nil
}

// figures are the times and speeds of a lane, its dial and its index with their fields.
func (l *Lane) figures() (all []held) {
	add := func(f field) { all = append(all, held{f, l.figure(f)}) }
	for m := range Marks {
		add(field{et, m})
		add(field{speed, m})
	}
	add(field{dial, noMark})
	add(field{index, noMark})
	return all
}

// figure is that of a field of a lane, nil where it has no such field.
func (l *Lane) figure(f field) *Figure {
	switch f.kind {
	case et:
		return &l.ETs[f.mark]
	case speed:
		return &l.MPHs[f.mark]
	case dial:
		return &l.Dial
	case index:
		return &l.Index
	case reaction:
		return &l.Reaction
	}
	return nil
}

// sure reports a figure that is recorded unasked.
func (f *Figure) sure() bool { return f.How == Plain || f.How == Mended }

// shape is the run that the sure figures of a lane make.
func (l *Lane) shape() (p shape) {
	for _, b := range l.figures() {
		if b.fig.sure() {
			*p.at(b.f) = b.fig.Value
		}
	}
	return p
}

const (
	tells    = 12. // so much better must the others bear out another reading for a figure to be in doubt
	tellsToo = 8.  // and one that comes so near to the best
)

// lonely is how much more it takes where no other reading mends a figure: less where figures may have
// moved, and of a dial, which only the end bears out.
func (l *Lane) lonely(f field) float64 {
	switch {
	case l.moved:
		return 0
	case !f.timed():
		return 10
	}
	return 18
}

// question puts figures in doubt that the others of the run bear out much better if one character
// of them was misread, or if they stand in the other lane's place.
func (sv *solver) question(columns []*column) {
	for sv.questionOnce(columns) {
	}
	for i := range sv.lanes {
		sv.lanes[i].astray()
	}
}

// bearOut makes figures sure that only their place put in doubt, where the run around them and
// the other lane leave them no other. A speed at 1000 ft is seldom printed: it is more likely another.
func (sv *solver) bearOut(columns []*column) {
	const (
		fits   = 4. // no more than two standard deviations from the run
		fewest = 4  // sure figures of the lane
	)
	for i := range sv.lanes {
		for _, b := range sv.lanes[i].figures() {
			if b.fig.How != Doubtful || !b.f.timed() || b.f == (field{speed, 3}) ||
				!sv.asLike(b.f.kind, columns[i].cells[b.f], b.fig.Value) ||
				sv.lanes[i].shape().known() < fewest {
				continue
			}
			costs := sv.costs(i, b.f, b.fig.Value)
			if costs < fits && (len(sv.lanes) == 1 || sv.lanes[1-i].figure(b.f).sure() ||
				sv.costs(1-i, b.f, b.fig.Value) > costs+tells) {
				b.fig.How = Mended
			}
		}
	}
}

// costs is how much odder a value makes a lane.
func (sv *solver) costs(lane int, f field, v float64) float64 {
	p := sv.lanes[lane].shape()
	upTo := p.fullPower()
	was := p.odd(upTo)
	*p.at(f) = v
	return p.odd(upTo) - was
}

// asLike reports that a figure was read with all its digits, and as many decimals as its like have.
func (sv *solver) asLike(k kind, n number, v float64) bool {
	d := sv.decimals[k]
	if n.neg || d < 0 || v <= 0 || sv.kmh && k == speed {
		return false
	}
	bare := func(s string) string { return strings.TrimLeft(strings.ReplaceAll(s, ".", ""), "0") }
	return bare(strconv.FormatFloat(v, 'f', d, 64)) == bare(n.digits)
}

// astray puts all times and speeds of a lane in doubt where most are: the rest may stand in
// another's place.
func (l *Lane) astray() {
	sure, all := 0, l.timed()
	for _, b := range l.figures() {
		if b.f.timed() && b.fig.sure() {
			sure++
		}
	}
	for _, b := range l.figures() {
		if 2*sure < all && b.f.timed() {
			b.fig.doubt()
		}
	}
}

func (sv *solver) questionOnce(columns []*column) (asked bool) {
	type found struct {
		by   float64
		figs []*Figure
	}
	var all []found
	shapes := make([]shape, len(sv.lanes))
	odd := make([]float64, len(sv.lanes))
	upTo := make([]int, len(sv.lanes))
	for i := range sv.lanes {
		shapes[i] = sv.lanes[i].shape()
		upTo[i] = shapes[i].fullPower()
		odd[i] = shapes[i].odd(upTo[i])
	}
	for i := range sv.lanes {
		for _, b := range sv.lanes[i].figures() {
			n, there := columns[i].cells[b.f]
			if !there || !b.fig.sure() || b.fig.borne {
				continue
			}
			p := shapes[i]
			best := math.Inf(1)
			for _, v := range sv.others(b.f, n) {
				*p.at(b.f) = v
				best = math.Min(best, p.odd(upTo[i]))
			}
			*p.at(b.f) = 0
			best = math.Min(best, p.odd(upTo[i])+sv.lanes[i].lonely(b.f))
			all = append(all, found{odd[i] - best, []*Figure{b.fig}})
			if i == 1 {
				if his := sv.lanes[0].figure(b.f); his.sure() && !his.borne {
					p, q := shapes[1], shapes[0]
					*p.at(b.f), *q.at(b.f) = his.Value, b.fig.Value
					all = append(all, found{odd[0] + odd[1] - p.odd(upTo[1]) - q.odd(upTo[0]), []*Figure{b.fig, his}})
				}
			}
		}
	}
	most := tells
	for _, o := range all {
		most = math.Max(most, o.by)
	}
	for _, o := range all {
		if o.by >= tells && o.by >= most-tellsToo {
			for _, f := range o.figs {
				f.How = Doubtful
			}
			asked = true
		}
	}
	return asked
}
