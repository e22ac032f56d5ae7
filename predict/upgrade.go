package predict

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/weather/units"
)

// Upgrade is what a change makes of a vehicle's next run: before and after in the
// same air, and the difference, whose interval is its own.
type Upgrade struct {
	ETs, MPHs [Marks]Band  // after
	ETGain    [Marks]Range // after less before, s: below 0 is quicker
	MPHGain   [Marks]Range // mph; zero where no speed is timed
	CubeRootS Range        // what the cube root makes of the ET at the finish, after less before
	Why       CubeRootGap  // why the two differ
	Launch    Limits       // what may limit it
	Notes     []Note
}

// Quick is the quick end of the 95 % bands after the change: what safety
// equipment goes by.
func (u *Upgrade) Quick() (s Splits) {
	for m := range Marks {
		s.ETs[m] = units.Some(u.ETs[m].Low95)
		if speedAt[m] >= 0 {
			s.MPHs[m] = units.Some(u.MPHs[m].High95)
		}
	}
	return s
}

// How far the run model's change can be off, in logs, for a change of one in the
// log of power or weight: by its power and by what it does not know; its launch is in
// launchTakes. Set on invented upgrades for tuning, tried on others.
const (
	powerMisfit = 0.045
	otherMisfit = 0.004
)

// Try works out a change. The interval joins, as independent, the ranges of gain,
// weight and grip, the doubt about the launch grip, and the run model's own.
func (p *Prospect) Try(c Change) (Upgrade, error) {
	if err := c.Check(units.Some(p.car.model.WeightLb)); err != nil {
		return Upgrade{}, err
	}
	mid, err := p.shift(c.likely())
	if err != nil {
		return Upgrade{}, err
	}
	low, high, err := p.changeSD(c, mid)
	if err != nil {
		return Upgrade{}, err
	}
	u := Upgrade{}
	after := p.Before.law.moved(mid, low.plus(high).scaled(0.5))
	tails := after.tails()
	for k, of := range channelOf {
		band := after.bandOf(k, tails)
		was := math.Exp(p.Before.law.mean[k])
		gain := Range{
			was * math.Expm1(mid[k]-z80*low[k]), was * math.Expm1(mid[k]), was * math.Expm1(mid[k]+z80*high[k]),
		}
		if of.speed {
			u.MPHs[of.mark], u.MPHGain[of.mark] = band, gain
		} else {
			u.ETs[of.mark], u.ETGain[of.mark] = band, c.sure(gain)
		}
	}
	u.CubeRootS = p.cubeRoot(c)
	u.Why = p.cubeRootGap(c)
	u.Launch = p.car.launch
	u.Notes = p.notes(c)
	return u, nil
}

// sure is the range of a time's gain, on the side where it can only be: tires that grip
// better, with nothing else changed, make no time slower, and worse ones none quicker.
func (c Change) sure(gain Range) Range {
	const rounded = 1e-9 // s: a time that stays as it was comes back from its logarithm that far off at most
	switch c.side() {
	case -1:
		if gain.High > -rounded {
			gain.High = 0
		}
	case 1:
		if gain.Low < rounded {
			gain.Low = 0
		}
	}
	return gain
}

// side is where a time can only go: -1 quicker, 1 slower, 0 either way.
func (c Change) side() int {
	switch {
	case c != (Change{Grip: c.Grip}):
	case c.Grip.Low > 0:
		return -1
	case c.Grip.High < 0:
		return 1
	}
	return 0
}

