package powertrain

import "math"

// Converter is a torque converter by its capacity factor and torque ratio over the
// speed ratio (turbine over pump): Wong ch. 3, Gillespie ch. 2.
type Converter struct {
	K          float64 // capacity factor at stall: pump speed over √torque, rad/s per √(N m)
	StallRatio float64 // torque ratio at stall
	Coupling   float64 // speed ratio from which on torque is no longer multiplied
	// Early is how soon the capacity fades towards a speed ratio of 1: the share that
	// fades with its fourth power, the rest fading with its eighth.
	Early float64
}

// capacity is the pump's torque at a speed ratio over that at stall: below 0 when
// the turbine drives the pump.
func (c *Converter) capacity(ratio float64) float64 {
	y := ratio * ratio * ratio * ratio
	return max(1-y*(c.Early+(1-c.Early)*y), -0.5)
}

// steepest is how fast the capacity falls with the speed ratio, at a speed ratio of 1.
func (c *Converter) steepest() float64 { return 8 - 4*c.Early }

// torques are what the pump takes from the engine and the turbine gives, N m.
func (c *Converter) torques(pump, turbine float64) (taken, given float64) {
	ratio := turbine / pump
	taken = pump * pump / (c.K * c.K) * c.capacity(ratio)
	return taken, taken * c.ratio(ratio)
}

// ratio is the torque ratio at a speed ratio.
func (c *Converter) ratio(speed float64) float64 {
	if speed >= c.Coupling {
		return 1
	}
	return c.StallRatio + (1-c.StallRatio)*speed/c.Coupling
}

// coupled is the speed ratio at which the pump takes this torque at this speed.
func (c *Converter) coupled(pump, torque float64) float64 {
	faded := max(1-torque*c.K*c.K/(pump*pump), 0)
	y := 2 * faded / (c.Early + math.Sqrt(c.Early*c.Early+4*(1-c.Early)*faded))
	return math.Sqrt(math.Sqrt(y))
}

// stall is the speed at which the engine is held with the turbine at rest, rad/s:
// where its torque is the pump's, found by halving.
func (c *Converter) stall(e *Engine, charge float64) float64 {
	low, high := 0.05*e.PeakRate, e.Limit
	for range 40 {
		mid := (low + high) / 2
		if taken, _ := c.torques(mid, 0); taken < e.torque(mid, charge, 1) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// pumpFor is the pump speed, at most now, at which the turbine gives that torque
// (Newton's method from now; the torque grows with the speed).
func (c *Converter) pumpFor(given, turbine, now float64) float64 {
	p := now
	for range 6 {
		_, g := c.torques(p, turbine)
		_, above := c.torques(p*1.001, turbine)
		by := (g - given) / max((above-g)/(0.001*p), 1e-6)
		p = min(max(p-by, turbine*0.5+1), now)
		if math.Abs(by) < 1e-6*now {
			break
		}
	}
	return p
}
