package predict

import (
	"math"

	"slipcase/weather"
)

// What is believed of a vehicle before its first slip, and how firmly. Where nothing
// else is said it was set by trial on the tuning seasons.
const (
	// Doubt of the formula is Doubt, of ET; the law of the air is 1 ± 0.3 times the
	// textbook's (twice the ±0.15 of a well-kept engine: jets, mixture and water).
	airLawSD = 0.3
	// Wind is read at some height, and a car is low: by the logarithmic law of wind
	// over short grass (roughness 0.03 m; WMO-No. 8) 2 ft feel a little over half of
	// what 33 ft do; a hand-held reading is nearer, walls and stands shelter.
	windShare, windShareSD = 0.6, 0.3
	// A vehicle whose power is not known could run anything its kind runs: wide enough
	// for street and strip, common practice, no source.
	unknownPowerSD  = 0.6
	unknownWeightSD = 0.2
	// The first 60 ft take about a seventh of the quarter: common practice, no source.
	launchShare = 1 / 6.9

	// Fox's formula, with 170 lb of driver, stands 2.8 ± 1.2 % above the 32 road cars
	// of testdata/mtcars.csv.
	formulaRunsSlow = 0.975

	// Common practice, no source; hp at the clutch.
	typicalCarLb, typicalBikeLb = 3300, 650
	typicalCarHP, typicalBikeHP = 400, 140

	// How far Fox's formula, as a power, and an ordinary launch, as a grip, can be from
	// a vehicle: Doubt is 0.06 of ET, which is three times as much of power.
	formulaPowerSD, ordinaryGripSD = 0.17, 0.25
)

// ordinary is the run model of an ordinary vehicle of its kind, but for power
// and grip: its drag area, rolling resistance and rotating masses are of the order
// that Wong and Gillespie give (see RunModel; from memory), its foot of rollout is
// common practice, no source.
func ordinary(m Machine) RunModel {
	r := RunModel{DragAreaFt2: 7.5, Rolling: 0.015, Inertia: 0.06, RolloutFt: 1, WeightLb: typicalCarLb}
	if m.Kind == Motorcycle {
		r = RunModel{DragAreaFt2: 4.3, Rolling: 0.02, Inertia: 0.04, RolloutFt: 1, WeightLb: typicalBikeLb}
	}
	if lb, known := m.knownWeightLb(); known {
		r.WeightLb = lb
	}
	return r
}

// knownWeightLb is the weight, false when it is not known or cannot be.
func (m Machine) knownWeightLb() (float64, bool) {
	_, err := CheckWeight(m.WeightLb.Value())
	return m.WeightLb.Value(), m.WeightLb.Known() && err == nil
}

// clutchHP is the power in standard air, as the formulas take it, false when it is not known or cannot be.
func (m Machine) clutchHP() (float64, bool) {
	if m.PowerHP.Known() {
		stated := m.StatedPower()
		if hp, err := stated.ClutchIn(m.Breathing(), weather.Standard); err == nil {
			return ForFormulas(m.Kind, hp, stated.Loss), true
		}
	}
	if m.Kind == Motorcycle {
		return typicalBikeHP, false
	}
	return typicalCarHP, false
}

// believe gives the run model that runs Fox's formula in standard air with an
// ordinary launch, and the doubt about its power and grip.
func believe(m Machine) (vehicle, prior2) {
	r := ordinary(m)
	hp, known := m.clutchHP()
	et := formulaRunsSlow * Fox.A * math.Cbrt(r.WeightLb/hp)
	var y, precision vec
	y[timeAt[At1320]], precision[timeAt[At1320]] = math.Log(et), 1e6
	y[timeAt[At60]], precision[timeAt[At60]] = math.Log(et*launchShare), 1e6
	// Where the search for power and grip begins; where it ends hardly hangs on it. Grip is
	// a steady pull over 60 ft, 2 x 18.3 m, in a little longer than the clock has it.
	r.PowerHP = hp * 0.8
	r.GripG = 36.6 / math.Pow(et*launchShare+0.28, 2) / gravity
	v := vehicle{model: r, weightLb: r.WeightLb, breathing: m.Breathing()}
	if fit, _, err := fitRunModel(r, y, precision, func(m RunModel) (vec, error) {
		return vehicle{model: m, breathing: v.breathing}.run(weather.Standard, 0)
	}, prior2{1, 1}); err == nil {
		v.model = fit
	}
	v.launch = v.limits(m, vec{}, 0, launchAnswer{})
	power, grip := formulaPowerSD, ordinaryGripSD
	if !known {
		power = unknownPowerSD
	}
	if _, known := m.knownWeightLb(); !known {
		power = math.Hypot(power, unknownWeightSD)
	}
	return v, prior2{power, grip}
}

// firstDoubt is the covariance of the first era's biases before any run (no source: set by
// trial on the tuning seasons).
func firstDoubt(e *era, b prior2) (s square) {
	s.outer(e.power, b.power*b.power)
	s.outer(e.grip, b.grip*b.grip)
	var times vec
	for c, of := range channelOf {
		if !of.speed {
			times[c] = 1
		}
	}
	s.outer(times, 0.02*0.02)
	for c, sd := range slipMisfit {
		s[c][c] += 2 * sd * sd
	}
	return s
}

// untoldGain is the log of power that a setup of unknown power is believed to add to the one
// before it, where nothing else was entered that differs: a change is mostly made for power, of
// 5 to 30 %, now and then for something else. Common practice, no source.
const untoldGain = 0.1

// untoldPowerSD and untoldGripSD are how far such a change may be from that, or one that was
// forgotten from none: logs of power and grip.
const untoldPowerSD, untoldGripSD = 0.15, 0.08

// sheetSD is the doubt of one power figure on a dyno sheet: common practice, no source.
const sheetSD = 0.02

// changeDoubt is the covariance of the biases' change from the era before: how far a
// change of setup can differ from what the run model carries over. Set by trial on the
// tuning seasons.
func changeDoubt(e *era) (s square) {
	d := e.change
	size := math.Hypot(d.power, d.weight)
	power := math.Hypot(math.Hypot(sheetSD*math.Sqrt2, 0.07*size), d.restatedSD)
	grip := math.Hypot(0.02, 0.12*size)
	misfit := 0.001 + 0.015*size
	switch {
	case d.kind != asEntered:
		return d.unenteredDoubt(e)
	case d.open:
		power, grip, misfit = 0.2, 0.2, 0.01
	case d.sameSetup && size < 0.03:
		power, grip, misfit = 0.004+0.3*size, 0.004+0.3*size, 0.0005
	case d.untold: // by a new name alone: a jet, or another engine
		power, grip, misfit = untoldPowerSD, untoldGripSD, 0.004
	}
	s.outer(e.power, power*power)
	s.outer(e.grip, grip*grip)
	for c := range channels {
		s[c][c] += misfit * misfit
	}
	return s
}

// ordinaryNoise is the covariance of a run's noise, in logs, as the launch and
// the engine share it, before the car's own runs speak: 0.4 % of ET, set by trial on
// the tuning seasons, as noiseMisfit is.
func ordinaryNoise(e *era) (s square) {
	const sd = 0.004
	s.outer(e.launch, sd*sd*0.5)
	s.outer(e.engine, sd*sd*0.5)
	for c := range channels {
		s[c][c] += math.Pow(noiseMisfit[c], 2)
	}
	return s
}

// noiseMisfit is what launch and engine together do not explain of a channel.
var noiseMisfit = vec{0.004, 0.0015, 0.002, 0.0008, 0.002, 0.0007, 0.002, 0.0007}
