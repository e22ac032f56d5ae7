package page

import (
	"fmt"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// ShownTwice says which of two times was taken that a clock put back showed alike.
func ShownTwice(taken, other time.Time) string {
	which, left := "first", "second"
	if other.Before(taken) {
		which, left = left, which
	}
	return fmt.Sprintf("%s came twice on %s, the clocks went back: taken as the %s; the %s is %s",
		taken.Format("15:04"), taken.Format("Mon 2 Jan"), which, left, other.Format("15:04-07:00"))
}

// Basis says what a forecast rests on.
func Basis(b crew.Basis) string {
	switch {
	case b.Kind == crew.FromFormula && b.Changed:
		return fmt.Sprintf("weight and power of its first setup by %s's formula, less %.1f %% as road cars ran, and what "+
			"the change since makes of it: a rough guess, no full run yet", b.Formula, 100*b.LowerBy)
	case b.Kind == crew.FromFormula:
		return fmt.Sprintf("weight and power by %s's formula, less %.1f %% as road cars ran: a rough guess, no full run yet",
			b.Formula, 100*b.LowerBy)
	case b.Kind == crew.FromKind:
		return "what its kind usually runs: a rough guess, no full run yet and weight or power not known"
	}
	fitted := count(b.Runs, "run")
	switch b.SameSetup {
	case b.Runs:
		return fitted
	case 0:
		return fitted + " on other setups, carried to this one"
	}
	return fmt.Sprintf("%s, %d of them on this setup", fitted, b.SameSetup)
}

// FormulaDoubt says how far the formulas miss.
func FormulaDoubt() string {
	return fmt.Sprintf(
		"on %d road cars of 1974 one in three missed by more than %.1f %%, none of them quicker than %.1f s",
		crew.FormulaCars,
		100*crew.FormulaDoubt,
		crew.FormulaQuickestS,
	)
}

// Notes says what is to be known beside the numbers.
func Notes(list []crew.Note, sys units.System) []string {
	return each(list, func(n crew.Note) string { return Note(n, sys) })
}

// Note says one thing to know beside the numbers.
func Note(n crew.Note, sys units.System) string {
	if text, plain := plainNotes[n.Kind]; plain {
		return units.Examples(sys, text)
	}
	switch n.Kind {
	case crew.AirUncertain:
		return fmt.Sprintf("air uncertain by %s of density altitude: range widened", altitude(sys, n.AirFt))
	case crew.AirUnlike:
		return fmt.Sprintf(
			"has raced only at %s; this is %s of density altitude",
			altitudes(sys, n.RacedFt),
			altitude(sys, n.AirFt),
		)
	case crew.AirlessRuns:
		return fmt.Sprintf("%d of the earlier runs without air: they count for less", n.Runs)
	case crew.PowerUncorrected:
		return fmt.Sprintf("power uncorrected, its air not known: SAE reference air assumed (%.0f °%s, %s dry)",
			units.Temperature.In(sys, 77), units.Temperature.Symbol(sys), units.Pressure.Format(sys, 99000/units.PascalPerInHg))
	case crew.BoostUntold:
		return fmt.Sprintf(units.Examples(sys, "a turbo assumed to hold %s over the outside air; one held by a sensor loses next to nothing at "+
			"altitude: slipcase setup amend --boost {14psi|1bar} --boost-held absolute says so"),
			units.Boost.Format(sys, crew.UsualTurboPsi))
	case crew.BoostDecides:
		return fmt.Sprintf("a turbo %s: this air leaves it %.0f %% of its power", turboHolds(n, sys), 100*n.Share)
	case crew.MuchPower:
		return fmt.Sprintf(
			"%+.0f %% of power is more than this was tried on (%.0f %%): today's gearing, tires and driveline will not suit it",
			100*n.Share,
			100*crew.MostTried,
		)
	case crew.MuchWeight:
		return fmt.Sprintf(
			"%+.0f %% of weight is more than this was tried on (%.0f %%): where it comes off moves the launch too",
			100*n.Share,
			100*crew.MostWeightTried,
		)
	case crew.DayUnlike:
		return fmt.Sprintf(
			"this day it runs %s than on others: a track unlike the others, or something wrong with the car",
			apart(n.ByS),
		)
	case crew.ChangedSince:
		return fmt.Sprintf(
			"since %s it runs %s than the log explains: a change not entered?",
			n.Since.Format("Mon 2 Jan 2006"),
			apart(n.ByS),
		)
	case crew.GainNotSeen:
		return fmt.Sprintf(
			"the %.0f %% more power that the setup states does not show in the runs: was the gain measured?",
			100*n.Share,
		)
	case crew.LaunchKept:
		return launchKept(n)
	case crew.NoSharedDay:
		return fmt.Sprintf("no day has runs of both: the days alone, %d and %d, could make the difference", n.DaysA, n.DaysB)
	case crew.AirsApart:
		return fmt.Sprintf(
			"the two never ran in the same air, %s and %s of density altitude: the air alone could make the difference",
			altitudes(sys, n.RacedFt),
			altitudes(sys, n.OtherRaced),
		)
	}
	return string(n.Kind)
}

// launchKept says what more power gains by the 60 ft, if the tires hold it.
func launchKept(n crew.Note) string {
	text := "same grip assumed"
	if n.ByS < -evenS {
		text += fmt.Sprintf(", with %s gained by the 60 ft", short(-n.ByS, 2))
	}
	return text + ": power that spins the tires costs time; --grip says the 60 ft there will be"
}

// turboHolds says what stays when the air thins.
func turboHolds(n crew.Note, sys units.System) string {
	boost := units.Boost.Format(sys, n.Psi.Or(crew.UsualTurboPsi))
	if !n.Psi.Known() {
		boost = "some " + boost
	}
	switch n.Held {
	case crew.HoldsAbsolute:
		return "that holds its absolute pressure, by a sensor"
	case crew.HoldsRatio:
		return "that keeps its pressure ratio"
	}
	return "that holds " + boost + " over the outside air"
}

// apart writes how much quicker or slower, s.
func apart(byS float64) string {
	if byS > 0 {
		return fmt.Sprintf("%.2f s slower", byS)
	}
	return fmt.Sprintf("%.2f s quicker", -byS)
}

var plainNotes = map[crew.NoteKind]string{
	crew.NoWeight:            "weight not entered: an ordinary one assumed, the range is wide until runs tell",
	crew.NoPower:             "power not entered: the range is wide until runs tell",
	crew.FirstStop:           "first run with the throttle stop: the forecast is a guess; its own runs decide from the next on",
	crew.FirstFree:           "first run without the throttle stop: the forecast is a guess; its own runs decide from the next on",
	crew.NewSetup:            "range widened: no runs on this setup yet",
	crew.NewForPower:         "no runs on this setup yet and no power entered: a tenth more than before assumed",
	crew.AirAssumed:          "no air: range widened for the guess",
	crew.AirOfRuns:           "no air: the usual air of its runs assumed, range widened",
	crew.PowerPlaceUntold:    "not said where the power was measured: at the wheels assumed",
	crew.PowerAsStated:       "no air: power taken as stated, whatever the weather",
	crew.PowerStandardUntold: "correction not given: SAE assumed",
	crew.LaunchUntold:        "no runs yet: an ordinary launch assumed; one that cannot hook gains less",
}

// altitude writes a density altitude.
func altitude(sys units.System, ft float64) string {
	return whole(sys, ft) + " " + units.Length.Symbol(sys)
}

func altitudes(sys units.System, s crew.Span) string {
	low, high := whole(sys, s.Low), whole(sys, s.High)
	if low == high {
		return low + " " + units.Length.Symbol(sys)
	}
	return low + " to " + high + " " + units.Length.Symbol(sys)
}
