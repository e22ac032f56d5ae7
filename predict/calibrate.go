package predict

import (
	"errors"
	"math"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Calibration is what one slip says of the car: the run model that fits it best.
type Calibration struct {
	Model RunModel
	// PowerDoubt and GripDoubt are standard deviations of the power and the grip,
	// as shares of them.
	PowerDoubt, GripDoubt float64
	// Leftover is what the model cannot explain: slip minus model, s and mph.
	Leftover Splits
}

var errNoSplits = errors.New("no time on the slip to calibrate from: want at least one ET")

// slipMisfit is the standard deviation, in logs, of a slip's channels about the
// two-phase model: gears, converters and shifts that it does not know. Set on
// invented seasons (package season), from road cars to dragsters.
var slipMisfit = vec{0.020, 0.012, 0.015, 0.007, 0.015, 0.006, 0.015, 0.006}

// Calibrate fits power and grip to one slip by least squares, in the air of the
// run. The model's other figures stay, its power and grip are where the search
// starts and, loosely (±50 % and ±25 %), what it believes: so a slip with one
// time alone still counts. Splits not made at full power must be left out.
func Calibrate(start RunModel, s Splits, densityKgM3, headwindMPH float64) (Calibration, error) {
	y, has := s.logs()
	if _, some := s.Finish(); !some {
		return Calibration{}, errNoSplits
	}
	var precision vec
	for c := range y {
		if has[c] {
			precision[c] = 1 / (slipMisfit[c] * slipMisfit[c])
		}
	}
	fit, info, err := fitRunModel(start, y, precision, func(m RunModel) (vec, error) {
		t, err := m.Run(densityKgM3, headwindMPH)
		return t.logs(), err
	}, loosePrior)
	if err != nil {
		return Calibration{}, err
	}
	det := info[0]*info[2] - info[1]*info[1]
	c := Calibration{
		Model:      fit,
		PowerDoubt: math.Sqrt(info[2] / det),
		GripDoubt:  math.Sqrt(info[0] / det),
	}
	t, err := fit.Run(densityKgM3, headwindMPH)
	for m := range Marks {
		if et := s.ETs[m]; et.Known() {
			c.Leftover.ETs[m] = units.Some(et.Value() - t.ET[m])
		}
		if mph := s.MPHs[m]; mph.Known() && m > At60 {
			c.Leftover.MPHs[m] = units.Some(mph.Value() - t.MPH[m])
		}
	}
	return c, err
}

// Calibrate fits the run model to this run alone, in its own air and wind, starting
// from the machine's weight and power. Where its air is not known it is taken as
// standard; false where nothing on the slip was made at full power.
func (p Pass) Calibrate() (Calibration, bool) {
	if p.stopped() {
		return Calibration{}, false // it tells of the stop, not of the car
	}
	v, _ := believe(p.Machine)
	air := weather.Standard
	if p.AirKnown || p.airAssumed() {
		air = p.Air
	}
	v.model.PowerHP *= p.Machine.Breathing().PowerRatio(air)
	c, err := Calibrate(v.model, p.soundSplits(), air.DensityKgM3(), headwind(&p))
	return c, err == nil
}

// prior2 holds standard deviations of ln power and ln grip about the start.
type prior2 struct{ power, grip float64 }

var loosePrior = prior2{0.5, 0.25}

// fitRunModel is Gauss-Newton in ln power and ln grip; info is the upper half of
// the information matrix at the end: power, both, grip.
func fitRunModel(
	start RunModel,
	y, precision vec,
	run func(RunModel) (vec, error),
	believed prior2,
) (RunModel, [3]float64, error) {
	wp, wg := 1/(believed.power*believed.power), 1/(believed.grip*believed.grip)
	var dp, dg float64 // away from the start
	at := func(p, g float64) (vec, error) {
		m := start
		m.PowerHP *= math.Exp(p)
		m.GripG *= math.Exp(g)
		return run(m)
	}
	var info [3]float64
	for range 12 {
		const e = 1e-3
		base, err := at(dp, dg)
		if err != nil {
			return start, info, err
		}
		up, err := at(dp+e, dg)
		if err != nil {
			return start, info, err
		}
		grippier, err := at(dp, dg+e)
		if err != nil {
			return start, info, err
		}
		info = [3]float64{wp, 0, wg}
		bp, bg := -wp*dp, -wg*dg
		for c, w := range precision {
			if w == 0 {
				continue
			}
			jp, jg, r := (up[c]-base[c])/e, (grippier[c]-base[c])/e, y[c]-base[c]
			info[0] += w * jp * jp
			info[1] += w * jp * jg
			info[2] += w * jg * jg
			bp += w * jp * r
			bg += w * jg * r
		}
		det := info[0]*info[2] - info[1]*info[1]
		sp, sg := (info[2]*bp-info[1]*bg)/det, (info[0]*bg-info[1]*bp)/det
		// A step is held to where the logs are still nearly straight.
		if big := math.Max(math.Abs(sp), math.Abs(sg)); big > 0.4 {
			sp, sg = sp*0.4/big, sg*0.4/big
		}
		dp, dg = dp+sp, dg+sg
		if math.Abs(sp)+math.Abs(sg) < 1e-6 {
			break
		}
	}
	m := start
	m.PowerHP *= math.Exp(dp)
	m.GripG *= math.Exp(dg)
	return m, info, nil
}
