package powertrain

import (
	"math"
	"math/rand/v2"
)

// What is drawn must be held back by its limit for most of the first 60 ft, and run
// a quarter mile in a time that is raced.
const (
	heldBack          = 0.55
	quickest, slowest = 6.8, 18
)

// Draw invents a vehicle that a given limit holds back in the launch, parts first:
// what the limit allows is drawn, the other parts have something to spare, and a run
// shows whether it is so; if not, another is drawn. No motorcycle has a converter.
func Draw(r *rand.Rand, limit Limit, motorcycle bool) Vehicle {
	for {
		d := draft{Rand: r, limit: limit}
		ok := false
		if motorcycle && limit != ConverterLimit {
			ok = d.bike()
		} else {
			ok = d.car()
		}
		if !ok || d.v.launch()[limit] < heldBack {
			continue
		}
		if et := d.v.Run(Standard, Luck{}).ET[Marks-1]; et > quickest && et < slowest {
			return d.v
		}
	}
}

// draft is a vehicle being drawn.
type draft struct {
	*rand.Rand
	v      Vehicle
	limit  Limit
	target float64 // about what it will run, s
	launch float64 // acceleration that the limit allows, m/s²
}

func (d *draft) between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// aim draws how quick it is about to be. The first 60 ft take about a seventh of the
// quarter (common practice, no source), the rollout on top.
func (d *draft) aim(low, high float64) {
	d.target = d.between(low, high)
	t := d.target/7 + 0.28
	d.launch = 2 * 60 * foot / (t * t) * d.between(0.9, 1.15)
}

// allowed is the acceleration that a limit is to allow.
func (d *draft) allowed(l Limit) float64 {
	if l == d.limit {
		return d.launch
	}
	return d.launch * d.between(1.2, 1.9)
}

// engine draws one that makes the power for the target at the wheels: what constant
// power takes for a quarter mile, P = 9 m s²/(8 t³), and some for the launch.
func (d *draft) engine(share, lowRPM, highRPM float64) *Engine {
	const s = 1320 * foot
	wheels := 9. / 8 * d.v.Chassis.Mass * s * s / math.Pow(d.target, 3) * d.between(1.05, 1.25)
	rate := d.between(lowRPM, highRPM) * math.Pi / 30
	d.v.Engine = Engine{
		PeakW: wheels / share, PeakRate: rate,
		TorquePeak: d.between(0.55, 0.85), Rise: d.between(0.3, 1.2), Friction: d.between(0.1, 0.2),
		Limit: rate * d.between(1.09, 1.15), Breathing: d.breathing(),
	}
	return &d.v.Engine
}

func (d *draft) breathing() Breathing {
	b := Breathing{
		PressureLaw: d.between(0.85, 1.1), TemperatureE: d.between(0.35, 0.75),
		Efficiency: d.between(0.55, 0.76),
	}
	switch u := d.Float64(); {
	case u < 0.6:
		return b
	case u < 0.8:
		b.Hold, b.BoostPa = Ratio, d.between(35e3, 100e3)
	case u < 0.9:
		b.Hold, b.BoostPa = Gauge, d.between(40e3, 150e3)
	default:
		b.Hold, b.BoostPa = Absolute, d.between(40e3, 150e3)
	}
	if b.Hold != Ratio || d.Float64() < 0.4 {
		b.Intercooler = d.between(0.4, 0.8)
	}
	return b
}

// tires draws the driven ones, with the grip that allows the acceleration.
func (d *draft) tires() bool {
	t := &d.v.Tires
	t.Sensitivity, t.Hold, t.Overdriven = d.between(0.02, 0.12), d.between(0.93, 0.99), d.between(0, 0.06)
	want := d.v.Chassis.Mass * d.allowed(TireLimit)
	low, high := 0.3, 4.
	for range 40 {
		t.Grip = (low + high) / 2
		if d.v.traction(t.Grip)*t.Hold < want {
			low = t.Grip
		} else {
			high = t.Grip
		}
	}
	t.Stiffness = 3 * t.Grip / d.between(0.1, 0.3)
	return t.Grip > 0.75 && t.Grip < 2.8 // a worn street tire to a slick on a prepared track
}

// gears draws a gearbox: the first gear by the thrust wanted in the launch from a
// torque at its input, the last by the speed at the finish.
func (d *draft) gears(torque, thrust float64, fewest, most int, coupled float64) bool {
	g, e := &d.v.Gearbox, &d.v.Engine
	g.ShiftRate = e.PeakRate * d.between(1.02, 1.07)
	radius := d.v.Tires.Radius
	trapSpeed := 1.38 * 1320 * foot / d.target * d.between(1, 1.1)
	first, last := thrust/(torque*g.Efficiency)*radius, g.ShiftRate*coupled/trapSpeed*radius
	spread := first / last
	n := fewest + int(math.Round(float64(most-fewest)*min(max((spread-1.7)/1.8, 0), 1)))
	step := math.Pow(spread, 1/float64(n-1))
	if step < 1.12 || step > 2 {
		return false
	}
	bend := d.between(0.95, 1.2)
	g.Ratios = make([]float64, n)
	for i := range g.Ratios {
		g.Ratios[i] = last * math.Pow(spread, math.Pow(float64(n-1-i)/float64(n-1), bend))
	}
	return true
}
