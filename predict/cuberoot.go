package predict

import (
	"fmt"
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
	was, lb := p.Before.ETs[p.Finish].Centre, p.car.model.WeightLb
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
	et = e.power[k] + p.car.follows*e.grip[k]
	if s := speedAt[m]; s >= 0 {
		mph = e.power[s] + p.car.follows*e.grip[s]
	}
	return et, mph
}

// ofWeight is d ln ET/d ln W at the finish.
func (p *Prospect) ofWeight() float64 {
	const step = 0.01
	y, err := p.shift(0, step*p.car.model.WeightLb, 0)
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

// why says in a sentence why the run model and the cube root differ.
func (p *Prospect) why(c Change) string {
	et, mph := p.exponents()
	switch share := -3 * et; {
	case c.Gain == (Range{}) && c.WeightLb == (Range{}):
		return "the cube root knows no grip"
	case c.Gain == (Range{}):
		return fmt.Sprintf("1 %% of weight is %.2f %% of ET here where the cube root says 0.33: of a change in weight engine, gears and wheels, which turn on as heavy as before, feel nothing", p.ofWeight())
	case share > 0.9:
		return "nearly the whole run is held back by power, so the two agree"
	case mph == 0:
		return fmt.Sprintf("1 %% of power is %.2f %% of ET here where the cube root says 0.33: the launch holds it to %.2f g for about the first %.0f ft, whatever the power",
			-et, p.car.model.GripG, p.gripFt())
	default:
		return fmt.Sprintf("1 %% of power is %.2f %% of ET here where the cube root says 0.33: the launch holds it to %.2f g for about the first %.0f ft, whatever the power; of the speed it is %.2f %%, %s",
			-et, p.car.model.GripG, p.gripFt(), mph, gainsIn(3*mph))
	}
}

// gainsIn says how much of the cube root's speed comes.
func gainsIn(share float64) string {
	if share > 0.95 {
		return "all that the cube root gives"
	}
	return "where the cube root says 0.33"
}

// mostTried is the largest gain of the invented upgrades that the doubt was set
// on, mostWeightTried the largest share of the weight.
const mostTried, mostWeightTried = 0.4, 0.1

func (p *Prospect) warnings(c Change) []string {
	var w []string
	if p.Before.RunsUsed == 0 {
		w = append(w, "no run of this vehicle yet: an ordinary launch is taken, and a tight one gains less")
	}
	if c.Gain.Likely > mostTried || c.Gain.Likely < -mostTried {
		w = append(w, fmt.Sprintf("%+.0f %% of power is more than this was tried on (40 %%): gearing, tyres and driveline of today will not be right for it", 100*c.Gain.Likely))
	}
	if share := c.WeightLb.Likely / p.car.model.WeightLb; math.Abs(share) > mostWeightTried {
		w = append(w, fmt.Sprintf("%+.0f %% of weight is more than this was tried on (10 %%): where it comes off moves the launch too", 100*share))
	}
	if c.Gain.Likely > 0 && c.Grip == (Range{}) {
		w = append(w, "the launch is taken as it is: more power that spins the tyres costs time, --grip says what the tyres will do")
	}
	return w
}
