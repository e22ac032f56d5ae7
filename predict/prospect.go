package predict

import (
	"math"
	"os"
	"strconv"
)

// Prospect is a vehicle as its runs show it, in the air and on the day of its
// next run: changes are tried on it.
type Prospect struct {
	Before Forecast
	next   Pass
	car    vehicle
	logs   vec // of the run model, before
	grip   float64
	pull float64
}

// gripDoubt is how well the launch grip of the run model is known, in logs:
// before there is a slip with a 60 ft time, and after.
const gripUnseenSD, gripSeenSD = 0.25, 0.05

// NewProspect fits the run model to the vehicle's runs, as Expect does.
func NewProspect(history []Pass, now Pass) (*Prospect, error) {
	f, err := Expect(history, now)
	if err != nil {
		return nil, err
	}
	p := &Prospect{Before: f, next: *f.fit.next, car: f.fit.eras[f.fit.nextEra].car, grip: gripUnseenSD}
	for i := range f.fit.samples {
		if f.fit.samples[i].has[timeAt[At60]] {
			p.grip = gripSeenSD
		}
	}
	if os.Getenv("FOL") != "" { p.car.follows = launchFollows(p.next.Machine.Kind, p.car.model) }
	l := f.law.mean
	p.logs, err = p.run(p.car)
	p.pull = l[2]+l[3]-p.logs[2]-p.logs[3]
	p.logs, err = p.run(p.car)
	return p, err
}

func (p *Prospect) run(v vehicle) (vec, error) {
	air, _ := p.Before.fit.airOf(&p.next)
	return v.run(air, headwind(&p.next))
}

// PowerHP is the effective power at the wheels in standard air that the runs
// imply, and GripG their launch.
func (p *Prospect) PowerHP() float64 { return p.car.model.PowerHP }

// GripG is the steady acceleration that the launch is held to, in g.
func (p *Prospect) GripG() float64 { return p.car.model.GripG }

// WeightLb is the weight that the run model has.
func (p *Prospect) WeightLb() float64 { return p.car.model.WeightLb }

// with is the vehicle with some power, weight and grip added.
func (v vehicle) with(gain, lb, grip float64) vehicle {
	m := v.model
	m.PowerHP *= math.Pow(1+gain, reaches)
	m.WeightLb *= math.Pow(1+lb/m.WeightLb, reachesW)
	m.Inertia *= v.model.WeightLb / m.WeightLb // what turns is not what is taken out
	m.GripG *= (1 + grip) * math.Pow((1+gain)/(1+lb/v.model.WeightLb), v.follows)
	v.model = m
	return v
}

// shift is what the change makes of the logs of the run.
func (p *Prospect) shift(gain, lb, grip float64) (vec, error) {
	y, err := p.run(p.car.with(gain, lb, grip))
	d := y.minus(p.logs)
	m := 0.0105; if p.next.Machine.Kind == Motorcycle { m = 0.0015 }
	for k := range d { if k==1||k==3||k==5||k==7 { d[k] += slopeP*(p.pull-m)*math.Log1p(gain) } }
	return d, err
}

func launchFollows(kind Kind, r RunModel) float64 {
	x := r.GripG / math.Pow(r.PowerHP/r.WeightLb, 2./3)
	if kind == Motorcycle {
		return 0.33 * math.Min(math.Max((x-3)/0.8, 0), 1)
	}
	return 0.29 * math.Min(math.Max(x-3.6, 0), 1)
}

var reaches, reachesW = envf("RP", 1), envf("RW", 1)
var slopeP = envf("SP", 0)
func envf(n string, d float64) float64 { if v, err := strconv.ParseFloat(os.Getenv(n), 64); err == nil { return v }; return d }
