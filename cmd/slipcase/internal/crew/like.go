package crew

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Alikes are the runs of a vehicle made in air like that of its next run, at its track.
type Alikes struct {
	Next     Next
	DensFt   float64 // of the air, density altitude
	WithinFt float64 // and how far from it a run may be
	Runs     []Run   // those of its setup first, then the nearest
}

// What is like: a density altitude that costs the car no more than its own scatter, but
// not less nor more than these, ft (common practice, no source).
const leastAlikeFt, mostAlikeFt = 200, 1500

// Like finds the runs in air like that of the next one, of those given.
func (n Next) Like(runs []Run) (a Alikes, err error) {
	if a.Next = n; !n.Run.Air.Known {
		return a, fmt.Errorf("the air at %s is not known now", cmp.Or(n.Run.Track.Name(), "no track"))
	}
	a.DensFt, a.WithinFt = n.Run.Air.Air.DensityAltitudeFt(), mostAlikeFt/2
	if f, err := n.Expect(); err == nil {
		far := Farthest(n.Run.Track, &f)
		if cost, err := f.ThousandFt(); err == nil {
			half := (f.ETs[far].High80 - f.ETs[far].Low80) / 2
			a.WithinFt = 1000 * half / math.Abs(cost.Heat.Own[far].Likely)
		}
	}
	a.WithinFt = math.Round(min(max(a.WithinFt, leastAlikeFt), mostAlikeFt))
	off := func(r Run) float64 { return math.Abs(DensityAltitude(r).Or(math.Inf(1)) - a.DensFt) }
	for _, r := range runs {
		if r.Slip.Vehicle == n.Run.Slip.Vehicle && r.Slip.Track == n.Run.Track.ID && off(r) <= a.WithinFt {
			a.Runs = append(a.Runs, r)
		}
	}
	other := func(r Run) int {
		if r.Setup.ID == n.Run.Setup.ID {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(a.Runs, func(x, y Run) int { return cmp.Or(other(x)-other(y), cmp.Compare(off(x), off(y))) })
	return a, nil
}
