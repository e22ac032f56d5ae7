package powertrain

// Gearbox is everything between clutch or converter and the wheels.
type Gearbox struct {
	Ratios     []float64 // engine over wheel speed, the final drive in it, first gear first
	Efficiency float64   // share of the torque that reaches the wheels
	ShiftRate  float64   // engine speed of each change, rad/s
	ShiftS     float64   // how long each change takes the thrust away, s
	Kick       float64   // share of the engine's surplus momentum that a change gives to the wheels, 0 to 1
}
