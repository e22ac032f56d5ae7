package page

import (
	"fmt"
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
		minutes, before, way := h.Minutes, "before", "on"
		if minutes < 0 {
			minutes, before, way = -minutes, "after", "back"
		}
		switch {
		case minutes == 0:
			return "measured at " + clock(h.At)
		case minutes <= 5:
			return fmt.Sprintf("measured %s %s", count(minutes, "minute"), before)
		}
		return fmt.Sprintf("carried %s %s from the reading at %s", count(minutes, "minute"), way, clock(h.At))
	case crew.ByName:
		return "the reading named on the slip"
	case crew.AirGiven:
		return "given here"
	case crew.NotNear:
		return "no reading within two hours of " + clock(h.At)
	case crew.NotInLog:
		return fmt.Sprintf("reading %q is not in the log", h.ReadingID)
	case crew.SlipWithoutTrack:
		return "no air: the slip names no track"
	case crew.NoTrack:
		return "no track named: --track"
	}
	return ""
}

// Air says what the air is, and where that is known from.
func Air(e crew.Estimate, sys units.System) string {
	how, altitude := AirHow(e.How), units.Length.Format(sys, e.Air.DensityAltitudeFt())
	switch {
	case e.Assumed:
		return fmt.Sprintf("%s, taken as %s", how, altitude)
	case e.How.Kind == crew.SlipWithoutTrack:
		return "not known: the slip names no track"
	case !e.Known:
		return "not known: " + how
	}
	line := fmt.Sprintf("density altitude %s, %s", altitude, how)
	if rise := AirRise(e, sys); rise != "" && rise != steady {
		line += ", " + rise
	}
	return line
}

const steady = "steady"

// AirRise says how the density altitude changes by the hour, "" where that is not known.
func AirRise(e crew.Estimate, sys units.System) string {
	rise, word := e.RiseFtPerHour.Value(), "rising"
	if rise < 0 {
		word, rise = "falling", -rise
	}
	switch {
	case !e.Known || !e.RiseFtPerHour.Known():
		return ""
	case rise <= 50:
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
		return fmt.Sprintf("station pressure %s worked out from sea-level pressure, give or take %s: an altimeter setting or a station pressure is better",
			pressure(n.StationInHg), pressure(n.DoubtInHg))
	case crew.StandardPressure:
		return fmt.Sprintf("no pressure given: the standard pressure at %s, %s, is used, give or take %s",
			units.Length.Format(sys, n.ElevationFt), pressure(n.StationInHg), plain(units.Pressure, sys, n.DoubtInHg, 1))
	case crew.RaceDay:
		return fmt.Sprintf("no reading: a race day of %s and %.0f %% at %s is taken, density altitude give or take %s",
			plain(units.Temperature, sys, n.TempF, 0), n.RHPct, units.Length.Format(sys, n.ElevationFt), units.Length.Format(sys, n.DoubtFt))
	case crew.AirImpossible:
		return fmt.Sprintf("air reading %s is left out: %v", n.ReadingID, n.Err)
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
			return fmt.Sprintf("the %s factor %.3f is outside %.2f to %.2f, that standard's limits (from memory): power corrected by it is only an estimate",
				b.Standard, b.Value, b.Low, b.High)
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
		return fmt.Sprintf("%s is outside %s%s, the %s %s is meant for (from memory)", value, between(kind, sys, b.Low, b.High, decimals), metric, what, b.Standard)
	})
}
