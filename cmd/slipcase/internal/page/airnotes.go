package page

import (
	"fmt"
	"math"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// AirHow says how the air is known: "between the readings at 13:50 and 14:40".
func AirHow(h crew.AirHow) string {
	clock := func(t time.Time) string { return t.Format("15:04") }
	switch h.Kind {
	case crew.ByTwo:
		return fmt.Sprintf("between the readings at %s and %s", clock(h.At), clock(h.To))
	case crew.ByOne:
		switch {
		case h.Minutes == 0:
			return "measured at " + clock(h.At)
		case h.Minutes > 0:
			return age(h.Minutes) + " old"
		}
		return "measured " + age(-h.Minutes) + " after"
	case crew.ByName:
		return "the reading named on the slip"
	case crew.AirGiven:
		return "given here"
	case crew.NotNear:
		return "no reading near enough to " + clock(h.At)
	case crew.NotInLog:
		return fmt.Sprintf("reading %q is not in the log", h.ReadingID)
	case crew.SlipWithoutTrack:
		return "no air: the slip names no track"
	case crew.NoTrack:
		return "no track named: --track"
	}
	return ""
}

// age is a while: "25 min", "1:10 h".
func age(minutes int) string {
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d:%02d h", minutes/60, minutes%60)
}

// Air says what the air is, and where that is known from.
func Air(e crew.Estimate, sys units.System) string {
	how := AirHow(e.How)
	switch {
	case e.Assumed:
		return guessing + guessed(e, sys)
	case e.How.Kind == crew.SlipWithoutTrack:
		return "not known: the slip names no track"
	case !e.Known:
		return "not known: " + how
	}
	altitude := units.Length.Format(sys, e.Air.DensityAltitudeFt())
	if e.RangeFt() >= wideFt {
		altitude += giveOrTake(e, sys)
	}
	line := fmt.Sprintf("density altitude %s, %s", altitude, how)
	if reckoned(e) {
		read := units.Length.Format(sys, e.ReadFt.Value())
		line = fmt.Sprintf("density altitude %s, reckoned from %s, %s", altitude, read, how)
	}
	if turned := airTurned(e, sys); turned != "" {
		line += ", " + turned
	}
	if rise := AirRise(e, sys); rise != "" && rise != steady {
		line += ", " + rise
	}
	return line
}

// reckoned reports that an air of one reading is not what was read: the day has gone on.
func reckoned(e crew.Estimate) bool {
	return e.ReadFt.Known() && e.How.Minutes != 0 && math.Abs(e.ReadFt.Value()-e.Air.DensityAltitudeFt()) > steadyFt
}

// airTurned says that the newest reading is no going on of those before, "" where it is.
func airTurned(e crew.Estimate, sys units.System) string {
	if e.Turned.ByFt == 0 {
		return ""
	}
	way := "up"
	if e.Turned.ByFt < 0 {
		way = "down"
	}
	return fmt.Sprintf("%s %s from %s: unsteady, read it again before the call", way,
		units.Length.Format(sys, math.Abs(e.Turned.ByFt)), e.Turned.Since.Format("15:04"))
}

// wideFt is the range of an air that is no longer as good as read: it is said.
const wideFt = 200

// giveOrTake is the range that holds 8 of 10; feet go without saying.
func giveOrTake(e crew.Estimate, sys units.System) string {
	text := " ± " + tens(sys, e.RangeFt())
	if sys != units.US {
		text += " " + units.Length.Symbol(sys)
	}
	return text
}

// tens is a length to the ten that a guess deserves, without its unit.
func tens(sys units.System, ft float64) string {
	return units.Group(fmt.Sprintf("%.0f", 10*math.Round(units.Length.In(sys, ft)/10)))
}

const (
	steady   = "steady"
	steadyFt = 50 // no more is what two readings of the same air differ by
)

// AirRise says how the density altitude changes by the hour, "" where that is not known.
func AirRise(e crew.Estimate, sys units.System) string {
	rise, word := e.RiseFtPerHour.Value(), "rising"
	if rise < 0 {
		word, rise = "falling", -rise
	}
	switch {
	case !e.Known || !e.RiseFtPerHour.Known():
		return ""
	case rise <= steadyFt:
		return steady
	}
	return fmt.Sprintf("%s %s an hour", word, units.Length.Format(sys, rise))
}

// AirNotes say what is to be known of a reading or of an estimate.
func AirNotes(list []crew.AirNote, sys units.System) []string {
	return each(list, func(n crew.AirNote) string { return AirNote(n, sys) })
}

// AirNote says one thing to know of a reading or of an estimate.
func AirNote(n crew.AirNote, sys units.System) string {
	pressure := func(inHg float64) string { return units.Pressure.Format(sys, inHg) }
	switch n.Kind {
	case crew.FromSeaLevel:
		return fmt.Sprintf(
			"station pressure %s worked out from sea-level pressure, give or take %s: an altimeter setting or a station pressure is better",
			pressure(n.StationInHg),
			pressure(n.DoubtInHg),
		)
	case crew.PressureTaken:
		return fmt.Sprintf("no pressure read: %s from the nearest reading", pressure(n.StationInHg))
	case crew.StandardPressure:
		return fmt.Sprintf("no pressure read: standard for %s assumed, %s, give or take %s",
			units.Length.Format(sys, n.ElevationFt), pressure(n.StationInHg), plain(units.Pressure, sys, n.DoubtInHg, 1))
	case crew.RaceDay:
		return fmt.Sprintf("no air read near then: guessing %s and %.0f %% at %s; slipcase air add",
			plain(units.Temperature, sys, n.TempF, 0), n.RHPct, units.Length.Format(sys, n.ElevationFt))
	case crew.DensityAlone:
		return fmt.Sprintf(
			"density altitude alone: temperature and water not known (%s if the pressure and water are usual), power ± %.1f %%",
			plain(units.Temperature, sys, n.TempF, 0),
			n.DoubtPct,
		)
	case crew.AirImpossible:
		return fmt.Sprintf("air reading %s left out: %v", n.ReadingID, n.Err)
	case crew.Unread:
		return "not understood in the report: " + n.Groups
	case crew.AirDoubted:
		return AirDoubt(n.Doubt, sys)
	}
	return string(n.Kind)
}

// CorrectionLimits say which limits of the correction standards the air is outside of.
func CorrectionLimits(list []crew.Beyond, sys units.System) []string {
	return each(list, func(b crew.Beyond) string {
		kind, decimals, what, metric := units.Temperature, 0, "temperatures", " (15 to 35 C)"
		switch b.Quantity {
		case "":
			return fmt.Sprintf(
				"the %s factor %.3f is outside %.2f to %.2f, that standard's limits (from memory): power corrected by it is only an estimate",
				b.Standard,
				b.Value,
				b.Low,
				b.High,
			)
		case crew.DryPressure:
			kind, decimals, what, metric = units.Pressure, 2, "pressures", " (90 to 105 kPa)"
		}
		if sys != units.US {
			metric = ""
		}
		value := plain(kind, sys, b.Value, decimals)
		if b.Quantity == crew.DryPressure {
			value += " dry"
		}
		return fmt.Sprintf(
			"%s is outside %s%s, the %s %s is meant for (from memory)",
			value,
			lowToHigh(kind, sys, b.Low, b.High, decimals),
			metric,
			what,
			b.Standard,
		)
	})
}
