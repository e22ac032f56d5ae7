package predict

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/weather/units"
)

// Target is what a time at a mark needs.
type Target struct {
	Mark      Mark
	ET, Today float64
	// Gain is the power to add at today's weight, as a share of today's, OffLb the
	// weight to take off at today's power; nil where neither alone gets there.
	Gain  *Range
	OffLb *Range
	// Mix are ways between the two.
	Mix []MixedWay
	// First60S is what the 60 ft must first be where power alone does not get there
	// with this launch, nil otherwise; its low end is 0 where none believed does it
	// for sure. Today60S is what it is now.
	First60S *Range
	Today60S float64
	// Way is one change that gets there: power alone where it does, else weight
	// alone, else twice the power with the launch that it takes; nothing where none does.
	Way Change
	// NextTen is the chance of the target in one of the next ten runs as it is; its
	// ends are that where the vehicle, the day and the air turn out slow or quick.
	NextTen Range
	Notes   []Note
}

// MixedWay is weight taken off and the power to add to it, as a share of today's.
type MixedWay struct {
	OffLb float64
	Gain  Range
}

// A target is out of this launch's reach where twice the power does not get there,
// and out of this vehicle's where with that two and a half times the launch's acceleration
// do not, whatever brings it.
const (
	reachableGain = 1.0
	mostLaunch    = 1.5
)

func withAllPower(launch float64) Change {
	return Change{Gain: Exactly(reachableGain), Launch: Exactly(launch)}
}

// Reach works out what a time at a mark needs, as the time that half of the runs
// would beat, in the air of the next run. Each figure is low, likely and high as
// the run model's doubt about a change, and the doubt about what the vehicle runs
// today, have it.
func (p *Prospect) Reach(m Mark, et float64) (Target, error) {
	today := p.Before.ETs[m].Centre
	out := Target{Mark: m, ET: et, Today: today, Today60S: p.Before.ETs[At60].Centre}
	switch {
	case !(et > 0) || math.IsInf(et, 1):
		return out, fmt.Errorf("target %g s at %g ft: want a time above 0", et, m.Ft())
	case et >= today:
		return out, fmt.Errorf("target %.3f s at %g ft is slower than today's %.3f: want a quicker one", et, m.Ft(), today)
	case et < 0.4*today:
		return out, fmt.Errorf(
			"target %.3f s at %g ft is less than half of today's %.3f: another vehicle, no change to this one",
			et,
			m.Ft(),
			today,
		)
	}
	r := aim{p, timeAt[m], math.Log(et / today)}
	var err error
	if out.Gain, err = r.solve(reachableGain, func(x float64) Change { return Change{Gain: Exactly(x)} }); err != nil {
		return out, err
	}
	most := p.car.weightLb - lightestLb
	if out.OffLb, err = r.solve(0.999*most, func(x float64) Change { return Change{WeightLb: Exactly(-x)} }); err != nil {
		return out, err
	}
	if out.OffLb != nil {
		for _, share := range []float64{0.25, 0.5, 0.75} {
			off := share * out.OffLb.Likely
			way, err := r.solve(
				reachableGain,
				func(x float64) Change { return Change{Gain: Exactly(x), WeightLb: Exactly(-off)} },
			)
			if err != nil {
				return out, err
			}
			if way != nil {
				out.Mix = append(out.Mix, MixedWay{off, *way})
			}
		}
	}
	switch {
	case out.Gain != nil:
		out.Way.Gain = Exactly(out.Gain.Likely)
	case out.OffLb != nil:
		out.Way.WeightLb = Exactly(-out.OffLb.Likely)
	}
	if out.Gain == nil {
		launch, err := r.solve(mostLaunch, withAllPower)
		if err != nil {
			return out, err
		}
		if launch != nil && out.OffLb == nil {
			out.Way = withAllPower(launch.Likely)
		}
		if out.First60S, err = r.first60(launch); err != nil {
			return out, err
		}
	}
	out.NextTen = p.chance(m, et, 10)
	if out.Way != (Change{}) {
		out.Notes = p.notes(out.Way)
	}
	return out, nil
}

// aim looks for a change that moves one channel's log by a wanted amount.
type aim struct {
	p    *Prospect
	c    int
	want float64 // below 0
}

