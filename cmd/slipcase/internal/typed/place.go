package typed

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// place is where a number of a slip can stand: the reaction, then the five
// distances.
type place int

const (
	reactionPlace place = iota
	at60
	at330
	at660
	at1000
	at1320
	places
)

var placeFt = [places]float64{0, 60, 330, 660, 1000, 1320}

// share is the time to a distance over that to the quarter mile, and how far cars
// differ in it, as a share (common practice, no source).
var share = [places]struct{ of, sd float64 }{{}, {0.145, 0.12}, {0.412, 0.07}, {0.637, 0.04}, {0.831, 0.03}, {1, 0.03}}

// reading is one way to read the numbers of a line.
type reading struct {
	reaction units.Number
	ets      [places]units.Number
	mphs     [places]units.Number
	filled   [places]bool // said on the line, also where said to be missing
	cost     float64
}

// place finds the reading of the numbers that is most plausible.
func (l *Line) place(numbers []string, usual logbook.Slip, lengthsFt []float64) error {
	if len(numbers) == 0 {
		return nil
	}
	for _, n := range numbers {
		if err := runTogether(l.bare, n); err != nil {
			return err
		}
	}
	s := search{bare: l.bare, numbers: numbers, usual: usualTimes(usual), places: placesTo(lengthsFt)}
	if s.step(0, -1, reading{}); s.count == 0 {
		s.places = places // a slip from a longer track than was said
		s.step(0, -1, reading{})
	}
	if s.count == 0 {
		if s.err != nil {
			return s.err
		}
		return units.Errorf("%d numbers cannot be placed on a slip: %w", len(numbers), wanted)
	}
	if s.count > 1 && s.second.cost-s.best.cost < clear {
		return units.Errorf(`cannot tell the distances of %s: put "." for each missing time, or name them: --660 8.412@{83.77|134.81}`,
			Shorten(strings.Join(numbers, " ")))
	}
	b := s.best
	l.Slip.ReactionS = b.reaction
	l.Slip.ET60S, l.Slip.ET330S = b.ets[at60], b.ets[at330]
	l.Slip.ET660S, l.Slip.MPH660 = b.ets[at660], b.mphs[at660]
	l.Slip.ET1000S, l.Slip.MPH1000 = b.ets[at1000], b.mphs[at1000]
	l.Slip.ET1320S, l.Slip.MPH1320 = b.ets[at1320], b.mphs[at1320]
	return nil
}

// placesTo are the places of a slip as far as a track is raced.
func placesTo(lengthsFt []float64) place {
	for p := at660; p < places && len(lengthsFt) > 0; p++ {
		if placeFt[p] >= slices.Max(lengthsFt) {
			return p + 1
		}
	}
	return places
}

// usualTimes are the times of an earlier slip by place.
func usualTimes(s logbook.Slip) (ets [places]units.Number) {
	for i, split := range s.Splits() {
		ets[int(at60)+i] = split.ETS
	}
	ets[reactionPlace] = s.ReactionS
	return ets
}

// search tries every order-keeping way to place the numbers; there are at most a
// few hundred.
type search struct {
	bare         units.System // what a speed without unit means
	numbers      []string
	usual        [places]units.Number
	places       place // as many as the track has
	best, second reading
	count        int
	err          error // why a number could not be read at all
}

func (s *search) step(i int, last place, r reading) {
	if i == len(s.numbers) {
		r.cost += s.cost(r)
		switch {
		case s.count == 0 || r.cost < s.best.cost:
			s.best, s.second = r, s.best
		case s.count == 1 || r.cost < s.second.cost:
			s.second = r
		}
		s.count++
		return
	}
	text := s.numbers[i]
	if last >= at660 && r.ets[last].Known() && !r.mphs[last].Known() && !strings.Contains(text, "@") && text != Absent {
		if mph, err := Speed(s.bare, text, r.ets[last], placeFt[last]); err == nil {
			apart := r
			apart.mphs[last] = mph
			s.step(i+1, last, apart)
		}
	}
	for p := last + 1; p < s.places; p++ {
		if text == Absent && p > last+1 {
			break // a dot stands for the very next place
		}
		next := r
		if err := next.read(s.bare, text, p); err != nil {
			s.err = err
			continue
		}
		s.step(i+1, p, next)
	}
}

