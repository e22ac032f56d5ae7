package page

import (
	"fmt"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Judgement says how a run differs from its forecast, and how unusual that is.
func Judgement(j crew.Judgement) string {
	side, share := "quicker", j.Percentile
	if j.Difference > 0 {
		side, share = "slower", 100-j.Percentile
	}
	head := fmt.Sprintf("%.3f s %s than forecast at %g ft", math.Abs(j.Difference), side, j.Mark.Ft())
	switch {
	case share >= 25:
		return head + ": an ordinary run, one of the middle half"
	case share >= 10:
		return fmt.Sprintf("%s: %s than most, nothing unusual", head, side)
	case share >= 2.5:
		return fmt.Sprintf("%s: about one run in %.0f is as far on that side", head, 100/share)
	case share >= 0.1:
		return fmt.Sprintf("%s: unusual, only one run in %.0f is as far on that side; look for a cause", head, 100/share)
	}
	return head + ": out of line with everything this car has run; look for a cause, or a wrong figure"
}

// PieceName names a part of the track.
func PieceName(p crew.Piece) string {
	return strings.Join(each(p.Parts, func(part crew.TrackPart) string { return string(part) }), " and ")
}

// Piece says what a part of the track won or lost.
func Piece(p crew.Piece) string {
	side := "lost"
	seconds := p.Seconds
	if seconds < 0 {
		side, seconds = "won", -seconds
	}
	said := fmt.Sprintf("%.3f s %s", seconds, side)
	if seconds < 0.0005 {
		said = "even"
	}
	switch {
	case p.Word != crew.NotTold:
		return said + ", " + p.Word + " beyond luck"
	case p.MoreRuns > 0:
		return said + fmt.Sprintf("  ~ %d more like it would tell", p.MoreRuns)
	}
	return said + "  ~ too small to call"
}

// ShortPull says why a run seems not to have been at full power; empty where it does not.
func ShortPull(s crew.ShortPull, sys units.System) string {
	speed := fmt.Sprintf("%.2f", s.MPH)
	if sys != units.US {
		speed = plain(units.Speed, sys, s.MPH, 2)
	}
	run := fmt.Sprintf("%.3f @ %s at %g ft", s.ETS, speed, s.Mark.Ft())
	switch s.Kind {
	case crew.PullUnderOwn:
		return fmt.Sprintf("not full power to the end: %s is %.1f %% short of the car's usual ET x MPH", run, 100*s.Share)
	case crew.PullLow:
		return fmt.Sprintf("not full power to the end: %s makes ET x MPH %.0f, a full pull %.0f to %.0f", run, s.Pull, s.Low, s.High)
	case crew.PullHigh:
		return fmt.Sprintf("time lost early, or a figure misread: %s makes ET x MPH %.0f, a full pull %.0f to %.0f", run, s.Pull, s.Low, s.High)
	}
	return ""
}

// Gap says what the two powers of a run, by its time and by its speed, mean.
func Gap(g crew.PowerGap) string {
	usual := fmt.Sprintf("%s's own %.0f", g.Formula, g.Usual)
	if g.Own {
		usual = fmt.Sprintf("this car's usual %.0f", g.Usual)
	}
	product := fmt.Sprintf("ET x MPH %.0f, %s", g.Pull, usual)
	switch g.Kind {
	case crew.GapHalf:
		return "an eighth-mile slip? Its time and speed are no quarter mile's (" + product + ")"
	case crew.GapShort:
		return "not full power to the end, or a figure misread: no full pull makes so little (" + product + ")"
	case crew.GapEarly:
		return "traction or gearing was missing, not power (" + product + ")"
	case crew.GapLate:
		return "speed was missing at the end: lifted, or short of power up there (" + product + ")"
	case crew.GapOfFormula:
		return "the gap is the formula's, not the car's (" + product + ")"
	}
	return fmt.Sprintf("the gap says nothing yet (%s, constant power %d); compare with the car's own runs", product, crew.IdealPull)
}
