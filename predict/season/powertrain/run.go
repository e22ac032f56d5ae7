package powertrain

// run is a run under way.
type run struct {
	vehicle *Vehicle
	luck    Luck

	density, headwind, charge  float64
	launchTorque               float64 // engine torque at the clutch's launch speed, N m
	traction, tractionSpinning float64 // most thrust of the tires, N
	standing, transfer         float64 // of the driven wheels' load, N and N per N
	wheels                     float64 // inertia of the wheels as mass, kg

	state
	gear     int
	shiftEnd float64
	shifting bool
	slipping bool    // the clutch
	fine     float64 // divides the steps
	watch    func(r *run, from state, m moment, to state)
}

const (
	// Steps of the fourth-order Runge-Kutta method, s: one in the launch, one after
	// it. Halving both moves a quarter mile by less than half a thousandth: see the test.
	launchStep, laterStep = 0.012, 0.04
	launchSpeed           = 12 // m/s
	stable                = 2  // a step in time constants: the method is stable up to 2.78
	endless               = 60 // s: then it is not coming
)

// Run times a run in the given air.
func (v *Vehicle) Run(a Air, l Luck) Timing { return v.timed(a, l, 1, nil) }

func (v *Vehicle) timed(a Air, l Luck, fine float64, watch func(r *run, from state, m moment, to state)) Timing {
	r := &run{
		vehicle: v, luck: l, density: a.Density(), headwind: a.Headwind, charge: v.Engine.Breathing.charge(a),
		slipping: v.Clutch != nil, fine: fine, watch: watch,
	}
	r.standing, r.transfer = v.Chassis.standing()
	r.wheels = v.Tires.Inertia / (v.Tires.Radius * v.Tires.Radius)
	r.traction = v.traction(v.Tires.Grip*(1+l.Grip)) * v.Tires.Hold
	r.tractionSpinning = v.traction(v.Tires.Grip*(1+l.Grip)*(1-l.Spin)) * v.Tires.Hold
	if r.slipping {
		r.engine = v.Clutch.LaunchRate
		r.launchTorque = v.Engine.torque(r.engine, r.charge, 1) * (1 + l.Power)
	} else {
		r.engine = v.Converter.stall(&v.Engine, r.charge*(1+l.Power))
	}
	var c clock
	for !c.done() {
		if r.t > endless {
			c.stuck()
			break
		}
		from, next := r.advance()
		c.pass(from, next)
	}
	return c.Timing
}

// advance makes one step, cut short where something happens in it.
func (r *run) advance() (from, to state) {
	first := r.moment(r.state)
	if r.vehicle.Converter != nil && first.limit <= WheelieLimit && !r.shifting {
		// The driver shuts the throttle until the turbine gives no more than the road takes.
		turbine := r.v * r.shaft() * (1 + r.slip)
		r.engine = r.vehicle.Converter.pumpFor(first.through*(1+1e-6), turbine, r.engine)
		first = r.moment(r.state)
	}
	from = r.state
	h := r.stepS()
	to = r.step(first, h)
	share, event := r.crossing(from, to)
	if event != nil {
		to = r.step(first, h*share)
	}
	if r.watch != nil {
		r.watch(r, from, first, to)
	}
	r.state = to
	if event != nil {
		event()
	}
	if r.shifting && r.t >= r.shiftEnd-1e-9 {
		r.engage()
	}
	r.state = r.geared(r.state)
	return from, to
}

// stepS is the next step, s: up to the next thing that happens by the clock.
func (r *run) stepS() float64 {
	h := laterStep
	if r.v < launchSpeed {
		h = launchStep
	}
	if r.vehicle.Converter != nil {
		h = min(h, stable/r.settling())
	}
	h /= r.fine
	for _, at := range [...]float64{r.shiftEnd, r.luck.Stop.On, r.luck.Stop.Off} {
		if at > r.t+1e-9 {
			h = min(h, at-r.t)
		}
	}
	return h
}

// settling is the rate at which the quicker of pump and tires settles with the other
// held, 1/s, by their steepest slopes.
func (r *run) settling() float64 {
	v := r.vehicle
	damping := r.engine / (v.Converter.K * v.Converter.K) * v.Converter.steepest() // N m s
	pump := damping / v.Engine.Inertia
	thrust := damping * r.shaft() * r.shaft() * v.Gearbox.Efficiency * r.v // N per unit of slip
	return max(pump, (1+thrust*v.Tires.steepest()/r.standing)/relaxS)
}

// step is the classical fourth-order Runge-Kutta step.
func (r *run) step(k1 moment, h float64) state {
	s := r.state
	along := func(v float64, m *moment, h float64) state {
		return r.geared(state{
			t: s.t + h, x: s.x + h*v, v: max(s.v+h*m.accel, 0),
			engine: max(s.engine+h*m.engineAccel, 1), slip: s.slip + h*m.slipRate,
		})
	}
	s2 := along(s.v, &k1, h/2)
	k2 := r.moment(s2)
	s3 := along(s2.v, &k2, h/2)
	k3 := r.moment(s3)
	s4 := along(s3.v, &k3, h)
	k4 := r.moment(s4)
	mean := func(a, b, c, d float64) float64 { return (a + 2*b + 2*c + d) / 6 }
	return along(mean(s.v, s2.v, s3.v, s4.v), &moment{
		accel:       mean(k1.accel, k2.accel, k3.accel, k4.accel),
		engineAccel: mean(k1.engineAccel, k2.engineAccel, k3.engineAccel, k4.engineAccel),
		slipRate:    mean(k1.slipRate, k2.slipRate, k3.slipRate, k4.slipRate),
	}, h)
}
