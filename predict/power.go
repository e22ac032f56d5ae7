package predict

// Place is where a power figure was measured.
type Place string

// The places.
const (
	AtWheels Place = "wheels"
	AtClutch Place = "clutch"
)

// Standard is the correction standard a power figure is stated in; a figure
// that carries one is converted and never corrected twice.
type Standard string

// The standards.
const (
	SAE          Standard = "sae"      // SAE J1349
	StandardJ607 Standard = "standard" // SAE J607, the older "standard"
	DIN          Standard = "din"      // DIN 70020
	Uncorrected  Standard = "none"     // as measured in the air of the dyno day
)
