package season

import (
	"math"
	"math/rand/v2"

	"slipcase/predict"
	"slipcase/weather/units"
)

// machine is a vehicle in SI units, part by part.
type machine struct {
	kind       predict.Kind
	aspiration predict.Aspiration
	drive      predict.Drive

	mass      float64 // kg with driver
	peak      float64 // W at the wheels in standard air
	peakRate  float64 // engine speed of the peak, rad/s
	bend      float64 // how peaky the torque is: 0 flat, 1 steep
	redline   float64 // rad/s
	ratios    []float64
	radius    float64 // of the driven tyre, m
	slipRate  float64 // engine speed the converter or clutch holds, rad/s
	multiply  float64 // torque ratio of the converter at stall; 1 for a clutch
	passes    float64 // share of the torque that tyre slip and a slipping converter let through
	shiftS    float64 // without thrust at each change
	engine    float64 // kg m²
	wheels    float64 // kg m²
	grip      float64 // friction coefficient on an ordinary day
	driven    float64 // share of the weight on the driven wheels at rest
	height    float64 // centre of gravity over wheelbase
	wheelieG  float64 // acceleration that lifts the front
	dragArea  float64 // m²
	rolling   float64
	airLaw    float64 // multiplies the textbook's effect of the air on power
	boostBack float64 // turbo: ambient/(ambient + boost); 1 otherwise
}

// torque at an engine speed, as a share of that at the power peak: a cubic power
// curve with its maximum at the peak.
func (m *machine) torque(rate float64) float64 {
	u := min(rate/m.peakRate, 1.5)
	t := 1 + m.bend*(u-u*u)
	return max(t-4*(1-m.bend)*math.Pow(max(u-1, 0), 2), 0)
}

func pick(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// newMachine invents a vehicle that runs the quarter in about target seconds
// once it has gain times its first power.
func newMachine(r *rand.Rand, kind predict.Kind, target, gain float64) *machine {
	m := &machine{
		kind: kind, drive: predict.RearDrive, aspiration: predict.Natural,
		bend: pick(r, 0.6, 1), redline: 1, airLaw: min(max(1+0.25*r.NormFloat64(), 0.4), 1.6), boostBack: 1,
	}
	switch u := r.Float64(); {
	case u < 0.2:
		m.aspiration = predict.Supercharged
	case u < 0.4:
		m.aspiration = predict.Turbocharged
		m.boostBack = 14.7 / (14.7 + pick(r, 6, 20))
	}
	var gears int
	var firstSpeed float64 // where first gear ends, as a share of the trap speed
	if kind == predict.Motorcycle {
		gears, firstSpeed = 6, pick(r, 0.42, 0.52)
		m.bikeChassis(r, target)
	} else {
		gears, firstSpeed = m.carChassis(r, target)
	}
	trap := 0.9 * 400 / target * 1.33 * math.Cbrt(gain) // m/s, a little over what it will reach
	m.redline = m.peakRate * pick(r, 1.05, 1.12)
	top := m.redline * m.radius / (trap * pick(r, 1.02, 1.12))
	step := math.Pow(firstSpeed, 1/float64(gears-1))
	m.ratios = make([]float64, gears)
	for g := range m.ratios {
		m.ratios[g] = top / math.Pow(step, float64(gears-1-g))
	}
	for m.solvePower(target); !m.answersPower(); m.solvePower(target) {
		target *= 1.05 // its tyres cannot
	}
	return m
}

// answersPower reports whether more power still makes it quicker.
func (m *machine) answersPower() bool {
	was := m.run(standardAir, effects{}).et[predict.At1320]
	more := m.run(standardAir, effects{power: 0.05}).et[predict.At1320]
	return more < was*(1-0.08*0.05)
}

// launchG is the acceleration over 60 ft, in g, of a vehicle that spends on it a
// seventh of its quarter (common practice, no source), the rollout on top.
func launchG(target float64) float64 {
	t := target/7 + 0.28
	return 2 * 60 * 0.3048 / (t * t) / gravity
}

func (m *machine) bikeChassis(r *rand.Rand, target float64) {
	m.mass = pick(r, 560, 820) * units.KgPerLb
	m.peakRate = pick(r, 9500, 12500) * 2 * math.Pi / 60
	m.slipRate = m.peakRate * pick(r, 0.5, 0.75)
	m.radius, m.multiply, m.passes = 0.31, 1, pick(r, 0.9, 0.98)
	m.shiftS = pick(r, 0.02, 0.12)
	m.engine, m.wheels = 0.01, 1.2
	m.driven, m.height = 0.5, 0.3
	m.wheelieG = launchG(target) * pick(r, 0.9, 1.25)
	m.grip = m.wheelieG * pick(r, 0.95, 1.3)
	m.dragArea, m.rolling = pick(r, 0.3, 0.5), pick(r, 0.015, 0.025)
}

func (m *machine) carChassis(r *rand.Rand, target float64) (gears int, firstSpeed float64) {
	m.mass = pick(r, 2300, 4200) * units.KgPerLb
	m.peakRate = pick(r, 5000, 7200) * 2 * math.Pi / 60
	m.radius = pick(r, 0.31, 0.36)
	m.engine, m.wheels = pick(r, 0.15, 0.3), 4
	m.driven, m.height, m.wheelieG = pick(r, 0.45, 0.55), pick(r, 0.17, 0.24), 3
	most := launchG(target) * pick(r, 0.95, 1.5)
	m.grip = most / (m.driven + most*m.height)
	if target > 14.5 && r.Float64() < 0.3 {
		m.drive, m.driven = predict.FrontDrive, pick(r, 0.58, 0.64)
		m.grip = pick(r, 0.85, 1.1)
	}
	m.dragArea, m.rolling = pick(r, 0.55, 0.85), pick(r, 0.012, 0.022)
	if r.Float64() < 0.6 {
		m.multiply, m.shiftS, m.passes = pick(r, 1.5, 2), pick(r, 0.03, 0.12), pick(r, 0.84, 0.94)
		m.slipRate = m.peakRate * pick(r, 0.4, 0.7)
		return 3, pick(r, 0.36, 0.45)
	}
	m.multiply, m.shiftS, m.passes = 1, pick(r, 0.15, 0.35), pick(r, 0.9, 0.98)
	m.slipRate = m.peakRate * pick(r, 0.45, 0.7)
	return 4 + r.IntN(3), pick(r, 0.3, 0.42)
}

// solvePower finds by secant the power that runs the quarter in target seconds.
func (m *machine) solvePower(target float64) {
	et := func(logPower float64) float64 {
		m.peak = math.Exp(logPower)
		return math.Log(m.run(standardAir, effects{}).et[predict.At1320] / target)
	}
	a := math.Log(m.mass * 1.1e6 / (target * target * target))
	b := a + 0.3
	fa, fb := et(a), et(b)
	for range 8 {
		if math.Abs(fb) < 1e-4 || fa == fb {
			break
		}
		next := b - fb*(b-a)/(fb-fa)
		a, fa = b, fb
		b = min(max(next, b-0.7), b+0.7)
		fb = et(b)
	}
}
