package weather

// Air is the state of the air that an engine breathes and a body pushes
// through; everything else about it follows from these three.
type Air struct {
	TempF       float64
	StationInHg float64 // absolute pressure at the track
	VapourInHg  float64 // partial pressure of water vapour
}
