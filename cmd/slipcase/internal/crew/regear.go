package crew

import (
	"slipcase/predict"
)

// Drivetrain is what lies between engine and track, as far as it is known.
type Drivetrain = predict.Drivetrain

// ErrCannotTell is that of a change of which too little is known.
var ErrCannotTell = predict.ErrCannotTell

// drivetrainOf is that of a setup.
func drivetrainOf(u Setup) Drivetrain {
	return Drivetrain{Final: u.FinalRatio, TyreIn: u.TyreIn, StallRPM: u.StallRPM, ShiftRPM: u.ShiftRPM}
}

// CurveOf is the power curve of the latest dyno sheet that the setups of a vehicle name, up to
// one of them; nil without.
func (s *Session) CurveOf(u Setup) (Curve, error) {
	setups, err := s.Setups(u.Vehicle)
	if err != nil {
		return nil, err
	}
	name := u.Power
	for _, other := range setups {
		if u.Power == "" && other.Power != "" && !other.From.After(u.From.Time) {
			name = other.Power
		}
	}
	if name == "" {
		return nil, nil
	}
	sheet, err := s.Sheet(name)
	if err != nil || len(sheet.Points) < 2 {
		return nil, err
	}
	var c Curve
	for _, p := range sheet.Points {
		c = append(c, predict.DynoPoint(p))
	}
	return c, nil
}

// regear is what another drivetrain does, and the engine speed at the finish that comes of it.
func (p *Prospect) regear(curve Curve, to Drivetrain) (predict.Change, []ChangeNote, error) {
	r, err := p.car.Regear(curve, drivetrainOf(p.Run.Setup), to)
	if err != nil || !r.StripeRPM.Known() {
		return r.Change, nil, err
	}
	return r.Change, []ChangeNote{{Kind: StripeTurns, RPM: r.StripeRPMAfter.Value(), WasRPM: r.StripeRPM.Value()}}, nil
}
