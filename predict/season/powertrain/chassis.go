package powertrain

import "math"

// Drive says which wheels are driven.
type Drive int

// The drives.
const (
	Rear Drive = iota
	Front
	All
)

// Chassis carries it.
type Chassis struct {
	Motorcycle bool
	Drive      Drive
	Mass       float64 // with driver or rider, kg
	Wheelbase  float64 // m
	Height     float64 // of the centre of gravity, m
	Ahead      float64 // of the centre of gravity before the rear axle, m
	Bar        bool    // a wheelie bar: the front does not limit
	Balance    float64 // share of the lifting thrust at which the driver holds the front wheel
	DragArea   float64 // m²
	Rolling    float64 // coefficient at rest
}

// standing is the load of the driven wheels at rest, N, and transfer how much it
// grows with each N of thrust: moments about the other axle, the drag taken to act at
// the height of the centre of gravity.
func (c *Chassis) standing() (load, transfer float64) {
	w := c.Mass * gravity
	switch c.Drive {
	case Front:
		return w * c.Ahead / c.Wheelbase, -c.Height / c.Wheelbase
	case All:
		return w, 0
	}
	return w * (1 - c.Ahead/c.Wheelbase), c.Height / c.Wheelbase
}

// load is that of the driven wheels under a thrust, N: never more than all of it.
func (r *run) load(thrust float64) float64 {
	return min(r.standing+r.transfer*thrust, r.vehicle.Chassis.Mass*gravity)
}

// traction is the most that the tires take, N: F = μ(N) N with N = standing +
// transfer·F. With a steady μ it is Gillespie's eq. 2-15 and 2-17, F = μ N₀/(1 ∓ μ h/L).
func (v *Vehicle) traction(grip float64) float64 {
	c, t := &v.Chassis, &v.Tires
	n0, k := c.standing()
	// (N - N₀)/k = μ₀ ((1+s) N - s N²/N₀), its root that does not lose digits; without end
	// where the load grows faster than the thrust.
	a, b := t.Sensitivity*grip*k/n0, 1-grip*k*(1+t.Sensitivity)
	n := 2 * n0 / (b + math.Sqrt(max(b*b+4*a*n0, 0)))
	n = min(n, c.Mass*gravity)
	return t.at(grip, n, n0) * n
}

// lifts is the thrust that lifts the front wheels, N: moments about the rear axle.
func (c *Chassis) lifts() float64 {
	if c.Drive == Front || c.Bar {
		return math.Inf(1)
	}
	return c.Mass * gravity * c.Ahead / c.Height
}

// resistance is that of air and road, N. The rolling coefficient grows with speed,
// f = f₀ (1 + V/100 mph): Gillespie ch. 4.
func (c *Chassis) resistance(density, speed, headwind float64) float64 {
	wind := speed + headwind
	return density*c.DragArea/2*wind*math.Abs(wind) + c.Rolling*(1+speed/44.704)*c.Mass*gravity
}
