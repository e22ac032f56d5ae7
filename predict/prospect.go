package predict

import (
	"fmt"
	"math"
)

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

// How well the launch grip of the run model is known, in logs: before there is a slip
// with a 60 ft time, and after.
const gripUnseenSD, gripSeenSD = 0.25, 0.05

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
	return v.runOf(&p.next, air)
}

// lever is one figure of each of a change's, in its order.
type lever struct{ gain, lb, grip, launch float64 }

func (c Change) likely() lever {
	return lever{c.Gain.Likely, c.WeightLb.Likely, c.Grip.Likely, c.Launch.Likely}
}

// shift is what the change makes of the logs of the run, on the average of what may
// limit the launch.
func (p *Prospect) shift(x lever) (vec, error) {
	y, err := p.run(p.car.changed(x.gain, x.lb, x.grip, x.launch))
	return y.minus(p.logs), err
}

// shiftOf is the same of a vehicle somewhat different from the likely one.
func (p *Prospect) shiftOf(v vehicle, x lever) (vec, error) {
	before, err := p.run(v)
	if err != nil {
		return vec{}, err
	}
	after, err := p.run(v.changed(x.gain, x.lb, x.grip, x.launch))
	return after.minus(before), err
}

// LaunchFor is how much harder, as a share, the vehicle must leave for a 60 ft time in s,
// whatever brings it, with the other changes in: their own part of the 60 ft is not had twice.
func (p *Prospect) LaunchFor(sixtyS float64, beside Change) (float64, error) {
	const softest, hardest = -0.6, 2
	log := math.Log(sixtyS / p.Before.ETs[At60].Centre)
	low, high := softest, float64(hardest)
	over := func(launch float64) (bool, error) {
		y, err := p.shift(beside.With(Change{Launch: Exactly(launch)}).likely())
		return y[timeAt[At60]] > log, err
	}
	slow, err := over(high)
	if err != nil {
		return 0, err
	}
	if quick, err := over(low); err != nil || slow || !quick {
		return 0, fmt.Errorf(
			"60 ft in %.3f s is out of this vehicle's reach: it runs %.3f now",
			sixtyS,
			p.Before.ETs[At60].Centre,
		)
	}
	for range 40 {
		mid := (low + high) / 2
		more, err := over(mid)
		if err != nil {
			return 0, err
		}
		if more {
			low = mid
		} else {
			high = mid
		}
	}
	return high, nil
}

// PowerHP is the effective power at the wheels in standard air that the runs
// imply: what gears, converter and tyres make of the engine's.
func (p *Prospect) PowerHP() float64 { return p.car.model.PowerHP }
