package powertrain

// state is what the equations of motion carry on. With the clutch holding, the
// engine's speed follows from the road's.
type state struct {
	t, x, v, engine float64
	slip            float64 // of the tires
}

// relaxS is the time constant in which sidewalls and shafts wind up to the slip that
// goes with a thrust, s: a tire's relaxation length (Pacejka ch. 5, some 0.5 m) at
// launch speeds. It keeps slip and thrust, which depend on each other, apart.
const relaxS = 0.05

// Limit is what holds a vehicle back.
type Limit int

// The limits: the tires, a front wheel about to lift, the engine's torque through a
// clutch or a gear, the engine's torque through a converter that still slips.
const (
	TireLimit Limit = iota
	WheelieLimit
	TorqueLimit
	ConverterLimit
)

// moment is a state's rates of change, and what they came from.
type moment struct {
	accel, engineAccel float64 // m/s², rad/s²
	slipRate           float64 // 1/s
	thrust             float64 // at the road, N
	torque             float64 // what the engine gives with the throttle where the driver has it, N m
	through            float64 // torque from converter or clutch into the gearbox, N m
	resistance         float64
	limit              Limit
}

// moment solves the equations of motion at a state.
func (r *run) moment(s state) (m moment) {
	v := r.vehicle
	m.resistance = v.Chassis.resistance(r.density, s.v, r.headwind)
	if r.luck.LiftM > 0 && s.x >= r.luck.LiftM {
		m.resistance += r.luck.Brake * v.Chassis.Mass
	}
	if r.shifting {
		m.accel, m.limit = -m.resistance/(v.Chassis.Mass+r.wheels), TorqueLimit
		m.thrust = m.resistance + v.Chassis.Mass*m.accel
		m.slipRate = -s.slip / relaxS
		return m
	}
	m.torque = r.torque(s)
	turn := r.shaft() * (1 + s.slip) // shaft speed over road speed
	inertia := r.wheels * (1 + s.slip)
	taken := 0.
	m.limit = TorqueLimit
	switch {
	case v.Converter != nil:
		taken, m.through = v.Converter.torques(s.engine, s.v*turn)
		if s.v*turn < v.Converter.Coupling*s.engine {
			m.limit = ConverterLimit
		}
	case r.slipping:
		m.through = v.Clutch.carries(r.launchTorque, s.t) * r.luck.start(s.x)
	default:
		m.through = m.torque
		inertia += v.Engine.Inertia * r.shaft() * turn * v.Gearbox.Efficiency
	}
	lever := r.shaft() * v.Gearbox.Efficiency
	m.accel = (m.through*lever - m.resistance) / (v.Chassis.Mass + inertia)
	m.thrust = v.Chassis.Mass*m.accel + m.resistance
	if most, by := r.most(s.x); m.thrust > most {
		m.limit = by
		if by == TireLimit && v.Clutch != nil {
			most *= 1 - v.Tires.Overdriven*(1-most/m.thrust)
		}
		m.thrust = most
		m.accel = (most - m.resistance) / v.Chassis.Mass
		m.through = (most + inertia*m.accel) / lever
	}
	load := r.load(m.thrust)
	m.slipRate = (v.Tires.slip(m.thrust, load, v.Tires.at(r.grip(s.x), load, r.standing)) - s.slip) / relaxS
	switch {
	case v.Converter != nil:
		m.engineAccel = (m.torque - taken) / v.Engine.Inertia
	case r.slipping:
		m.engineAccel = (m.torque - m.through) / v.Engine.Inertia
		if s.engine >= v.Clutch.LaunchRate && m.engineAccel > 0 {
			m.engineAccel = 0 // held by the launch limiter, or by hand
		}
	}
	if s.v <= 0 && m.accel < 0 {
		m.accel = 0
	}
	return m
}

// torque is the engine's with the throttle as the driver wants it, N m.
func (r *run) torque(s state) float64 {
	t := r.vehicle.Engine.torque(s.engine, r.charge, r.luck.throttle(s.x, s.t))
	if s.engine < idle {
		t = max(t, 0)
	}
	return t * (1 + r.luck.Power) * r.luck.start(s.x)
}

const idle = 100 // rad/s

// grip is the tires' coefficient at a place, under the load at rest.
func (r *run) grip(x float64) float64 {
	g := r.vehicle.Tires.Grip * (1 + r.luck.Grip)
	if x < r.luck.SpinM {
		g *= 1 - r.luck.Spin
	}
	return g
}

// most is the thrust that tires and front wheels allow at a place, N.
func (r *run) most(x float64) (thrust float64, by Limit) {
	tires := r.traction
	if x < r.luck.SpinM {
		tires = r.tractionSpinning
	}
	start := r.luck.start(x)
	tires *= start
	if front := r.vehicle.Chassis.lifts() * r.vehicle.Chassis.Balance * start; front < tires {
		return front, WheelieLimit
	}
	return tires, TireLimit
}
