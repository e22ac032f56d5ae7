package predict

import (
	"errors"
	"fmt"
	"math"

	"slipcase/weather/units"
)

// Drivetrain is what lies between engine and track, as far as it is known; of one that is to
// be, what changes.
type Drivetrain struct {
	Final, TyreIn      units.Number // final drive; diameter of the driven tire, inches
	StallRPM, ShiftRPM units.Number
}

// Regeared is what a changed drivetrain does, as far as a power curve tells it.
type Regeared struct {
	Change
	// Engine speed at the finish, before and after, where final drive and tire are known:
	// the gear there taken for 1:1, with stripeSlip.
	StripeRPM, StripeRPMAfter units.Number
}

const (
	// A converter and a tire lose some 4 % at the finish: common practice, no source.
	stripeSlip = 0.04
	// How far a launch by torque or converter follows the turns of the engine for one of the
	// wheel, and the torque at the converter's stall, in logs, with the standard deviation: the
	// clutch slips, a shift comes sooner, engine and wheels must be turned up as well. And how
	// much of a run's power is that of its last gear. Set on vehicles of the second simulator.
	launchByRatio, launchByRatioSD = 0.7, 0.25
	launchByStall, launchByStallSD = 0.7, 0.5
	lastGear, lastGearSD           = 0.4, 0.25
	// The gears of motorcycles are more, and closer than shiftDrop: common practice, no source.
	motorcycleDrop, motorcycleLastGear = 0.86, 0.15
	// The doubt of what the curve says of other shifts, as a share.
	shiftsSD = 0.3
)

// ErrCannotTell is that of a change of which too little is known.
var ErrCannotTell = errors.New("it cannot be told")

func cannotTell(format string, a ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{ErrCannotTell}, a...)...)
}

// Regear works out what another drivetrain does to a vehicle that runs mph at the finish. The
// launch follows it by the chance that torque or converter limit it. An error that is
// ErrCannotTell says what is not known.
func (p *Prospect) Regear(curve Curve, now, then Drivetrain) (out Regeared, err error) {
	limits, c := p.car.launch, geared{curve, shiftDrop, lastGear}
	if p.next.Machine.Kind == Motorcycle {
		c.drop, c.last = motorcycleDrop, motorcycleLastGear
	}
	if then.Final.Known() || then.TyreIn.Known() {
		if err := out.ratio(c, now, then, p.Before.MPHs[p.Finish].Centre, limits[ByTorque]+limits[ByConverter]); err != nil {
			return out, err
		}
	}
	if then.ShiftRPM.Known() {
		if err := out.shift(c, now, then); err != nil {
			return out, err
		}
	}
	if then.StallRPM.Known() {
		err = out.stall(c, now, then, limits[ByConverter])
	}
	return out, err
}

// ratio is another final drive or tire.
func (r *Regeared) ratio(c geared, now, then Drivetrain, mph, byEngine float64) error {
	if !now.Final.Known() || !now.TyreIn.Known() {
		return cannotTell("final drive and tire of today are not both on file")
	}
	if !(mph > 0) {
		return cannotTell("no speed is timed at the finish")
	}
	at := func(d Drivetrain) float64 {
		return Gearing{
			TyreIn: d.TyreIn.Or(now.TyreIn.Value()), Ratio: d.Final.Or(now.Final.Value()), Slip: stripeSlip,
		}.RPM(mph)
	}
	was, is := at(now), at(then)
	r.StripeRPM, r.StripeRPMAfter = units.Some(was), units.Some(is)
	size := math.Log(is / was)
	r.Launch = r.Launch.plus(logRange(byEngine*launchByRatio*size, byEngine*launchByRatioSD*size))
	before, err := c.below(was)
	if err != nil {
		return err
	}
	after, err := c.below(is)
	if err != nil {
		return err
	}
	gain := math.Log(after / before)
	r.Gain = r.Gain.plus(logRange(c.last*gain, lastGearSD*gain))
	return nil
}

// shift is another engine speed of the shifts.
func (r *Regeared) shift(c geared, now, then Drivetrain) error {
	if !now.ShiftRPM.Known() {
		return cannotTell("the shifts of today are not on file")
	}
	before, err := c.below(now.ShiftRPM.Value())
	if err != nil {
		return err
	}
	after, err := c.below(then.ShiftRPM.Value())
	if err != nil {
		return err
	}
	gain := math.Log(after / before)
	r.Gain = r.Gain.plus(logRange(gain, shiftsSD*gain))
	return nil
}

// stall is another stall of the converter: the launch begins with the engine's torque there.
func (r *Regeared) stall(c geared, now, then Drivetrain, byConverter float64) error {
	if !now.StallRPM.Known() {
		return cannotTell("the converter's stall of today is not on file")
	}
	before, err := c.torqueAt(now.StallRPM.Value())
	if err != nil {
		return err
	}
	after, err := c.torqueAt(then.StallRPM.Value())
	if err != nil {
		return err
	}
	size := math.Log(after / before)
	r.Launch = r.Launch.plus(logRange(byConverter*launchByStall*size, byConverter*launchByStallSD*size))
	return nil
}

// logRange is a share of that log and its standard deviation, of either sign.
func logRange(log, sd float64) Range {
	sd = math.Abs(sd)
	return Range{math.Expm1(log - z80*sd), math.Expm1(log), math.Expm1(log + z80*sd)}
}

// LastRPM is the engine speed of the last row, 0 without one.
func (c Curve) LastRPM() float64 {
	if len(c) == 0 {
		return 0
	}
	return c[len(c)-1].RPM
}

// geared is a power curve, where a shift takes the engine, as a share of its speed, and how
// much of a run's power is that of its last gear.
type geared struct {
	curve      Curve
	drop, last float64
}

// below is the mean power of an engine that turns from a shift up to a speed.
func (g geared) below(rpm float64) (float64, error) { return g.over(g.drop*rpm, rpm) }

func (g geared) over(low, high float64) (float64, error) {
	c := g.curve
	switch {
	case len(c) < 2:
		return 0, cannotTell("no dyno sheet with a curve is on file")
	case high > c[len(c)-1].RPM:
		return 0, cannotTell("%.0f rpm is past the sheet's last row, %.0f", high, c[len(c)-1].RPM)
	case low < c[0].RPM:
		return 0, cannotTell("%.0f rpm is before the sheet's first row, %.0f", low, c[0].RPM)
	}
	return c.Mean(low, high)
}

// torqueAt is the torque at an engine speed, lb-ft.
func (g geared) torqueAt(rpm float64) (float64, error) {
	const near = 1 // rpm
	mean, err := g.over(rpm-near, rpm+near)
	return DynoPoint{rpm, mean}.LbFt(), err
}
