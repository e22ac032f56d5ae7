package powertrain

import "math"

// car draws one; false when its parts do not go together.
func (d *draft) car() bool {
	c := &d.v.Chassis
	*c = Chassis{
		Mass: d.between(950, 1950), Wheelbase: d.between(2.4, 2.9), Height: d.between(0.45, 0.62),
		Balance: d.between(0.93, 0.99), DragArea: d.between(0.5, 0.85), Rolling: d.between(0.011, 0.018),
	}
	front := d.between(0.44, 0.56) // share of the weight
	switch d.limit {
	case TireLimit:
		d.aim(8.5, 15)
	case WheelieLimit:
		d.aim(7.2, 9.5)
		c.Wheelbase, front = d.between(2.2, 2.6), d.between(0.38, 0.5)
	case ConverterLimit:
		d.aim(8.5, 16)
	default:
		d.aim(10.5, 17)
	}
	c.Ahead = front * c.Wheelbase
	if d.limit == WheelieLimit {
		c.Height = c.Ahead * gravity * c.Balance / d.launch
		if c.Height < 0.42 || c.Height > 0.72 {
			return false
		}
	} else {
		switch u := d.Float64(); {
		case d.target > 13 && u < 0.3:
			c.Drive, c.Ahead = Front, c.Wheelbase*d.between(0.58, 0.65)
		case d.target > 9.5 && u < 0.45:
			c.Drive = All
		}
		c.Bar = c.lifts()*c.Balance < c.Mass*d.launch*1.2
	}
	d.v.Tires = Tires{Radius: d.between(0.3, 0.36), Inertia: d.between(2.5, 5)}
	if !d.tires() {
		return false
	}
	d.v.Gearbox.Efficiency = map[Drive]float64{
		Rear: d.between(0.84, 0.91), Front: d.between(0.86, 0.92),
		All: d.between(0.78, 0.86),
	}[c.Drive]
	if d.limit == ConverterLimit || d.limit != TorqueLimit && d.Float64() < 0.5 {
		return d.automatic()
	}
	return d.manual()
}

func (d *draft) automatic() bool {
	const coupled = 0.94
	e := d.engine(d.v.Gearbox.Efficiency*coupled, 4800, 7200)
	e.Inertia = d.between(0.18, 0.35)
	d.v.Converter = &Converter{StallRatio: d.between(1.6, 2.3), Coupling: d.between(0.85, 0.92), Early: d.between(0, 0.5)}
	stall := e.PeakRate * d.between(0.45, 0.75)
	torque := e.torque(stall, 1, 1)
	d.v.Converter.K = stall / math.Sqrt(torque)
	d.v.Gearbox.ShiftS = d.between(0.03, 0.12)
	// What it multiplies, and the engine gives, on the average of the launch.
	average := torque * (1 + (d.v.Converter.StallRatio-1)*0.7)
	return d.gears(average, d.v.Chassis.Mass*d.allowed(ConverterLimit), 2, 4, coupled)
}

func (d *draft) manual() bool {
	e := d.engine(d.v.Gearbox.Efficiency, 4800, 7500)
	e.Inertia = d.between(0.12, 0.3)
	d.v.Clutch = &Clutch{
		LaunchRate: e.PeakRate * d.between(0.5, 0.85),
		Capacity:   d.between(0.85, 1.2),
		EngageS:    d.between(0.05, 0.4),
	}
	d.v.Gearbox.ShiftS, d.v.Gearbox.Kick = d.between(0.12, 0.35), d.between(0, 0.3)
	torque := e.torque(d.v.Clutch.LaunchRate, 1, 1) * d.v.Clutch.Capacity
	return d.gears(torque, d.v.Chassis.Mass*d.allowed(TorqueLimit), 4, 6, 1)
}
