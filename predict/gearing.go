package predict

import (
	"fmt"
	"math"
)

// mphDivisor makes mph out of rpm x inches / ratio: a turn of the wheel is π
// inches of way for each inch of its diameter, an hour has 60 minutes, a mile
// 63,360 inches, so it is 63,360/(60 π) = 336.135.
const mphDivisor = 63360 / (60 * math.Pi)

// Gearing is what lies between the engine and the track at the stripe.
type Gearing struct {
	TyreIn float64 // diameter of the driven tyre at speed, inches
	Ratio  float64 // engine turns for one of the wheel: final drive x top gear
	Slip   float64 // share of the engine's turns lost in converter, clutch and tyre, below 1
}

// MPH is the road speed at an engine speed.
func (g Gearing) MPH(rpm float64) float64 {
	return rpm * (1 - g.Slip) * g.TyreIn / (mphDivisor * g.Ratio)
}

// RPM is the engine speed at a road speed.
func (g Gearing) RPM(mph float64) float64 {
	return mph * mphDivisor * g.Ratio / (g.TyreIn * (1 - g.Slip))
}

// RatioFor is the ratio that puts the road speed at the engine speed.
func (g Gearing) RatioFor(rpm, mph float64) float64 {
	return rpm * (1 - g.Slip) * g.TyreIn / (mphDivisor * mph)
}

// TyreFor is the tyre's diameter in inches that does so.
func (g Gearing) TyreFor(rpm, mph float64) float64 {
	return mphDivisor * g.Ratio * mph / (rpm * (1 - g.Slip))
}

// SlipFrom is the share of the engine's turns that did not arrive: below 0 the
// tyre has grown, or a figure is wrong.
func (g Gearing) SlipFrom(rpm, mph float64) float64 {
	return 1 - mph*mphDivisor*g.Ratio/(rpm*g.TyreIn)
}

// CheckGearing refuses figures that no drag strip has seen: rpm, speed in mph,
// tyre in inches, ratio and slip, each only where it is not 0. The bounds are
// common practice, no source.
func CheckGearing(rpm, mph, tyreIn, ratio, slip float64) error {
	for _, q := range []struct {
		what            string
		v, low, high    float64
		unit            string
		zeroMeansAbsent bool
	}{
		{"engine speed", rpm, 1000, 20000, "rpm", true},
		{"speed", mph, 20, 400, "mph", true},
		{"tire", tyreIn, 10, 40, "in across", true},
		{"ratio", ratio, 0.5, 20, "turns of the engine for one of the wheel", true},
		{"slip", 100 * slip, -10, 50, "percent", false},
	} {
		if !(q.v >= q.low && q.v <= q.high) && !(q.zeroMeansAbsent && q.v == 0) {
			return fmt.Errorf("%s %.4g: want %g to %g %s", q.what, q.v, q.low, q.high, q.unit)
		}
	}
	return nil
}
