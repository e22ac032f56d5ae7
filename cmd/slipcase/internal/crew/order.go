package crew

import (
	"cmp"
	"math"
	"slices"

	"slipcase/weather/units"
)

// Order is what runs are put in order by, the best first.
type Order string

// The orders. Times of a longer distance come before those of a shorter one.
const (
	ByTime       Order = "time"
	ByET         Order = "et"
	ByET60       Order = "60"
	BySpeed      Order = "speed"
	ByReaction   Order = "reaction" // the nearest to a perfect light, red ones behind
	ByOver       Order = "over"     // the nearest to the dial or the index
	ByRunDensity Order = "da"
)

// Orders lists them, for help and errors.
var Orders = []string{"time", "et", "60", "speed", "reaction", "over", "da"}

// Over is how far a run was over what it was not to go under, s, less than 0 under it;
// absent without a dial or an index.
func Over(r Run) units.Number {
	et, limit := LanesOf(r.Slip, r.Track)[0].ETS, LimitOf(r.Slip, r.Track)
	if RulesOf(r.Slip, r.Track).Format == HeadsUp || !et.Known() || !limit.Known() {
		return units.Number{}
	}
	return units.Some(et.Value() - limit.Value())
}

// keys are what a run is ordered by; the less, the earlier, and infinity where it has not
// the figure.
func (o Order) keys(r Run) [2]float64 {
	finish, timed := r.Slip.Finish()
	far := -finish.Ft
	switch o {
	case ByET:
		if timed {
			return [2]float64{far, finish.ETS.Value()}
		}
	case ByET60:
		return [2]float64{r.Slip.ET60S.Or(math.Inf(1))}
	case BySpeed:
		return [2]float64{far, -finish.MPH.Or(math.Inf(-1))}
	case ByReaction:
		if late := LateBy(r.Slip, r.Track); late.Known() {
			red := 0.
			if Red(r.Slip, r.Track) {
				red = 1
			}
			return [2]float64{red, math.Abs(late.Value())}
		}
	case ByOver:
		return [2]float64{math.Abs(Over(r).Or(math.Inf(1)))}
	case ByRunDensity:
		return [2]float64{DensityAltitude(r).Or(math.Inf(1))}
	default:
		return [2]float64{float64(r.Slip.Time.UnixMilli())}
	}
	return [2]float64{math.Inf(1), math.Inf(1)}
}

// Sort puts runs in an order, those alike in it as they were.
func (o Order) Sort(runs []Run) {
	slices.SortStableFunc(runs, func(a, b Run) int {
		x, y := o.keys(a), o.keys(b)
		return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1]))
	})
}

// Last are the last n of the runs, in the order.
func (o Order) Last(runs []Run, n int) []Run {
	kept := slices.Clone(runs[max(len(runs)-n, 0):])
	o.Sort(kept)
	return kept
}

// Best are the first n of the runs in the order, those without its figure left out.
func (o Order) Best(runs []Run, n int) []Run {
	kept := slices.DeleteFunc(slices.Clone(runs), func(r Run) bool { return !o.has(r) })
	o.Sort(kept)
	return kept[:min(n, len(kept))]
}

// has reports a run with the figure of an order.
func (o Order) has(r Run) bool {
	k := o.keys(r)
	return !math.IsInf(k[0], 1) && !math.IsInf(k[1], 1)
}
