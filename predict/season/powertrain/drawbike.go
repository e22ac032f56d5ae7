package powertrain

// bike draws a motorcycle; false when its parts do not go together. One that its
// tire holds back is long and has a bar.
func (d *draft) bike() bool {
	c := &d.v.Chassis
	*c = Chassis{
		Motorcycle: true, Mass: d.between(240, 370), Wheelbase: d.between(1.38, 1.6), Height: d.between(0.5, 0.68),
		Balance: d.between(0.92, 0.99), DragArea: d.between(0.3, 0.5), Rolling: d.between(0.014, 0.022),
	}
	front := d.between(0.48, 0.55)
	switch d.limit {
	case TireLimit:
		d.aim(7.5, 11)
		c.Wheelbase, c.Bar = d.between(1.6, 1.9), true
	case WheelieLimit:
		d.aim(8, 11.5)
		c.Wheelbase = d.between(1.4, 1.8)
	default:
		d.aim(10, 14.5)
		c.Wheelbase = d.between(1.38, 1.75)
	}
	c.Ahead = front * c.Wheelbase
	switch d.limit {
	case WheelieLimit:
		c.Height = c.Ahead * gravity * c.Balance / d.launch
	case TorqueLimit:
		c.Height = c.Ahead * gravity * c.Balance / d.allowed(WheelieLimit)
	}
	if c.Height < 0.4 || c.Height > 0.78 {
		return false
	}
	d.v.Tires = Tires{Radius: d.between(0.29, 0.32), Inertia: d.between(0.9, 1.5)}
	if !d.tires() {
		return false
	}
	d.v.Gearbox.Efficiency = d.between(0.87, 0.93)
	e := d.engine(d.v.Gearbox.Efficiency, 8500, 13000)
	e.TorquePeak, e.Inertia = d.between(0.68, 0.88), d.between(0.006, 0.02)
	d.v.Clutch = &Clutch{
		LaunchRate: e.PeakRate * d.between(0.5, 0.8),
		Capacity:   d.between(0.85, 1.1),
		EngageS:    d.between(0.1, 0.5),
	}
	d.v.Gearbox.ShiftS, d.v.Gearbox.Kick = d.between(0.02, 0.1), d.between(0, 1)
	torque := e.torque(d.v.Clutch.LaunchRate, 1, 1) * d.v.Clutch.Capacity
	return d.gears(torque, c.Mass*d.allowed(TorqueLimit), 5, 6, 1)
}
