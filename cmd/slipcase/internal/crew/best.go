package crew

import (
	"cmp"
	"slices"

	"slipcase/weather/units"
)

// BestOf is the figure that a best is of.
type BestOf string

// The figures.
const (
	BestReaction BestOf = "reaction"
	BestET       BestOf = "et"
	BestSpeed    BestOf = "speed"
)

// Best is the best of a figure, as run and in standard air: of one track and class, or of
// all where both are "".
type Best struct {
	Vehicle, Track, Class string
	Of                    BestOf
	Mark                  Mark    // of a time or speed
	AsRun, Standard       Topmost // the latter without a run where no air was known
}

// Topmost is the figure of the run that has the best one: s after the perfect light, s or
// mph.
type Topmost struct {
	Run   Run
	Value float64
}

// Known reports that there is such a run.
func (t Topmost) Known() bool { return t.Run.Slip.ID != "" }

func (t *Topmost) take(r Run, v units.Number, sign float64) {
	if v.Known() && (!t.Known() || sign*v.Value() < sign*t.Value) {
		t.Run, t.Value = r, v.Value()
	}
}

// Bests are the bests of the runs of a vehicle, of each when it is "", that a filter
// keeps: where they are of several tracks or classes first of all together, then of each.
// Red lights and byes have no reaction to show, and what was timed but not run in earnest
// no longer counts beyond where it was.
func (s *Session) Bests(vehicle string, f RunFilter) ([]Best, error) {
	all, err := s.StandardAir(vehicle)
	if err != nil {
		return nil, err
	}
	b := bestTally{at: map[bestKey]int{}}
	groups := map[string]map[[2]string]bool{}
	kept := slices.DeleteFunc(all.Runs, func(r StandardRun) bool { return !f.Keeps(&r.Run) })
	for _, r := range kept {
		s := r.Run.Slip
		if groups[s.Vehicle] == nil {
			groups[s.Vehicle] = map[[2]string]bool{}
		}
		groups[s.Vehicle][[2]string{s.Track, ClassOf(s)}] = true
	}
	for _, r := range kept {
		s := r.Run.Slip
		if len(groups[s.Vehicle]) > 1 {
			b.add(r, bestKey{Vehicle: s.Vehicle})
		}
		b.add(r, bestKey{Vehicle: s.Vehicle, Track: s.Track, Class: ClassOf(s)})
	}
	slices.SortStableFunc(b.list, func(x, y Best) int {
		return cmp.Or(cmp.Compare(x.Vehicle, y.Vehicle), cmp.Compare(x.Track, y.Track), cmp.Compare(x.Class, y.Class),
			cmp.Compare(x.rank(), y.rank()))
	})
	return b.list, nil
}

// ClassOf is the racer's name for the class of a round, else how it was raced: with a dial
// by dial.
func ClassOf(s Slip) string {
	if s.Class == "" && s.DialS.Known() {
		s.Class = string(Dialled)
	}
	return cmp.Or(s.ClassName, s.Class)
}

// rank puts the reaction first, then each distance with its time before its speed.
func (b Best) rank() int {
	switch b.Of {
	case BestReaction:
		return -1
	case BestSpeed:
		return 2*int(b.Mark) + 1
	}
	return 2 * int(b.Mark)
}

type bestKey struct {
	Vehicle, Track, Class string
	Of                    BestOf
	Mark                  Mark
}

type bestTally struct {
	list []Best
	at   map[bestKey]int
}

func (b *bestTally) of(k bestKey, of BestOf, m Mark) *Best {
	k.Of, k.Mark = of, m
	i, known := b.at[k]
	if !known {
		i = len(b.list)
		b.at[k] = i
		b.list = append(b.list, Best{Vehicle: k.Vehicle, Track: k.Track, Class: k.Class, Of: of, Mark: m})
	}
	return &b.list[i]
}

func (b *bestTally) add(r StandardRun, k bestKey) {
	if late := LateBy(r.Run.Slip, r.Run.Track); late.Known() && !Red(r.Run.Slip, r.Run.Track) {
		b.of(k, BestReaction, 0).AsRun.take(r.Run, late, 1)
	}
	for m := range Marks {
		if et := r.Measured.ETs[m]; et.Known() && m != At330 {
			best := b.of(k, BestET, m)
			best.AsRun.take(r.Run, et, 1)
			best.Standard.take(r.Run, r.Own.ETs[m], 1)
		}
		if mph := r.Measured.MPHs[m]; mph.Known() {
			best := b.of(k, BestSpeed, m)
			best.AsRun.take(r.Run, mph, -1)
			best.Standard.take(r.Run, r.Own.MPHs[m], -1)
		}
	}
}
