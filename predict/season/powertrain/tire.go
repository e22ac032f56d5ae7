package powertrain

import "math"

// Tires are the driven ones.
type Tires struct {
	Radius      float64 // rolling, m
	Grip        float64 // friction coefficient at the load they carry standing
	Sensitivity float64 // share of grip lost as the load doubles (Milliken ch. 2)
	Stiffness   float64 // force per load and slip, where slip is small
	Hold        float64 // share of the most that driver and setup get out of them, up to 1
	Overdriven  float64 // share of grip lost to wheelspin by a thrust far beyond it, through a clutch
	Inertia     float64 // of all wheels, kg m²
}

// at is the friction coefficient under a load, standing being the load at rest.
func (t *Tires) at(grip, load, standing float64) float64 {
	return grip * (1 - t.Sensitivity*(load/standing-1))
}

// mostUsed is how much of the grip is in use where the slip grows no further.
const mostUsed = 0.95

// slip is the share by which the tread outruns the road for a force under a load:
// the brush model with parabolic pressure (Pacejka ch. 3), F = μN (1 - (1 - Cκ/3μ)³),
// solved for κ. Near the most they take, where κ grows without bound in steepness, it
// stays: there the driver holds it.
func (t *Tires) slip(force, load, grip float64) float64 {
	used := min(max(force/(grip*load), 0), mostUsed)
	return 3 * grip / t.Stiffness * (1 - math.Cbrt(1-used))
}

// steepest is the most that the slip grows with the force, times the load.
func (t *Tires) steepest() float64 { return math.Pow(1-mostUsed, -2./3) / t.Stiffness }
