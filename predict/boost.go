package predict

import (
	"fmt"
	"math"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Blower is what makes the boost.
type Blower string

// The blowers.
const (
	Roots       Blower = "roots"
	Screw       Blower = "screw"
	Centrifugal Blower = "centrifugal"
	Turbo       Blower = "turbo"
)

// Hold is what stays when the ambient pressure changes.
type Hold string

// The holds: a blower of fixed drive keeps its pressure ratio; a wastegate with a
// spring keeps the boost above ambient, one on an absolute sensor the pressure in
// the manifold.
const (
	HoldsRatio    Hold = "ratio"
	HoldsGauge    Hold = "gauge"
	HoldsAbsolute Hold = "absolute"
)

// Boost is a boosted engine as a racer knows it. Boost is read where the ambient
// pressure is ReadAtInHg.
type Boost struct {
	Psi         float64 // above ambient, in the manifold
	Blower      Blower
	Hold        Hold
	ReadAtInHg  float64
	Efficiency  Range // adiabatic, of the compressor
	Intercooler Range // effectiveness, 0 without one
}

// Charge is what boost makes of the air, and of the power of the same engine
// without boost in the same air.
type Charge struct {
	PressureRatio float64
	GaugePsi      float64
	OutletF       float64 // behind the compressor
	ChargeF       float64 // behind the intercooler
	Density       Range   // over the ambient's
	BeforeDrive   float64 // power over the unboosted, before DriveShare is taken
	DriveShare    float64 // of the unboosted power, taken by a blower's drive or a turbo's back pressure
	Power         Range   // brake power over the unboosted
}

const (
	airGamma = 1.4    // ratio of the specific heats of air
	airCp    = 1005.0 // J/(kg K)
	exponent = (airGamma - 1) / airGamma

	// What the pistons and accessories take does not grow with the charge: 15 % of
	// the indicated power, as SAE J1349 has it.
	frictionShare = 0.15 / 0.85
	// Air for a horsepower, kg/s: 0.50 lb/(hp h) of petrol at 12.5 to 1. Common
	// practice, no source.
	airPerHP = 0.50 * 12.5 * units.KgPerLb / 3600
	beltLoss = 0.05 // common practice, no source
	// A turbo is driven by the exhaust; its back pressure costs about so much of
	// the power. Common practice, no source.
	backPressure = 0.03
	// What spark, mixture and compression make of the denser charge: one standard
	// deviation in logs. Common practice, no source.
	responseSD = 0.04

	z80 = 1.2816 // 80 % of a normal lie within so many standard deviations
)

// usualEfficiency is adiabatic. Common practice, no source; Heywood draws maps of
// the same order.
var usualEfficiency = map[Blower]Range{
	Roots:       {0.50, 0.55, 0.60},
	Screw:       {0.65, 0.70, 0.75},
	Centrifugal: {0.65, 0.70, 0.76},
	Turbo:       {0.65, 0.70, 0.76},
}

// UsualBoost fills in what the racer did not say.
func UsualBoost(b Boost) Boost {
	if b.Efficiency == (Range{}) {
		b.Efficiency = usualEfficiency[b.Blower]
	}
	if b.ReadAtInHg == 0 {
		b.ReadAtInHg = weather.Standard.StationInHg
	}
	if b.Hold == "" {
		b.Hold = HoldsRatio
		if b.Blower == Turbo {
			b.Hold = HoldsGauge
		}
	}
	return b
}

// checkFigures holds the figures to what the formulas were made for.
func (b Boost) checkFigures() error {
	if _, ok := usualEfficiency[b.Blower]; !ok {
		return fmt.Errorf("blower %q: want %s, %s, %s or %s", b.Blower, Roots, Screw, Centrifugal, Turbo)
	}
	if b.Hold != HoldsRatio && b.Hold != HoldsGauge && b.Hold != HoldsAbsolute {
		return fmt.Errorf("boost held at %q: want %s, %s or %s", b.Hold, HoldsRatio, HoldsGauge, HoldsAbsolute)
	}
	if b.Blower != Turbo && b.Hold != HoldsRatio {
		return fmt.Errorf(
			"a %s blower of fixed drive keeps its pressure ratio: only a turbo's wastegate holds %s",
			b.Blower,
			b.Hold,
		)
	}
	if !(b.Psi >= 0.5 && b.Psi <= 45) {
		return units.Errorf("boost %v: want %v", units.TyrePressure.Of(b.Psi), units.TyrePressure.Between(0.5, 45))
	}
	for _, r := range []struct {
		what      string
		v         Range
		low, high float64
	}{{"efficiency", b.Efficiency, 0.3, 0.9}, {"intercooler", b.Intercooler, 0, 1}} {
		if !(r.v.Low >= r.low && r.v.Low <= r.v.Likely && r.v.Likely <= r.v.High && r.v.High <= r.high) {
			return fmt.Errorf(
				"%s %g to %g percent: want %g to %g, rising",
				r.what,
				100*r.v.Low,
				100*r.v.High,
				100*r.low,
				100*r.high,
			)
		}
	}
	return nil
}

// ratioIn is the pressure ratio in the given ambient pressure, inHg.
func (b Boost) ratioIn(ambientInHg float64) float64 {
	const inHgPerPsi = units.PascalPerPsi / units.PascalPerInHg
	switch boost := b.Psi * inHgPerPsi; b.Hold {
	case HoldsGauge:
		return 1 + boost/ambientInHg
	case HoldsAbsolute:
		return (b.ReadAtInHg + boost) / ambientInHg
	default:
		return 1 + boost/b.ReadAtInHg
	}
}

// rise is the temperature behind a compressor over that before it, less one:
//
//	T2/T1 - 1 = (r^((γ-1)/γ) - 1)/η,
//
// J. B. Heywood, Internal Combustion Engine Fundamentals (1988), ch. 6,
// supercharging and turbocharging (from memory). For pressure ratios of 1 to 4.
func rise(ratio, efficiency float64) float64 { return (math.Pow(ratio, exponent) - 1) / efficiency }

// chargeDensity is that of the charge over the ambient's: r T1/T3, an intercooler of
// effectiveness e leaving T3 - T1 = (1 - e)(T2 - T1).
func chargeDensity(ratio, efficiency, intercooler float64) float64 {
	return ratio / (1 + (1-intercooler)*rise(ratio, efficiency))
}

// breathed is the air that the cylinders take in over the unboosted: p/√T, not p/T, since
// cold air is heated more on its way past ports and valves. It is the law of SAE J1349,
// J607 and DIN 70020 for the air of the day (Heywood ch. 2, the correction factor for
// engine power, and ch. 6, volumetric efficiency against inlet temperature; from
// memory); the charge is the engine's air, so that heat counts once and by one law.
func breathed(ratio, efficiency, intercooler float64) float64 {
	return math.Sqrt(ratio * chargeDensity(ratio, efficiency, intercooler))
}

// power is the brake power over the unboosted: the indicated power follows the
// air, friction stays, and a mechanical blower takes ṁ cp (T2 - T1) and its belt's
// loss from the crank.
func (b Boost) power(ratio, efficiency, intercooler, ambientK float64) (power, drive float64) {
	d := breathed(ratio, efficiency, intercooler)
	if b.Blower == Turbo {
		drive = backPressure * d
	} else {
		drive = airPerHP * d * airCp * ambientK * rise(ratio, efficiency) / units.WattPerHP / (1 - beltLoss)
	}
	return d*(1+frictionShare) - frictionShare - drive, drive
}

// In works out the charge in the given air. The interval joins the ranges of
// efficiency and intercooler with how engines answer to a denser charge.
func (b Boost) In(air weather.Air) (Charge, error) {
	b = UsualBoost(b)
	if err := b.checkFigures(); err != nil {
		return Charge{}, err
	}
	ratio := b.ratioIn(air.StationInHg)
	if !(ratio > 1.01 && ratio <= 4) {
		return Charge{}, fmt.Errorf("a pressure ratio of %.2f: the formulas are for 1 to 4", ratio)
	}
	kelvin := (air.TempF + 459.67) / 1.8
	e, c := b.Efficiency, b.Intercooler
	out := Charge{PressureRatio: ratio, GaugePsi: (ratio - 1) * air.StationInHg * units.PascalPerInHg / units.PascalPerPsi}
	hot := kelvin * rise(ratio, e.Likely)
	out.OutletF = air.TempF + 1.8*hot
	out.ChargeF = air.TempF + 1.8*hot*(1-c.Likely)
	out.Density = Range{
		chargeDensity(ratio, e.Low, c.Low),
		chargeDensity(ratio, e.Likely, c.Likely),
		chargeDensity(ratio, e.High, c.High),
	}
	power := func(e, c float64) float64 { p, _ := b.power(ratio, e, c, kelvin); return p }
	out.Power.Likely, out.DriveShare = b.power(ratio, e.Likely, c.Likely, kelvin)
	out.BeforeDrive = out.Power.Likely + out.DriveShare
	answer := z80 * responseSD
	side := func(e2, c2 float64) float64 {
		mid := out.Power.Likely
		return math.Sqrt(
			math.Pow(math.Log(power(e2, c.Likely)/mid), 2) + math.Pow(math.Log(power(e.Likely, c2)/mid), 2) + answer*answer,
		)
	}
	out.Power.Low = out.Power.Likely * math.Exp(-side(e.Low, c.Low))
	out.Power.High = out.Power.Likely * math.Exp(side(e.High, c.High))
	return out, nil
}

// AfterPulley is the boost once the blower turns speed times as fast. A roots or
// screw blower moves air by the turn, so that what the engine breathes goes
// with its speed; the head of a centrifugal one, r^((γ-1)/γ) - 1, with its square
// (Euler's turbomachine equation; Heywood ch. 6, from memory). What leaks back in the
// blower is left out, so that the boost is on the high side.
func (b Boost) AfterPulley(speed float64) (Boost, error) {
	b = UsualBoost(b)
	if err := b.checkFigures(); err != nil {
		return b, err
	}
	if b.Blower == Turbo {
		return b, fmt.Errorf("a turbo has no pulley: want %s, %s or %s", Roots, Screw, Centrifugal)
	}
	if !(speed >= 0.5 && speed <= 2) {
		return b, fmt.Errorf("a pulley that changes the blower's speed %.2f times: want 0.5 to 2", speed)
	}
	r := b.ratioIn(b.ReadAtInHg)
	if b.Blower == Centrifugal {
		r = math.Pow(1+(math.Pow(r, exponent)-1)*speed*speed, 1/exponent)
	} else {
		want := speed * breathed(r, b.Efficiency.Likely, b.Intercooler.Likely)
		low, high := 0.2, 10.
		for range 60 { // it rises with the ratio: halve
			if r = (low + high) / 2; breathed(r, b.Efficiency.Likely, b.Intercooler.Likely) < want {
				low = r
			} else {
				high = r
			}
		}
	}
	b.Psi = (r - 1) * b.ReadAtInHg * units.PascalPerInHg / units.PascalPerPsi
	return b, b.checkFigures()
}

// Raise is what a change from one boost to another makes of the power there is.
// What is common to both, how this engine answers, goes with the change alone.
func Raise(from, to Boost, air weather.Air) (Range, error) {
	a, err := from.In(air)
	if err != nil {
		return Range{}, err
	}
	b, err := to.In(air)
	if err != nil {
		return Range{}, err
	}
	mid := b.Power.Likely / a.Power.Likely
	share := math.Abs(math.Log(mid)) / math.Log(math.Max(b.Power.Likely, a.Power.Likely))
	return Range{
		mid * math.Pow(b.Power.Low/b.Power.Likely, share), mid,
		mid * math.Pow(b.Power.High/b.Power.Likely, share),
	}, nil
}

// Explained is how much of a claimed gain a boost can account for.
type Explained struct {
	Power   Range   // after over before, by the boost
	Claimed float64 // after over before
	Share   float64 // of the claimed gain, 1 where it can be all boost
}

// Explains tells how much of a claimed gain, as power after over power before,
// the boost can account for.
func (c Charge) Explains(claimed float64) Explained {
	e := Explained{c.Power, claimed, 1}
	if claimed > c.Power.High {
		e.Share = math.Max((c.Power.Likely-1)/(claimed-1), 0)
	}
	return e
}
