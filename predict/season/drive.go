package season

import (
	"math"

	"slipcase/predict"
	"slipcase/weather/units"
)

const (
	stepS   = 0.002
	gravity = 9.80665
	rollout = 0.3048 // m
	trap    = 66 * 0.3048
)

// effects are what makes one run differ from the car's ordinary one.
type effects struct {
	launch float64 // share added to thrust and grip while the car is slow
	power  float64 // share added to the engine's torque
	shiftS float64 // seconds added to each gear change
	missS  float64 // seconds added to the second change: a missed gear
	spin   float64 // share of grip lost over the first spinFt
	spinFt float64
	liftFt float64 // distance where the driver lifts; 0 never
	left   float64 // throttle left after that
	brake  float64 // m/s² after that
	grip   float64 // share added to the tires' grip
	stop   Stop
}

// and adds what another thing adds all along.
func (e effects) and(o effects) effects {
	e.launch += o.launch
	e.power += o.power
	e.shiftS += o.shiftS
	e.grip += o.grip
	if o.stop != (Stop{}) {
		e.stop = o.stop
	}
	return e
}

// timing is one run as it was, unrounded; NaN where it never came.
type timing struct {
	et, mph [predict.Marks]float64
}

// drive is a run under way.
type drive struct {
	*machine
	effects
	torqueScale, dragFactor float64

	x, v, t  float64 // m, m/s, s
	gear     int
	shiftEnd float64 // s
}

// run drives the machine in steps of two milliseconds.
func (m *machine) run(air state, e effects) timing {
	d := drive{
		machine: m, effects: e,
		torqueScale: m.passes * m.peak / m.peakRate * m.airFactor(air) * (1 + e.power),
		dragFactor:  air.density() * m.dragArea / 2,
	}
	var (
		start, trapAt float64
		mark          predict.Mark
		out           timing
	)
	for mark < predict.Marks {
		if d.t > 60 {
			for ; mark < predict.Marks; mark++ {
				out.et[mark], out.mph[mark] = math.NaN(), math.NaN()
			}
			break
		}
		x := d.x
		d.step()
		passed := func(at float64) bool { return x < at && d.x >= at }
		when := func(at float64) float64 { return d.t - (d.x-at)/d.v }
		if passed(rollout) {
			start = when(rollout)
		}
		at := mark.Ft() * units.MetrePerFoot
		if passed(at - trap) {
			trapAt = when(at - trap)
		}
		if d.x >= at {
			end := when(at)
			out.et[mark] = end - start
			if mark > predict.At60 {
				out.mph[mark] = trap / (end - trapAt) / units.MetrePerSecPerMPH
			}
			mark++
		}
	}
	return out
}

// step moves the machine on by one step.
func (d *drive) step() {
	a := d.acceleration()
	d.x, d.v = d.x+d.v*stepS+a*stepS*stepS/2, max(d.v+a*stepS, 0)
	d.t += stepS
}

// shift changes up at the redline, the second change with what was missed of it.
func (d *drive) shift() {
	if d.v*d.ratios[d.gear]/d.radius <= d.redline || d.gear == len(d.ratios)-1 || d.t < d.shiftEnd {
		return
	}
	d.gear++
	d.shiftEnd = d.t + d.machine.shiftS + d.effects.shiftS
	if d.gear == 2 || d.gear == 1 && len(d.ratios) == 2 {
		d.shiftEnd += d.missS
	}
}

// acceleration is that of this moment, m/s².
func (d *drive) acceleration() float64 {
	d.shift()
	ratio := d.ratios[d.gear] / d.radius
	rate := d.v * ratio
	turning := d.mass + d.wheels/d.radius/d.radius
	torque := d.torqueScale
	if rate < d.slipRate {
		// The converter or the clutch slips; the engine holds its speed.
		torque *= d.torque(d.slipRate) * (1 + (d.multiply-1)*(1-rate/d.slipRate))
	} else {
		torque *= d.torque(rate)
		turning += d.engine * ratio * ratio
	}
	if d.t < d.shiftEnd {
		torque = 0
	}
	lifted := d.liftFt > 0 && d.x > d.liftFt*units.MetrePerFoot
	switch {
	case lifted:
		torque *= d.left
	case d.stop.shuts(d.t):
		torque *= d.stop.Share
	}
	thrust, most := torque*ratio, d.gripForce(d.x, d.effects)
	if d.v < 15 {
		thrust *= 1 + d.launch
		most *= 1 + d.launch
	}
	if thrust > most {
		thrust = 0.97 * most // a spinning tyre holds a little less
	}
	thrust = min(thrust, d.wheelieG*gravity*d.mass*(1+d.launch))
	a := (thrust - d.dragFactor*d.v*d.v - d.rolling*d.mass*gravity) / turning
	if lifted {
		a -= d.brake
	}
	return a
}

// gripForce is what the tyres can put down, weight transfer solved for.
func (m *machine) gripForce(x float64, e effects) float64 {
	mu := m.grip * (1 + e.grip)
	if x < e.spinFt*units.MetrePerFoot {
		mu *= 1 - e.spin
	}
	weight := m.mass * gravity
	if m.drive == predict.FrontDrive {
		return mu * weight * m.driven / (1 + mu*m.height)
	}
	return min(mu*weight, mu*weight*m.driven/max(1-mu*m.height, 0.05))
}

// airFactor is the power in this air over that in standard air.
func (m *machine) airFactor(a state) float64 {
	// SAE J1349's shape, its pressure and temperature parts apart.
	const pd0, t0 = 101.325, 288.15
	whole := func(pd, t float64) float64 { return 1 / (1.18*(99/pd)*math.Sqrt(t/298.15) - 0.18) }
	effect := math.Log(whole(a.dryKPa, a.kelvin) / whole(pd0, t0))
	switch m.aspiration {
	case predict.Supercharged:
		effect *= 0.95
	case predict.Turbocharged:
		pressure := math.Log(whole(a.dryKPa, t0) / whole(pd0, t0))
		effect += (m.boostBack - 1) * pressure
	}
	return math.Exp(m.airLaw * effect)
}
