// Package powertrain runs an invented vehicle down the strip part by part: an
// engine with its own inertia, a converter or a clutch, a gearbox, tires that slip
// under the load they carry, a front wheel that may lift. It knows no forecast and
// shares no equation with one. All quantities are SI, angles in radians.
//
// The order to read it in: engine.go and breathing.go (torque in this air),
// converter.go, clutch.go, gearbox.go, tire.go, chassis.go (what the road takes and
// resists), moment.go (the equations of motion), run.go (their solution),
// timer.go (the clock); draw.go and its fellows invent vehicles.
//
// The physics is that of textbooks, from memory: T. D. Gillespie, Fundamentals of
// Vehicle Dynamics (1992), ch. 1 and 2; J. Y. Wong, Theory of Ground Vehicles, ch. 3;
// W. F. and D. L. Milliken, Race Car Vehicle Dynamics (1995), ch. 2; J. B. Heywood,
// Internal Combustion Engine Fundamentals (1988), ch. 2, 6 and 13; H. B. Pacejka, Tire
// and Vehicle Dynamics, ch. 3.
package powertrain

// Vehicle is the sum of its parts. It has a converter or a clutch, not both.
type Vehicle struct {
	Engine    Engine
	Converter *Converter
	Clutch    *Clutch
	Gearbox   Gearbox
	Tires     Tires
	Chassis   Chassis
}

const (
	gravity = 9.80665 // m/s², standard
	foot    = 0.3048  // m
)

// WheelW is the peak power at the wheels in the given air, W, as rollers would
// measure it: less the driveline and what the converter slips at that power.
func (v *Vehicle) WheelW(a Air) float64 {
	e := &v.Engine
	torque := e.torque(e.PeakRate, e.Breathing.charge(a), 1)
	share := v.Gearbox.Efficiency
	if v.Converter != nil {
		share *= v.Converter.coupled(e.PeakRate, torque)
	}
	return torque * e.PeakRate * share
}

// CrankW is the power at the crank in the given air at the speed of peak power, W.
func (v *Vehicle) CrankW(a Air) float64 {
	e := &v.Engine
	return e.torque(e.PeakRate, e.Breathing.charge(a), 1) * e.PeakRate
}

// With is the vehicle with some power (as a share), mass (kg) and grip (as a share)
// added. The clutch is set up for the power there is; the converter stays what it is,
// so that more torque stalls it higher.
func (v Vehicle) With(gain, kg, grip float64) Vehicle {
	v.Engine.PeakW *= 1 + gain
	v.Chassis.Mass += kg
	v.Tires.Grip *= 1 + grip
	return v
}
