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
}

// timing is one run as it was, unrounded; NaN where it never came.
type timing struct {
	et, mph [predict.Marks]float64
}

// run drives the machine in steps of two milliseconds.
func (m *machine) run(air state, e effects) timing {
	var (
		x, v, t, start float64
		gear           int
		shiftEnd       float64
		trapAt         float64
		mark           predict.Mark
		out            timing
	)
	scale := m.passes * m.peak / m.peakRate * m.airFactor(air) * (1 + e.power)
	drag := air.density() * m.dragArea / 2
	for mark < predict.Marks {
		if t > 60 {
			for ; mark < predict.Marks; mark++ {
				out.et[mark], out.mph[mark] = math.NaN(), math.NaN()
			}
			break
		}
		ratio := m.ratios[gear] / m.radius
		rate := v * ratio
		if rate > m.redline && gear < len(m.ratios)-1 && t >= shiftEnd {
			gear++
			shiftEnd = t + m.shiftS + e.shiftS
			if gear == 2 || gear == 1 && len(m.ratios) == 2 {
				shiftEnd += e.missS
			}
			ratio = m.ratios[gear] / m.radius
			rate = v * ratio
		}
		turning := m.mass + m.wheels/m.radius/m.radius
		torque := scale
		if rate < m.slipRate {
			// The converter or the clutch slips; the engine holds its speed.
			torque *= m.torque(m.slipRate) * (1 + (m.multiply-1)*(1-rate/m.slipRate))
		} else {
			torque *= m.torque(rate)
			turning += m.engine * ratio * ratio
		}
		if t < shiftEnd {
			torque = 0
		}
		lifted := e.liftFt > 0 && x > e.liftFt*units.MetrePerFoot
		if lifted {
			torque *= e.left
		}
		thrust, most := torque*ratio, m.gripForce(x, e)
		if v < 15 {
			thrust *= 1 + e.launch
			most *= 1 + e.launch
		}
		if thrust > most {
			thrust = 0.97 * most // a spinning tyre holds a little less
		}
		thrust = math.Min(thrust, m.wheelieG*gravity*m.mass*(1+e.launch))
		a := (thrust - drag*v*v - m.rolling*m.mass*gravity) / turning
		if lifted {
			a -= e.brake
		}
		nx, nv := x+v*stepS+a*stepS*stepS/2, v+a*stepS
		if nv < 0 {
			nv = 0
		}
		t += stepS
		if x < rollout && nx >= rollout {
			start = t - (nx-rollout)/nv
		}
		at := mark.Ft() * units.MetrePerFoot
		if from := at - trap; x < from && nx >= from {
			trapAt = t - (nx-from)/nv
		}
		if nx >= at {
			end := t - (nx-at)/nv
			out.et[mark] = end - start
			if mark > predict.At60 {
				out.mph[mark] = trap / (end - trapAt) / units.MetrePerSecPerMPH
			}
			mark++
		}
		x, v = nx, nv
	}
	return out
}

// gripForce is what the tyres can put down, weight transfer solved for.
func (m *machine) gripForce(x float64, e effects) float64 {
	mu := m.grip
	if x < e.spinFt*units.MetrePerFoot {
		mu *= 1 - e.spin
	}
	weight := m.mass * gravity
	if m.drive == predict.FrontDrive {
		return mu * weight * m.driven / (1 + mu*m.height)
	}
	return math.Min(mu*weight, mu*weight*m.driven/math.Max(1-mu*m.height, 0.05))
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
