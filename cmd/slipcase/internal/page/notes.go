package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Basis says what a forecast rests on.
func Basis(b crew.Basis) string {
	switch {
	case b.Kind == crew.FromFormula:
		return fmt.Sprintf("%s's formula for its weight and power, less the %.1f %% that road cars ran under it: no earlier full-power run",
			b.Formula, 100*b.LowerBy)
	case b.Kind == crew.FromKind:
		return "what its kind usually runs: no earlier full-power run, and weight or power is not known"
	}
	fitted := "the run model fitted to " + count(b.Runs, "run")
	switch b.SameSetup {
	case b.Runs:
		return fitted
	case 0:
		return fitted + " with other setups, carried to this one"
	}
	return fmt.Sprintf("%s, %d of them with this setup", fitted, b.SameSetup)
}

// FormulaDoubt says how far the formulas miss.
func FormulaDoubt() string {
	return fmt.Sprintf("on %d road cars of 1974 one in three missed by more than %.1f %%; none of them was quicker than %.1f s",
		crew.FormulaCars, 100*crew.FormulaDoubt, crew.FormulaQuickestS)
}

// Notes says what is to be known beside the numbers.
func Notes(list []crew.Note, sys units.System) []string {
	return each(list, func(n crew.Note) string { return Note(n, sys) })
}

// Note says one thing to know beside the numbers.
func Note(n crew.Note, sys units.System) string {
	if text, plain := plainNotes[n.Kind]; plain {
		return text
	}
	switch n.Kind {
	case crew.AirUncertain:
		return fmt.Sprintf("the air is uncertain by %s of density altitude: wider for it", altitude(sys, n.AirFt))
	case crew.AirUnlike:
		return fmt.Sprintf("this air, %s, is unlike any it has raced in: %s of density altitude", altitude(sys, n.AirFt), altitudes(sys, n.RacedFt))
	case crew.AirlessRuns:
		return fmt.Sprintf("%d of the earlier runs have no known air: they count for less", n.Runs)
	case crew.PowerUncorrected:
		return fmt.Sprintf("power as measured, in air that is not known: taken as in SAE reference air (%.0f °%s, %s dry)",
			units.Temperature.In(sys, 77), units.Temperature.Symbol(sys), units.Pressure.Format(sys, 99000/units.PascalPerInHg))
	case crew.MuchPower:
		return fmt.Sprintf("%+.0f %% of power is more than this was tried on (%.0f %%): gearing, tyres and driveline of today will not be right for it",
			100*n.Share, 100*crew.MostTried)
	case crew.MuchWeight:
		return fmt.Sprintf("%+.0f %% of weight is more than this was tried on (%.0f %%): where it comes off moves the launch too",
			100*n.Share, 100*crew.MostWeightTried)
	case crew.DayUnlike:
		return fmt.Sprintf("this day it runs %s than on others: a track unlike the others, or something to look for", apart(n.ByS))
	case crew.ChangedSince:
		return fmt.Sprintf("since %s it runs %s than the log explains: a change not entered?", n.Since.Format("Mon 2 Jan 2006"), apart(n.ByS))
	case crew.GainNotSeen:
		return fmt.Sprintf("the %.0f %% more power that the setup states does not show in the runs: was the gain measured?", 100*n.Share)
	case crew.NoSharedDay:
		return fmt.Sprintf("no day has runs of both: the luck of %d and %d days can pass for the setup's", n.DaysA, n.DaysB)
	case crew.AirsApart:
		return fmt.Sprintf("the two never ran in the same air, %s and %s of density altitude: the air's law can pass for the setup's",
			altitudes(sys, n.RacedFt), altitudes(sys, n.OtherRaced))
	}
	return string(n.Kind)
}

// apart writes how much quicker or slower, s.
func apart(byS float64) string {
	if byS > 0 {
		return fmt.Sprintf("%.2f s slower", byS)
	}
	return fmt.Sprintf("%.2f s quicker", -byS)
}

var plainNotes = map[crew.NoteKind]string{
	crew.NoWeight:            "the weight of this setup is not known: an ordinary one is taken, and the intervals are wide until runs tell",
	crew.NoPower:             "the power of this setup is not known: the intervals are wide until runs tell",
	crew.NewSetup:            "no run with this setup yet: wider by how large the change is",
	crew.AirAssumed:          "no air known: an assumed one is taken, and it is wider for it",
	crew.AirOfRuns:           "no air known: taken as the usual air of the runs, and wider for it",
	crew.PowerPlaceUntold:    "where the power was measured is not said: taken as at the wheels",
	crew.PowerAsStated:       "no air known: the power is taken as stated, whatever the weather",
	crew.PowerStandardUntold: "the power's correction standard is not said: taken as SAE",
	crew.BoostUntold:         "a turbo taken to hold 12 psi above the air outside: one held by a sensor loses next to nothing with height; slipcase setup amend --boost 14psi --boost-held absolute says so",
	crew.LaunchUntold:        "no run of this vehicle yet: an ordinary launch is taken, and a tight one gains less",
	crew.LaunchKept:          "the launch is taken as it is: more power that spins the tyres costs time, --grip says what the tyres will do",
}

// altitude writes a density altitude; in feet it says the metres too.
func altitude(sys units.System, ft float64) string {
	if sys == units.US {
		return fmt.Sprintf("%s ft (%s m)", whole(sys, ft), whole(units.Metric, ft))
	}
	return whole(sys, ft) + " m"
}

func altitudes(sys units.System, s crew.Span) string {
	between := func(sys units.System) string { return whole(sys, s.Low) + " to " + whole(sys, s.High) }
	if sys == units.US {
		return fmt.Sprintf("%s ft (%s m)", between(sys), between(units.Metric))
	}
	return between(sys) + " m"
}
