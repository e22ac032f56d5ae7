package weather

import "math"

// Headwind is the component of the wind, mph, against a vehicle that heads
// along headingDeg; a tailwind is negative. Both bearings are true degrees and
// fromDeg is where the wind comes from.
func Headwind(windMPH, fromDeg, headingDeg float64) float64 {
	return windMPH * math.Cos((fromDeg-headingDeg)*math.Pi/180)
}
