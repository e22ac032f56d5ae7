package predict

import (
	"math"

	"slipcase/weather"
)

// vehicle is a run model in standard air, with the law by which the air changes
// its power.
type vehicle struct {
	model     RunModel // WeightLb is what a run feels of the weight: see changed
	weightLb  float64  // on the scales, with driver
	raised    float64  // ln of its power over that which its gears and shifts suit
	breathing Breathing
	launch    Limits  // what may hold its launch back
	engines   float64 // the share of the launch that the engine holds beyond the usual: see takes
	stop      stopCosts
}

// A run feels less of a change in weight than of one in power: engine, gears and wheels
// turn on as heavy as before. Set on invented upgrades for tuning.
const weightShare = 0.88

// The more power is added, the less of it moves a vehicle whose gears, converter and shifts
// suited the power it had: by so much for each unit of its log, the same way back. Set on
// invented upgrades for tuning.
const unsuited = 0.06

// suited is what moves the vehicle of so much more power, both in logs.
func suited(raised float64) float64 { return raised / (1 + unsuited*math.Abs(raised)) }

// changed is the vehicle with some power, weight, tires' grip and launch added, each but
// the weight as a share.
func (v vehicle) changed(gain, lb, grip, launch float64) vehicle {
	weight := 1 + lb/v.weightLb
	v.weightLb += lb
	had := suited(v.raised)
	v.raised += math.Log1p(gain)
	v.model.PowerHP *= math.Exp(suited(v.raised) - had) // the same in one step as in two
	v.model.WeightLb *= math.Pow(weight, weightShare)
	takes := v.shares()
	v.model.GripG = v.model.launchOf(
		(1 + launch) * math.Exp(v.regripped(grip)) * math.Pow(1+gain, takes.power) * math.Pow(weight, -takes.weight),
	)
	return v
}

// launchOf is the launch so many times as hard, but not so soft as never to roll: at the
// least speeds gears and clutch give more than the model's steady launch.
func (r RunModel) launchOf(times float64) float64 {
	return math.Max(r.GripG*times, math.Min(r.GripG, 2*r.Rolling))
}

// runOf gives the logs of a run in its wind and with its throttle stop.
func (v vehicle) runOf(p *Pass, air weather.Air) (vec, error) {
	y, err := v.run(air, windShare*headwind(p))
	return v.stop.slowed(p, y), err
}

// run gives the logs of a run in that air, the textbook's law of the air taken
// as it is.
func (v vehicle) run(air weather.Air, headwindMPH float64) (vec, error) {
	m := v.model
	ratio := v.breathing.PowerRatio(air)
	m.PowerHP *= ratio
	m.GripG = m.launchOf(math.Pow(ratio, v.shares().power))
	t, err := m.Run(air.DensityKgM3(), headwindMPH)
	if err != nil && headwindMPH > 0 {
		// A wind that holds the car back for good was misread, or the power was.
		t, err = m.Run(air.DensityKgM3(), 0)
	}
	return t.logs(), err
}

// slopes are the derivatives of the logs by ln power and by ln grip, in the
// given air.
func (v vehicle) slopes(air weather.Air) (power, grip vec, err error) {
	const e = 0.01
	at := func(dPower, dGrip float64) vec {
		w := v
		w.model.PowerHP *= math.Exp(dPower)
		w.model.GripG *= math.Exp(dGrip)
		y, bad := w.run(air, 0)
		if bad != nil {
			err = bad
		}
		return y
	}
	power = at(e, 0).minus(at(-e, 0)).scaled(1 / (2 * e))
	grip = at(0, e).minus(at(0, -e)).scaled(1 / (2 * e))
	return power, grip, err
}

// windSlope is the derivative of the logs by a headwind in mph.
func (v vehicle) windSlope(air weather.Air) (vec, error) {
	const mph = 3
	against, err := v.run(air, mph)
	if err != nil {
		return vec{}, err
	}
	behind, err := v.run(air, -mph)
	return against.minus(behind).scaled(1. / (2 * mph)), err
}

// thin is the change of the logs for a foot of density altitude: what a doubt
// about the air is worth.
func (v vehicle) thin(air weather.Air) vec {
	const ft = 1000
	// The density of the standard atmosphere falls 2.9 % in its first 1000 ft
	// (ISO 2533).
	thinner := air
	thinner.StationInHg *= 1 - 0.029
	thinner.VapourInHg *= 1 - 0.029
	a, err := v.run(air, 0)
	b, err2 := v.run(thinner, 0)
	if err != nil || err2 != nil {
		return vec{}
	}
	return b.minus(a).scaled(1. / ft)
}
