package powertrain

// Luck is what makes one run differ from the vehicle's ordinary one. The zero Luck
// is the ordinary run.
type Luck struct {
	Launch float64 // share added to torque and to the limits at the start, fading over launchM
	Power  float64 // share added to the engine's torque
	Grip   float64 // share added to the tires' grip
	ShiftS float64 // added to each gear change, s
	MissS  float64 // added to the second change, or the only one: a missed gear, s
	Spin   float64 // share of grip lost up to SpinM
	SpinM  float64
	LiftM  float64 // where the driver lifts; 0 never
	Left   float64 // throttle left after that, 0 to 1
	Brake  float64 // m/s² after that
	Stop   Stop
}

// Stop is a throttle stop: it shuts the throttle to Share from On to Off seconds
// after the start. The zero Stop is none.
type Stop struct{ On, Off, Share float64 }

const launchM = 30

// start is the factor of the launch's luck at a place.
func (l *Luck) start(x float64) float64 { return 1 + l.Launch*max(1-x/launchM, 0) }

// throttle is how far it is open.
func (l *Luck) throttle(x, t float64) float64 {
	switch {
	case l.LiftM > 0 && x >= l.LiftM:
		return l.Left
	case t >= l.Stop.On && t < l.Stop.Off:
		return l.Stop.Share
	}
	return 1
}
