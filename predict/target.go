package predict

import (
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
	// with this grip, nil otherwise; its low end is 0 where no grip believed does it
	// for sure. Today60S is what it is now.
	First60S *Range
	Today60S float64
	// NextTen is the chance of the target in one of the next ten runs as it is; its
	// ends are that where the vehicle, the day and the air turn out slow or quick.
	NextTen  Range
	Warnings []string
}

// MixedWay is weight taken off and the power to add to it, as a share of today's.
type MixedWay struct {
	OffLb float64
	Gain  Range
}

// A target is out of this grip's reach where twice the power does not get there.
const reachableGain = 1.0

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
		return out, fmt.Errorf("target %.3f s at %g ft is less than half of today's %.3f: another vehicle, no change to this one", et, m.Ft(), today)
	}
	r := reach{p, timeAt[m], math.Log(et / today)}
	var err error
	if out.Gain, err = r.solve(reachableGain, func(x float64) Change { return Change{Gain: Exactly(x)} }); err != nil {
		return out, err
	}
	most := p.car.model.WeightLb - lightestLb
	if out.OffLb, err = r.solve(0.999*most, func(x float64) Change { return Change{WeightLb: Exactly(-x)} }); err != nil {
		return out, err
	}
	if out.OffLb != nil {
		for _, share := range []float64{0.25, 0.5, 0.75} {
			off := share * out.OffLb.Likely
			way, err := r.solve(reachableGain, func(x float64) Change { return Change{Gain: Exactly(x), WeightLb: Exactly(-off)} })
			if err != nil {
				return out, err
			}
			if way != nil {
				out.Mix = append(out.Mix, MixedWay{off, *way})
			}
		}
	}
	if out.Gain == nil {
		if out.First60S, err = r.first60(); err != nil {
			return out, err
		}
	}
	out.NextTen = p.chance(m, et, 10)
	if out.Gain != nil {
		out.Warnings = p.warnings(Change{Gain: *out.Gain})
	}
	return out, nil
}

// reach looks for a change that moves one channel's log by a wanted amount.
type reach struct {
	p    *Prospect
	c    int
	want float64 // below 0
}

// miss is how far the change falls short, in logs, z standard deviations to the
// pessimist's side.
func (r reach) miss(c Change, z float64) (float64, error) {
	mid, err := r.p.shift(c.Gain.Likely, c.WeightLb.Likely, c.Grip.Likely)
	if err != nil || z == 0 {
		return mid[r.c] - r.want, err
	}
	low, high, err := r.p.spread(c, mid)
	sd := math.Hypot((low[r.c]+high[r.c])/2, r.p.levelSD(r.c))
	return mid[r.c] + z*sd - r.want, err
}

// levelSD is how well what the vehicle usually runs is known: the next run's
// doubt, of which n runs leave about 1/(n+1) to the level.
func (p *Prospect) levelSD(c int) float64 {
	return math.Sqrt(p.Before.law.cov[c][c] / float64(p.Before.RunsUsed+1))
}

// find is the least of a quantity from 0 to most that reaches, absent when none
// does. More is always quicker, so it halves.
func (r reach) find(most, z float64, of func(float64) Change) (units.Number, error) {
	short, err := r.miss(of(most), z)
	if err != nil || short > 0 {
		return units.Number{}, err
	}
	low, high := 0., most
	for range 40 {
		mid := (low + high) / 2
		if short, err = r.miss(of(mid), z); err != nil {
			return units.Number{}, err
		}
		if short > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return units.Some(high), nil
}

// solve gives the quantity with its interval, nil when the likely one is out of
// reach; a high end out of reach is infinite.
func (r reach) solve(most float64, of func(float64) Change) (*Range, error) {
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

// first60 is the 60 ft time at which the most power that is believed just gets
// there, nil when no grip that is believed makes it do so.
func (r reach) first60() (*Range, error) {
	const mostGrip = 1.5
	grip, err := r.solve(mostGrip, func(x float64) Change { return Change{Gain: Exactly(reachableGain), Grip: Exactly(x)} })
	if err != nil || grip == nil {
		return nil, err
	}
	var s [3]float64
	for i, g := range []float64{grip.High, grip.Likely, grip.Low} {
		if math.IsInf(g, 1) {
			continue
		}
		y, err := r.p.shift(reachableGain, 0, g)
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
	l, t := p.Before.law, p.Before.fit
	own := math.Sqrt(math.Min(t.noise[t.nextEra][c][c], l.cov[c][c]))
	shared := math.Sqrt(math.Max(l.cov[c][c]-own*own, 0))
	z := math.Log(et) - l.mean[c]
	none := func(x float64) float64 {
		slower := 1 - distuv.UnitNormal.CDF((z-shared*x)/own)
		return math.Pow(slower, n)
	}
	const wide, points = 8, 400 // standard deviations either way
	mean := quad.Fixed(func(x float64) float64 { return none(x) * distuv.UnitNormal.Prob(x) }, -wide, wide, points, nil, 0)
	// The mean of a long tail can lie beyond its ends.
	return Range{math.Min(1-none(z80), 1-mean), 1 - mean, math.Max(1-none(-z80), 1-mean)}
}
