package powertrain

// shaft is the gearbox's input speed over road speed without slip, rad/m.
func (r *run) shaft() float64 {
	return r.vehicle.Gearbox.Ratios[r.gear] / r.vehicle.Tires.Radius
}

// geared is the state with the engine at the road's speed, where they are one.
func (r *run) geared(s state) state {
	if r.vehicle.Clutch != nil && !r.slipping && !r.shifting {
		s.engine = s.v * r.shaft() * (1 + s.slip)
	}
	return s
}

// crossing finds the first thing that happens between two states: the share of the
// step up to it, and what it does; nil when nothing does.
func (r *run) crossing(from, to state) (share float64, event func()) {
	share = 1
	at := func(before, after float64, what func()) { // before is above 0 and falls through it
		if after > 0 {
			return
		}
		if f := max(before, 0) / max(before-after, 1e-12); f < share || event == nil {
			share, event = min(f, 1), what
		}
	}
	if r.slipping {
		ahead := func(s state) float64 { return s.engine - s.v*r.shaft()*(1+s.slip) }
		at(ahead(from), ahead(to), func() { r.slipping = false })
	} else if !r.shifting && r.gear < len(r.vehicle.Gearbox.Ratios)-1 {
		top := r.vehicle.Gearbox.ShiftRate
		at(top-from.engine, top-to.engine, r.change)
	}
	for _, x := range [...]float64{r.luck.SpinM, r.luck.LiftM} {
		if from.x < x-1e-6 {
			at(x-from.x, x-to.x, func() {})
		}
	}
	return share, event
}

// change begins a gear change.
func (r *run) change() {
	r.gear++
	r.shifting = true
	r.shiftEnd = r.t + max(r.vehicle.Gearbox.ShiftS+r.luck.ShiftS, 0)
	if r.gear == 2 || len(r.vehicle.Gearbox.Ratios) == 2 {
		r.shiftEnd += r.luck.MissS
	}
}

// engage ends it. A clutch pulls the engine down to the road's speed: of its surplus
// momentum the gearbox's Kick reaches the wheels, as in an inelastic collision.
func (r *run) engage() {
	r.shifting = false
	if r.vehicle.Clutch == nil {
		return
	}
	shaft, e, c := r.shaft(), r.vehicle.Engine.Inertia, &r.vehicle.Chassis
	if surplus := r.engine - r.v*shaft; surplus > 0 {
		r.v += r.vehicle.Gearbox.Kick * e * shaft * surplus / (c.Mass + r.wheels + e*shaft*shaft)
	}
}
