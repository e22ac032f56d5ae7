package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Prospect is a vehicle about to run, as its runs show it, to try changes on.
type Prospect struct {
	Next
	Before Forecast // of the run as the vehicle is
	Finish Mark     // where changes are compared
	car    *predict.Prospect
}

// Prospect makes out the vehicle of a run to come.
func (n *Next) Prospect() (*Prospect, error) {
	p, err := predict.NewProspect(n.History, n.Pass())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", n.Run.Vehicle.ID, err)
	}
	p.Finish = Farthest(n.Run.Track, &p.Before)
	return &Prospect{*n, p.Before, p.Finish, p}, nil
}

// Stated is the power that gains are shares of: the setup's or, where it states none,
// what the runs imply; that is noted.
func (p *Prospect) Stated() (Stated, []ChangeNote) {
	today := statedBy(p.Run.Vehicle, p.Run.Setup)
	if today.HP.Known() {
		return today, nil
	}
	today.HP, today.At = units.Some(p.car.PowerHP()), string(predict.AtWheels)
	note := ChangeNote{Kind: PowerImplied, HP: today.HP.Value()}
	if p.Before.RunsUsed == 0 {
		note.Kind = PowerOrdinary
	}
	return today, []ChangeNote{note}
}

// takenBack notes that the vehicle last ran at an index: what a change gains there is slowed down
// again.
func (p *Prospect) takenBack() []ChangeNote {
	c := p.Next.car
	n := c.since(p.Run.Slip.Time.Time)
	if n == 0 {
		return nil
	}
	rules := RulesOf(c.runs[n-1].Slip, c.runs[n-1].Track)
	if rules.Format != Index || !rules.IndexS.Known() {
		return nil
	}
	note := ChangeNote{Kind: IndexTakesBack, IndexS: rules.IndexS.Value()}
	if stopOf(p.Run.Slip) > 0 {
		note.Kind = StopTakesBack
	}
	return []ChangeNote{note}
}

// cautions are all that a change calls for whose quick end is quick. The rating of the
// tyres is absent where it was not said.
func (p *Prospect) cautions(c predict.Change, quick Splits, tyresMPH units.Number) ChangeCautions {
	after := UpTo(quick, p.Finish)
	machine := MachineOf(p.Run.Vehicle, p.Run.Setup)
	out := ChangeCautions{Cautions: predict.ChangeCautions(machine, c, UpTo(p.Before.Quick(), p.Finish), after)}
	if fastest := after.Fastest(); tyresMPH.Known() && fastest >= tyresMPH.Value() {
		out.FastestMPH, out.TyresMPH = units.Some(fastest), tyresMPH
	}
	return out
}

// ChangeCautions are what a change calls for.
type ChangeCautions struct {
	Alone    string // the change that alone is quicker than all together, "" without
	Cautions []Caution
	// The speed that may be run, where the tyres are rated for no more than theirs.
	FastestMPH, TyresMPH units.Number
}

// ChangeNote is what there is to say beside what changes are worth.
type ChangeNote struct {
	Kind    ChangeNoteKind
	Names   []string // of the changes
	HP      float64  // power taken for today's, at the wheels
	Share   float64  // loss of the driveline
	Dollars float64
	IndexS  float64
	RPM     float64
	WasRPM  float64
	Pulled  *Pulled
	Err     error
}

// ChangeNoteKind is what a note is about.
type ChangeNoteKind string

// The notes.
const (
	PowerImplied  ChangeNoteKind = "power-implied"  // no power is stated: gains are shares of what the runs imply
	PowerOrdinary ChangeNoteKind = "power-ordinary" // nor is there a run: of what is ordinary for its kind
	LossTaken     ChangeNoteKind = "loss-taken"     // between wheels and clutch
	StripeTurns   ChangeNoteKind = "stripe-turns"   // RPM at the finish where it was WasRPM
	GainDoubted   ChangeNoteKind = "gain-doubted"   // a bare gain, as between two dyno sheets
	BuiltInNow    ChangeNoteKind = "built-in"       // so it is not ranked
	NotRanked     ChangeNoteKind = "not-ranked"     // it cannot be: Err
	MadeByBoost   ChangeNoteKind = "made-by-boost"  // their gain is
	OneByBoost    ChangeNoteKind = "one-by-boost"   // at most one of them goes into the order
	NothingFits   ChangeNoteKind = "nothing-fits"   // there is no order: Err
	OverBudget    ChangeNoteKind = "over-budget"    // each alone
	AtDearest     ChangeNoteKind = "at-dearest"     // what all of the order may cost
	SafetyOwed    ChangeNoteKind = "safety-owed"    // today's times call for it
	PlanCutShort  ChangeNoteKind = "plan-cut-short" // there may be a better order, or a cheaper one for the target
	// SafetyOverBudget is SafetyOwed where that costs more than the budget.
	SafetyOverBudget ChangeNoteKind = "safety-over-budget"

	// Of a vehicle that last ran at IndexS.
	StopTakesBack  ChangeNoteKind = "stop-takes-back" // by its throttle stop
	IndexTakesBack ChangeNoteKind = "index-takes-back"

	// Of a gain between two sheets.
	SheetRead      ChangeNoteKind = "sheet-read"       // from a file: Pulled
	SheetAirless   ChangeNoteKind = "sheet-airless"    // as measured, in air that is not known: Share by weather alone
	SheetUntold    ChangeNoteKind = "sheet-untold"     // the standard is not said: taken as the other's
	SheetEndsEarly ChangeNoteKind = "sheet-ends-early" // where the power still rises
	PeakMoved      ChangeNoteKind = "peak-moved"       // by RPM, of the first over the second
)
