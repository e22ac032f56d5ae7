package powertrain

// Engine turns air into torque.
type Engine struct {
	PeakW    float64 // brake power at its peak in standard air, W
	PeakRate float64 // speed of that peak, rad/s
	// TorquePeak is the speed of the torque peak over PeakRate, 0.5 to 0.9; Rise how
	// much torque is missing below it: the share lost is Rise times the square of the
	// distance, as a share of PeakRate.
	TorquePeak, Rise float64
	Friction         float64 // friction torque over brake torque, at PeakRate
	Inertia          float64 // with flywheel, or flexplate and pump, kg m²
	Limit            float64 // speed at which the limiter cuts in, rad/s
	Breathing        Breathing
}

// shape is the brake torque in standard air over that at PeakRate: two parabolas
// that meet at the torque peak. The upper one is bent so that u·shape has its
// maximum at 1.
func (e *Engine) shape(u float64) float64 {
	above := 1 - e.TorquePeak
	bend := 1 / (above*above + 2*above)
	d := u - e.TorquePeak
	s := 1 - bend*d*d
	if d < 0 {
		s = 1 - e.Rise*d*d
	}
	return max(s, 0) / (1 - bend*above*above)
}

// friction is the friction torque over the brake torque at PeakRate. It grows with
// speed as the mean effective pressures of Heywood's eq. 13.6, 0.97 + 0.15 n + 0.05 n²
// bar (n in 1000/min, from memory), do up to 7000/min.
func (e *Engine) friction(u float64) float64 {
	return e.Friction * (0.22 + 0.23*u + 0.55*u*u)
}

// torque is the brake torque at a speed, N m: what is indicated follows the charge
// (1 in standard air) and the throttle (0 shut, 1 open), the friction does not.
func (e *Engine) torque(rate, charge, throttle float64) float64 {
	u := rate / e.PeakRate
	f := e.friction(u)
	indicated := (e.shape(u) + f) * charge * throttle
	if rate > e.Limit { // the limiter takes the torque away within 3 % of speed
		indicated *= max(1-(rate/e.Limit-1)/0.03, 0)
	}
	return e.PeakW / e.PeakRate * (indicated - f)
}

// Power is the brake power at a speed in rad/s, in the given air, W.
func (e *Engine) Power(rate float64, a Air) float64 {
	return rate * e.torque(rate, e.Breathing.charge(a), 1)
}