// changeSD gives the standard deviations of the logs' change to either side of mid: what
// the ranges and the launch's doubt make of it, about each of the limits that the launch
// may have, each by its chance.
func (p *Prospect) changeSD(c Change, mid vec) (low, high vec, err error) {
	if c == (Change{}) {
		return low, high, nil
	}
	low, high, err = p.rangeSD(c, mid)
	if err != nil {
		return low, high, err
	}
	var parts [channels]outcomes
	at := c.likely()
	e := p.Before.fit.eras[p.Before.fit.nextEra]
	const least = 1e-9 // so that no part is a step
	gain, weight := math.Log1p(at.gain), math.Log1p(at.lb/p.car.weightLb)
	size := math.Hypot(gain, weight)
	for l, chance := range p.car.launch {
		if chance == 0 {
			continue
		}
		v := p.car
		v.launch = only(LaunchLimit(l))
		y, err := p.shiftOf(v, at)
		if err != nil {
			return low, high, err
		}
		takes := v.takes(LaunchLimit(l))
		grip := takes.gripSD * math.Log1p(at.grip)
		if LaunchLimit(l) == ByTires {
			grip = takes.gripSD * v.gripped(ByTires, at.grip)
		}
		launch := math.Hypot(math.Hypot(takes.powerSD*gain, takes.weightSD*weight), grip)
		for k := range y {
			own := math.Sqrt(
				math.Pow(powerMisfit*e.power[k]*size, 2) + math.Pow(launch*e.grip[k], 2) + math.Pow(otherMisfit*size, 2),
			)
			parts[k] = append(
				parts[k],
				outcomeOf{chance, y[k] - mid[k], math.Hypot(low[k], own) + least, math.Hypot(high[k], own) + least},
			)
		}
	}
	for k, o := range parts {
		from, to := o.quantile(0.1), o.quantile(0.9)
		if !channelOf[k].speed {
			from, to = c.sureEnds(o, -mid[k], from, to)
		}
		low[k], high[k] = math.Max(-from, 0)/z80, math.Max(to, 0)/z80
	}
	return low, high, nil
}

// sureEnds are the ends of 80 % of what a change makes of a time, where that can only be on
// one side of none: an end that none cuts off leaves the other so much nearer.
func (c Change) sureEnds(o outcomes, none, from, to float64) (float64, float64) {
	switch c.side() {
	case -1:
		can := o.below(none)
		return o.quantile(math.Min(0.9, can) - 0.8*can), math.Min(to, none)
	case 1:
		cannot := o.below(none)
		return math.Max(from, none), o.quantile(math.Max(0.1, cannot) + 0.8*(1-cannot))
	}
	return from, to
}

// rangeSD joins the ranges of the change's figures, as independent, with the doubt about
// the launch grip.
func (p *Prospect) rangeSD(c Change, mid vec) (low, high vec, err error) {
	add := func(d vec) {
		for k, v := range d {
			if v < 0 {
				low[k] = math.Hypot(low[k], v)
			} else {
				high[k] = math.Hypot(high[k], v)
			}
		}
	}
	likely := c.likely()
	for _, end := range []lever{
		{c.Gain.Low, likely.lb, likely.grip, likely.launch},
		{c.Gain.High, likely.lb, likely.grip, likely.launch},
		{likely.gain, c.WeightLb.Low, likely.grip, likely.launch},
		{likely.gain, c.WeightLb.High, likely.grip, likely.launch},
		{likely.gain, likely.lb, c.Grip.Low, likely.launch},
		{likely.gain, likely.lb, c.Grip.High, likely.launch},
		{likely.gain, likely.lb, likely.grip, c.Launch.Low},
		{likely.gain, likely.lb, likely.grip, c.Launch.High},
	} {
		if end == likely {
			continue
		}
		y, err := p.shift(end)
		if err != nil {
			return low, high, err
		}
		add(y.minus(mid).scaled(1 / z80))
	}
	for _, side := range []float64{-1, 1} {
		v := p.car
		v.model.GripG *= math.Exp(side * p.grip)
		after, err := p.shiftOf(v, likely)
		if err != nil {
			return low, high, err
		}
		add(after.minus(mid))
	}
	return low, high, nil
}

// outcomes is a mixture of what a change may do to one log: normal to either side of its
// middle, each with its chance.
type outcomes []outcomeOf

type outcomeOf struct{ chance, mid, low, high float64 }

// below is the chance of less than x.
func (o outcomes) below(x float64) (sum float64) {
	for _, of := range o {
		sd := of.low
		if x > of.mid {
			sd = of.high
		}
		sum += of.chance * distuv.UnitNormal.CDF((x-of.mid)/sd)
	}
	return sum
}

// quantile is found by halving.
func (o outcomes) quantile(q float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range o {
		const far = 4
		low, high = math.Min(low, x.mid-far*x.low), math.Max(high, x.mid+far*x.high)
	}
	for range 30 {
		mid := (low + high) / 2
		if o.below(mid) < q {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
