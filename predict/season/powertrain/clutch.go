package powertrain

// Clutch is one that slips in the launch, until the road has caught up with the
// engine; from then on it holds.
type Clutch struct {
	LaunchRate float64 // engine speed at the launch, which a limiter or the hand holds, rad/s
	Capacity   float64 // torque it carries slipping, over what the engine makes at LaunchRate
	EngageS    float64 // time in which it is let out, s
}

// carries is its torque a while after the start, N m.
func (c *Clutch) carries(launchTorque, t float64) float64 {
	if t < c.EngageS {
		return c.Capacity * launchTorque * t / c.EngageS
	}
	return c.Capacity * launchTorque
}
