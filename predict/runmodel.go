package predict

import (
	"errors"
	"math"

	"slipcase/weather/units"
)

// RunModel is a car as two phases see it: the tyres (or the front wheel, about
// to lift) limit the launch to a steady acceleration, then the engine limits
// the rest to a steady power,
//
//	m(1+δ) dv/dt = min(m(1+δ) a, P/v) - ½ ρ CdA (v+w)|v+w| - Crr m g.
//
// Constant power: G. T. Fox, "On the physics of drag racing", Am. J. Phys. 41
// (1973) 311. Grip limit, load transfer and rotating masses: T. D. Gillespie,
// Fundamentals of Vehicle Dynamics (1992), ch. 2; W. F. and D. L. Milliken, Race
// Car Vehicle Dynamics (1995). Rolling resistance and drag: J. Y. Wong, Theory of
// Ground Vehicles, ch. 3. The power is an effective one: what gears, converter
// and tyres make of the engine on the average of a run.
type RunModel struct {
	WeightLb    float64 // with driver, above 0
	PowerHP     float64 // effective at the wheels in the air of the run, above 0
	GripG       float64 // largest launch acceleration, in g; +Inf for no limit
	DragAreaFt2 float64 // CdA, 0 or more
	Rolling     float64 // rolling resistance coefficient Crr, 0 or more
	Inertia     float64 // δ, the rotating parts as a share of the mass
	RolloutFt   float64 // how far it rolls before the clock starts
}

// Timing is what an ideal timer would print for a run. MPH is the mean speed
// over the last 66 ft before each mark; at 60 ft there is none, and it is 0.
type Timing struct {
	ET, MPH [Marks]float64
}

const (
	gravity = 9.80665 // m/s², standard
	trapFt  = 66
	// Step sizes at which the error is below 0.05 ms: see the test.
	gripStepS = 0.25
	powerStep = 0.6 // in the cube root of the distance, m^⅓
	dragStep  = 0.2 // in lengths of 1/(3 drag)
)

var (
	errStuck    = errors.New("the resistance is greater than the thrust: the car never reaches the finish")
	errRunModel = errors.New(
		"weight, power and grip of a run must be above 0, the air's density and the resistances not below it",
	)
)

// Run times a run through air of the given density against a headwind
// (negative: from behind).
func (m RunModel) Run(densityKgM3, headwindMPH float64) (Timing, error) {
	mass := m.WeightLb * units.KgPerLb
	inertial := mass * (1 + m.Inertia)
	d := dynamics{
		grip:  m.GripG * gravity,
		power: m.PowerHP * units.WattPerHP / inertial,
		drag:  densityKgM3 * m.DragAreaFt2 * units.MetrePerFoot * units.MetrePerFoot / 2 / inertial,
		roll:  m.Rolling * mass * gravity / inertial,
		wind:  headwindMPH * units.MetrePerSecPerMPH,
	}
	if !(mass > 0 && d.power > 0 && d.grip > 0 && d.drag >= 0 && d.roll >= 0 && m.RolloutFt >= 0) ||
		math.IsInf(d.power, 0) && math.IsInf(d.grip, 0) || math.IsNaN(d.wind) {
		return Timing{}, errRunModel
	}
	return d.run(m.RolloutFt * units.MetrePerFoot)
}

// dynamics is the equation of motion divided by the inertial mass, in SI units.
type dynamics struct{ grip, power, drag, roll, wind float64 }

// resistance is the deceleration by air and tyres at speed v.
func (d dynamics) resistance(v float64) float64 {
	z := v + d.wind
	return d.drag*z*math.Abs(z) + d.roll
}

// stops are the distances at which time is taken, in order, after the rollout:
// each mark, and the start of its speed trap.
var stops = func() (at [2*Marks - 1]float64) {
	for m := At60; m < Marks; m++ {
		at[2*m] = m.Ft() * units.MetrePerFoot
		if m > At60 {
			at[2*m-1] = (m.Ft() - trapFt) * units.MetrePerFoot
		}
	}
	return at
}()

func (d dynamics) run(rollout float64) (Timing, error) {
	var times [len(stops)]float64
	next, start := -1, math.NaN() // -1: the rollout comes first
	stop := func() float64 {
		if next < 0 {
			return rollout
		}
		return stops[next]
	}
	pass := func(t float64) {
		if next < 0 {
			start = t
		} else {
			times[next] = t
		}
		next++
	}
	if rollout == 0 {
		pass(0)
	}
	g := gripPhase{d: d}
	if !g.advance(stop, pass, func() bool { return next == len(stops) }) {
		return Timing{}, errStuck
	}
	if next < len(stops) {
		p := newPowerPhase(g)
		for next < len(stops) {
			p.advanceTo(stop())
			if !(p.t >= g.t) || math.IsInf(p.t, 0) {
				return Timing{}, errStuck
			}
			pass(p.t)
		}
	}
	var out Timing
	for m := At60; m < Marks; m++ {
		out.ET[m] = times[2*m] - start
		if m > At60 {
			out.MPH[m] = trapFt * units.MetrePerFoot / (times[2*m] - times[2*m-1]) / units.MetrePerSecPerMPH
		}
	}
	return out, nil
}