func (r *reading) read(bare units.System, text string, p place) error {
	r.filled[p] = true
	if p == reactionPlace {
		v, err := Reaction(text)
		r.reaction = v
		return err
	}
	if p < at660 && strings.Contains(text, "@") {
		return fmt.Errorf("%q: a speed is printed from 660 ft on", Shorten(text))
	}
	et, mph, _, err := Split(bare, text, placeFt[p])
	r.ets[p], r.mphs[p] = et, mph
	return err
}

// What a reading costs, about twice the negative log of its chance: a number z standard
// deviations from the usual costs z². No source: chosen so that the lines of line_test.go,
// with and without typing errors, are read as they are meant.
const (
	impossible = 60 // more than any line of numbers that can be
	far        = 25 // the most for one unusual number, five standard deviations: a typo must not move the others
	clear      = 1  // two readings nearer than that, one 1.6 times as likely as the other, are a guess, and a log has none

	leftOut     = 1   // a place without a dot, between others
	leftOutHere = 3   // one that the vehicle's slips have
	notBegun    = 0.1 // one before the first: many slips are typed without what comes first
	endsEarly   = 3   // before 660 ft: broke, or half a line
	endsAt1000  = 2   // few tracks end there
	endsApart   = 4   // where the vehicle's slips do not
)

// How far a run is from the usual, one standard deviation (common practice, no source).
const (
	lateFrom, lateSD = 0.5, 0.25 // s: reactions up to the first are as likely as any
	usualSD          = 0.08      // of a time, as a share, from that of an earlier slip: another setup, other air
	pullSD           = 0.1       // of ET x MPH, as a share
)

// cost is how unlikely a reading is.
func (s *search) cost(r reading) float64 {
	cost := 0.
	if v := r.reaction; v.Known() {
		cost += capped(math.Max(math.Abs(v.Value())-lateFrom, 0) / lateSD)
	}
	var sum, weight float64
	before := 0.
	end := place(-1)
	for p := at60; p < places; p++ {
		et := r.ets[p]
		if !et.Known() {
			continue
		}
		end = p
		if !(et.Value() > before) || !spans[placeFt[p]].holds(et.Value()) {
			cost += impossible
		}
		before = math.Max(et.Value(), before)
		w := 1 / (share[p].sd * share[p].sd)
		sum += w * math.Log(et.Value()/share[p].of)
		weight += w
		cost += pullCost(et, r.mphs[p], placeFt[p])
		if u := s.usual[p]; u.Known() && u.Value() > 0 {
			cost += capped(math.Log(et.Value()/u.Value()) / usualSD)
		}
	}
	for p := at60; p < places; p++ {
		if et := r.ets[p]; et.Known() && et.Value() > 0 {
			cost += capped((math.Log(et.Value()/share[p].of) - sum/weight) / share[p].sd)
		}
	}
	return cost + s.gaps(r, end)
}

// gaps is what it costs to leave places out without saying so, and to end where
// the vehicle does not usually end.
func (s *search) gaps(r reading, end place) float64 {
	cost, usualEnd, begun := 0., place(-1), false
	for p := reactionPlace; p < places; p++ {
		if s.usual[p].Known() {
			usualEnd = p
		}
		switch {
		case r.filled[p]:
			begun = true
		case p > end:
		case s.usual[p].Known():
			cost += leftOutHere
		case begun:
			cost += leftOut
		default:
			cost += notBegun
		}
	}
	switch {
	case usualEnd >= at60 && end != usualEnd:
		cost += endsApart
	case end < at660:
		cost += endsEarly
	case end == at1000:
		cost += endsAt1000
	}
	return cost
}

func pullCost(et, mph units.Number, ft float64) float64 {
	if !mph.Known() || !(mph.Value() > 0) || !(et.Value() > 0) {
		return 0
	}
	return capped(math.Log(et.Value()*mph.Value()*1320/ft/logbook.UsualPull) / pullSD)
}

func capped(z float64) float64 { return math.Min(z*z, far) }
