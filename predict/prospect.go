package predict

import "math"

// Prospect is a vehicle as its runs show it, in the air and on the day of its
// next run: changes are tried on it.
type Prospect struct {
	Before Forecast
	Finish Mark // where changes are ranked and compared: the usual one, free to set
	next   Pass
	car    vehicle
	logs   vec     // of the run model, before
	grip   float64 // standard deviation of ln GripG
}

const (
	// How well the launch grip of the run model is known, in logs: before there is
	// a slip with a 60 ft time, and after.
	gripUnseenSD, gripSeenSD = 0.25, 0.05

	// A run feels less of a change in weight than of one in power: engine, gears
	// and wheels turn on as heavy as before.
	// Set on invented upgrades for tuning.
	weightShare = 0.85
)

// NewProspect fits the run model to the vehicle's runs, as Expect does.
func NewProspect(history []Pass, now Pass) (*Prospect, error) {
	f, err := Expect(history, now)
	if err != nil {
		return nil, err
	}
	p := &Prospect{Before: f, Finish: f.Finish, next: *f.fit.next, car: f.fit.eras[f.fit.nextEra].car, grip: gripUnseenSD}
	if p.logs, err = p.run(p.car); err != nil {
		return nil, err
	}
	for i := range f.fit.samples {
		if f.fit.samples[i].has[timeAt[At60]] {
			p.grip = gripSeenSD
			break
		}
	}
	return p, nil
}

func (p *Prospect) run(v vehicle) (vec, error) {
	air, _ := p.Before.fit.airOf(&p.next)
	return v.run(air, headwind(&p.next))
}

// changed is the vehicle with some power, weight and grip added.
func (v vehicle) changed(gain, lb, grip float64) vehicle {
	m, weight := v.model, 1+lb/v.model.WeightLb
	m.PowerHP *= 1 + gain
	m.WeightLb *= math.Pow(weight, weightShare)
	m.GripG *= (1 + grip) * math.Pow((1+gain)/weight, v.follows)
	v.model = m
	return v
}

// shift is what the change makes of the logs of the run.
func (p *Prospect) shift(gain, lb, grip float64) (vec, error) {
	y, err := p.run(p.car.changed(gain, lb, grip))
	return y.minus(p.logs), err
}

// PowerHP is the effective power at the wheels in standard air that the runs
// imply: what gears, converter and tyres make of the engine's.
func (p *Prospect) PowerHP() float64 { return p.car.model.PowerHP }