// gripPhase is the launch, stepped in time: its acceleration is nearly constant,
// so that a fourth-order step is all but exact.
type gripPhase struct {
	d       dynamics
	x, v, t float64
}

// advance runs until power, not grip, is the limit, or all is done.
func (g *gripPhase) advance(stop func() float64, pass func(float64), done func() bool) bool {
	if math.IsInf(g.d.grip, 1) {
		return true
	}
	limit := g.d.power / g.d.grip
	for g.v < limit*(1-1e-10) {
		a := g.d.grip - g.d.resistance(g.v)
		if a < 1e-6 {
			// Steady at the speed the air allows; standing still it never starts.
			if g.v < 0.1 {
				return false
			}
		}
		before := *g
		g.stepBy(math.Min(gripStepS, (limit-g.v)/math.Max(a, 1e-9)))
		for !done() && g.x >= stop() {
			pass(before.timeAt(stop()))
		}
		if done() {
			return true
		}
	}
	return true
}

// stepBy is the classical fourth-order Runge-Kutta step; the acceleration depends
// on the speed alone.
func (g *gripPhase) stepBy(h float64) {
	acc := func(v float64) float64 { return g.d.grip - g.d.resistance(v) }
	a1 := acc(g.v)
	a2 := acc(g.v + h/2*a1)
	a3 := acc(g.v + h/2*a2)
	a4 := acc(g.v + h*a3)
	g.x += h*g.v + h*h/6*(a1+a2+a3)
	g.v += h / 6 * (a1 + 2*a2 + 2*a3 + a4)
	g.t += h
}

// timeAt finds by Newton's method the step that ends at x, a little ahead.
func (g gripPhase) timeAt(x float64) float64 {
	a := math.Max(g.d.grip-g.d.resistance(g.v), 1e-9)
	h := 2 * (x - g.x) / (g.v + math.Sqrt(g.v*g.v+2*a*(x-g.x)))
	for range 20 {
		end := g
		end.stepBy(h)
		miss := end.x - x
		if math.Abs(miss) < 1e-10 || end.v == 0 {
			break
		}
		h -= miss / end.v
	}
	return g.t + h
}

// powerPhase is the rest. Without resistance the cube of the speed grows
// linearly with distance, v³ = 3 k y³ where y is the cube root of the distance
// from where constant power alone would have started. What resistance takes from
// the cube is stepped along y: the ideal is exact, and the loss is smooth.
type powerPhase struct {
	d       dynamics
	origin  float64 // distance at y = 0
	y       float64
	loss, t float64 // 3 k y³ - v³, and time
}

func newPowerPhase(g gripPhase) *powerPhase {
	y := g.v / math.Cbrt(3*g.d.power)
	return &powerPhase{d: g.d, origin: g.x - y*y*y, y: y, t: g.t}
}

func (p *powerPhase) advanceTo(x float64) {
	end := math.Cbrt(x - p.origin)
	if end <= p.y {
		return
	}
	// Drag alone pulls v³ to its end value over the length 1/(3 drag): steps stay
	// well inside it.
	far := end*end*end - p.y*p.y*p.y
	n := math.Ceil(math.Max((end-p.y)/powerStep, far*3*p.d.drag/dragStep))
	h := (end - p.y) / n
	for range int(n) {
		p.stepBy(h)
	}
}

func (p *powerPhase) stepBy(h float64) {
	l1, t1 := p.slopes(p.y, p.loss)
	l2, t2 := p.slopes(p.y+h/2, p.loss+h/2*l1)
	l3, t3 := p.slopes(p.y+h/2, p.loss+h/2*l2)
	l4, t4 := p.slopes(p.y+h, p.loss+h*l3)
	p.loss += h / 6 * (l1 + 2*l2 + 2*l3 + l4)
	p.t += h / 6 * (t1 + 2*t2 + 2*t3 + t4)
	p.y += h
}

// slopes are d(loss)/dy = 3 v r · 3y², with r the resistance, and dt/dy = 3y²/v.
func (p *powerPhase) slopes(y, loss float64) (dLoss, dTime float64) {
	if y == 0 {
		return 0, 0
	}
	v := math.Cbrt(3*p.d.power*y*y*y - loss)
	return 9 * y * y * v * p.d.resistance(v), 3 * y * y / v
}
