package predict

import (
	"math"

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
// log of power or weight: by its power, by its grip, and by what it does not know.
// Set on invented upgrades for tuning, tried on others.
const (
	powerMisfit = 0.12
	gripMisfit  = 0.18
	otherMisfit = 0.01
)

// Try works out a change. The interval joins, as independent, the ranges of gain,
// weight and grip, the doubt about the launch grip, and the run model's own.
func (p *Prospect) Try(c Change) (Upgrade, error) {
	if err := c.Check(units.Some(p.car.model.WeightLb)); err != nil {
		return Upgrade{}, err
	}
	mid, err := p.shift(c.Gain.Likely, c.WeightLb.Likely, c.Grip.Likely)
	if err != nil {
		return Upgrade{}, err
	}
	low, high, err := p.changeSD(c, mid)
	if err != nil {
		return Upgrade{}, err
	}
	u := Upgrade{}
	after := p.Before.law.moved(mid, low.minus(high.scaled(-1)).scaled(0.5))
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
			u.ETs[of.mark], u.ETGain[of.mark] = band, gain
		}
	}
	u.CubeRootS = p.cubeRoot(c)
	u.Why = p.cubeRootGap(c)
	u.Notes = p.notes(c)
	return u, nil
}

// changeSD gives the standard deviations of the logs' change to either side.
func (p *Prospect) changeSD(c Change, mid vec) (low, high vec, err error) {
	add := func(d vec) {
		for k, v := range d {
			if v < 0 {
				low[k] = math.Hypot(low[k], v)
			} else {
				high[k] = math.Hypot(high[k], v)
			}
		}
	}
	g, w, a := c.Gain, c.WeightLb, c.Grip
	for _, end := range [][3]float64{
		{g.Low, w.Likely, a.Likely},
		{g.High, w.Likely, a.Likely},
		{g.Likely, w.Low, a.Likely},
		{g.Likely, w.High, a.Likely},
		{g.Likely, w.Likely, a.Low},
		{g.Likely, w.Likely, a.High},
	} {
		if end == [3]float64{g.Likely, w.Likely, a.Likely} {
			continue
		}
		y, err := p.shift(end[0], end[1], end[2])
		if err != nil {
			return low, high, err
		}
		add(y.minus(mid).scaled(1 / z80))
	}
	for _, side := range []float64{-1, 1} {
		v := p.car
		v.model.GripG *= math.Exp(side * p.grip)
		before, err := p.run(v)
		if err != nil {
			return low, high, err
		}
		after, err := p.run(v.changed(g.Likely, w.Likely, a.Likely))
		if err != nil {
			return low, high, err
		}
		add(after.minus(before).minus(mid))
	}
	e := p.Before.fit.eras[p.Before.fit.nextEra]
	size := math.Hypot(math.Log1p(g.Likely), math.Log1p(w.Likely/p.car.model.WeightLb))
	for k := range mid {
		own := math.Sqrt(math.Pow(powerMisfit*e.power[k], 2)+math.Pow(gripMisfit*e.grip[k], 2)+otherMisfit*otherMisfit) * size
		low[k], high[k] = math.Hypot(low[k], own), math.Hypot(high[k], own)
	}
	return low, high, nil
}
