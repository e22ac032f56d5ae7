package predict

import (
	"math"

	"slipcase/weather/units"
)

// cubeRootSD is the doubt about the ⅓ of the published formulas where it is used
// for a change: on 32 road cars of 1974 (testdata/mtcars.csv) ln ET rose by 0.258
// ± 0.029 for one of ln W/P, and the distance to ⅓ and that error make 0.08.
const cubeRootSD = 0.08

// cubeRoot is what ET = a (W/P)^⅓ makes of a change at the finish, s: all three
// published formulas alike, since a drops out against the vehicle's own time. It
// knows nothing of grip.
func (p *Prospect) cubeRoot(c Change) Range {
	was, lb := p.Before.ETs[p.Finish].Centre, p.car.weightLb
	ratio := func(gain, added float64) float64 { return math.Log((1 + added/lb) / (1 + gain)) }
	mid := ratio(c.Gain.Likely, c.WeightLb.Likely)
	own := z80 * cubeRootSD * math.Abs(mid)
	end := func(gain, added float64) float64 {
		g, w := ratio(gain, c.WeightLb.Likely)-mid, ratio(c.Gain.Likely, added)-mid
		return math.Sqrt(own*own + g*g/9 + w*w/9)
	}
	at := func(log float64) float64 { return was * math.Expm1(log) }
	return Range{
		at(mid/3 - end(c.Gain.High, c.WeightLb.Low)), at(mid / 3), at(mid/3 + end(c.Gain.Low, c.WeightLb.High)),
	}
}

// exponents are d ln ET/d ln P and d ln MPH/d ln P at the finish, the launch
// following the power as far as it does.
func (p *Prospect) exponents() (et, mph float64) {
	e, m := p.Before.fit.eras[p.Before.fit.nextEra], p.Finish
	k := timeAt[m]
	et = e.power[k] + p.car.shares().power*e.grip[k]
	if s := speedAt[m]; s >= 0 {
		mph = e.power[s] + p.car.shares().power*e.grip[s]
	}
	return et, mph
}

// ofWeight is d ln ET/d ln W at the finish.
func (p *Prospect) ofWeight() float64 {
	const step = 0.01
	y, err := p.shift(lever{lb: step * p.car.weightLb})
	if err != nil {
		return 0
	}
	return y[timeAt[p.Finish]] / math.Log1p(step)
}

// gripFt is how far power exceeds what the launch puts down: to v = P/(m a), at
// the distance v²/(2a), drag left out.
func (p *Prospect) gripFt() float64 {
	m := p.car.model
	a := m.GripG * gravity
	v := m.PowerHP * units.WattPerHP / (m.WeightLb * units.KgPerLb * (1 + m.Inertia) * a)
	return v * v / (2 * a) / units.MetrePerFoot
}

// CubeRootGap says why the run model and the cube root differ about a change.
type CubeRootGap struct {
	Kind    CubeRootKind
	PerPct  float64 // % of ET for 1 % of weight or of power, where the cube root has a third
	MPHPct  float64 // % of speed for 1 % of power; 0 where none is timed
	AllMPH  bool    // that is all that the cube root gives
	LaunchG float64 // what the launch holds, g,
	GripFt  float64 // and over about how many first feet
}

// CubeRootKind is why the two differ.
type CubeRootKind string

// The kinds.
const (
	OfGrip   CubeRootKind = "grip"   // which the cube root does not know
	OfWeight CubeRootKind = "weight" // less of which is felt than its share
	OfPower  CubeRootKind = "power"  // which the launch does not take
	Agreed   CubeRootKind = "agreed" // about what the cube root has
)

// cubeRootGap says why the run model and the cube root differ.
func (p *Prospect) cubeRootGap(c Change) CubeRootGap {
	et, mph := p.exponents()
	switch {
	case c.Gain == (Range{}) && c.WeightLb == (Range{}):
		return CubeRootGap{Kind: OfGrip}
	case c.Gain == (Range{}):
		return CubeRootGap{Kind: OfWeight, PerPct: p.ofWeight()}
	case -3*et > 0.9:
		return CubeRootGap{Kind: Agreed}
	}
	return CubeRootGap{OfPower, -et, mph, 3*mph > 0.95, p.car.model.GripG, p.gripFt()}
}

// MostTried is the largest gain of the invented upgrades that the doubt was set
// on, MostWeightTried the largest share of the weight.
const MostTried, MostWeightTried = 0.4, 0.1

func (p *Prospect) notes(c Change) (notes []Note) {
	if p.Before.RunsUsed == 0 {
		notes = append(notes, Note{Kind: LaunchUntold})
	}
	if math.Abs(c.Gain.Likely) > MostTried {
		notes = append(notes, Note{Kind: MuchPower, Share: c.Gain.Likely})
	}
	if share := c.WeightLb.Likely / p.car.weightLb; math.Abs(share) > MostWeightTried {
		notes = append(notes, Note{Kind: MuchWeight, Share: share})
	}
	if c.Gain.Likely > 0 && c.Grip == (Range{}) && c.Launch == (Range{}) {
		note := Note{Kind: LaunchKept}
		if y, err := p.shift(c.likely()); err == nil {
			note.ByS = p.Before.ETs[At60].Centre * math.Expm1(y[timeAt[At60]])
		}
		notes = append(notes, note)
	}
	return notes
}