// miss is how far the change falls short, in logs, z standard deviations to the
// pessimist's side.
func (r aim) miss(c Change, z float64) (float64, error) {
	mid, err := r.p.shift(c.likely())
	if err != nil || z == 0 {
		return mid[r.c] - r.want, err
	}
	low, high, err := r.p.changeSD(c, mid)
	sd := math.Hypot((low[r.c]+high[r.c])/2, r.p.sharedSD(r.c))
	return mid[r.c] + z*sd - r.want, err
}

// ownSD and sharedSD part the next run's doubt, in logs: what differs from run to
// run, and what the next ones share: how well the vehicle is known, the day, the air.
func (p *Prospect) ownSD(c int) float64 {
	t := p.Before.fit
	return math.Sqrt(math.Min(t.noise[t.nextEra][c][c], p.Before.law.cov[c][c]))
}

func (p *Prospect) sharedSD(c int) float64 {
	return math.Sqrt(math.Max(p.Before.law.cov[c][c]-math.Pow(p.ownSD(c), 2), 0))
}

// searchSteps is how finely find looks: what a change brings may turn within its range.
const searchSteps = 48

// find is the least of a quantity from 0 to most that reaches, absent when none
// does. More is not always quicker: light enough, a vehicle is mostly drag, and the
// doubt grows with the change. So it looks from the least on, and halves the first
// step that reaches. A change that the run model cannot run does not reach.
func (r aim) find(most, z float64, of func(float64) Change) (units.Number, error) {
	reaches := func(x float64) (bool, error) {
		short, err := r.miss(of(x), z)
		if errors.Is(err, errStuck) || errors.Is(err, errRunModel) {
			return false, nil
		}
		return short <= 0, err
	}
	low := 0.
	for i := 1; i <= searchSteps; i++ {
		high := most * math.Pow(float64(i)/searchSteps, 1.5) // finer where it is small
		ok, err := reaches(high)
		if err != nil {
			return units.Number{}, err
		}
		if !ok {
			low = high
			continue
		}
		for range 40 {
			mid := (low + high) / 2
			if ok, err = reaches(mid); err != nil {
				return units.Number{}, err
			}
			if ok {
				high = mid
			} else {
				low = mid
			}
		}
		return units.Some(high), nil
	}
	return units.Number{}, nil
}

// solve gives the quantity with its interval, nil when the likely one is out of
// reach; a high end out of reach is infinite.
func (r aim) solve(most float64, of func(float64) Change) (*Range, error) {
	var ends [3]units.Number
	for i, z := range []float64{-z80, 0, z80} {
		var err error
		if ends[i], err = r.find(most, z, of); err != nil {
			return nil, err
		}
	}
	if !ends[1].Known() {
		return nil, nil
	}
	return &Range{ends[0].Value(), ends[1].Value(), ends[2].Or(math.Inf(1))}, nil
}

// first60 is the 60 ft time of the launch with which the most power that is believed
// just gets there, nil without one.
func (r aim) first60(launch *Range) (*Range, error) {
	if launch == nil {
		return nil, nil
	}
	var s [3]float64
	for i, g := range []float64{launch.High, launch.Likely, launch.Low} {
		if math.IsInf(g, 1) {
			continue
		}
		y, err := r.p.shift(lever{gain: reachableGain, launch: g})
		if err != nil {
			return nil, err
		}
		s[i] = r.p.Before.ETs[At60].Centre * math.Exp(y[timeAt[At60]])
	}
	return &Range{s[0], s[1], s[2]}, nil
}

// chance is that of at least one of n runs at the target or under it: what they
// share (the level, the day, the air) is integrated over, their own luck is not
// shared. The ends take what is shared at the slow and the quick end of its 80 %.
func (p *Prospect) chance(m Mark, et float64, n float64) Range {
	c := timeAt[m]
	own, shared := p.ownSD(c), p.sharedSD(c)
	z := math.Log(et) - p.Before.law.mean[c]
	none := func(x float64) float64 {
		slower := 1 - distuv.UnitNormal.CDF((z-shared*x)/own)
		return math.Pow(slower, n)
	}
	const wide, points = 8, 400 // standard deviations either way
	mean := quad.Fixed(func(x float64) float64 { return none(x) * distuv.UnitNormal.Prob(x) }, -wide, wide, points, nil, 0)
	// The mean of a long tail can lie beyond its ends.
	return Range{math.Min(1-none(z80), 1-mean), 1 - mean, math.Max(1-none(-z80), 1-mean)}
}
