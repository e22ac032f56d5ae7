package crew

import (
	"slipcase/logbook"
	"slipcase/predict"
)

// This file is the one place where the log meets the predictor.

// PassOf turns a run of the log into what the predictor takes.
func PassOf(r logbook.Run) predict.Pass {
	s := r.Slip
	p := predict.Pass{
		ID: s.ID, Time: s.Time.Time, Day: s.Track + " " + s.Time.Format("2006-01-02"),
		Track: s.Track, Lengths: r.Track.LengthsFt, Lane: s.Lane, Machine: MachineOf(r.Vehicle, r.Setup),
		Effort: predict.Effort(s.FullPower), FullFt: s.FullPowerToFt,
		Air: r.Air.Air, AirKnown: r.Air.Carried, AirDoubtFt: r.Air.DoubtFt,
	}
	if s.StopOffS.Known() {
		p.StopFromS = s.StopOnS.Or(0)
		p.StopS = max(0, s.StopOffS.Value()-p.StopFromS)
	}
	if r.First != nil {
		p.First = MachineOf(r.Vehicle, *r.First)
	}
	if wind := r.Headwind(); wind.Known() {
		p.HeadwindMPH, p.WindKnown = wind.Value(), true
	}
	p.Splits = PrintedSplits(s)
	return p
}

// PrintedSplits are the times and speeds of a slip.
func PrintedSplits(s logbook.Slip) (out predict.Splits) {
	for i, split := range s.Splits() {
		out.ETs[i], out.MPHs[i] = split.ETS, split.MPH
	}
	return out
}

// MachineOf is a vehicle in a setup.
func MachineOf(v logbook.Vehicle, s logbook.Setup) predict.Machine {
	return predict.Machine{
		Kind: predict.Kind(v.Kind), Aspiration: predict.Aspiration(v.Aspiration), Drive: predict.Drive(v.Drive), Body: v.Body,
		Setup: s.ID, WeightLb: s.WeightLb, PowerHP: s.PowerHP, PowerAt: predict.Place(s.PowerAt),
		Standard: predict.Standard(s.PowerStandard),
		BoostPsi: s.BoostPsi, BoostHeld: predict.Hold(s.BoostHeld),
		PowerDay:   dayAt(s.PowerTempF, s.PowerRHPct, s.PowerStationInHg),
		Drivetrain: drivetrainOf(s),
	}
}

// PassesOf is PassOf of each.
func PassesOf(runs []logbook.Run) []predict.Pass {
	passes := make([]predict.Pass, len(runs))
	for i, r := range runs {
		passes[i] = PassOf(r)
	}
	return passes
}
