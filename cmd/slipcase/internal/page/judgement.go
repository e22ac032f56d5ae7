package page

import (
	"fmt"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Judgement says how a run differs from its forecast, and how unusual that is; where it
// is judged short of its finish it says where.
func Judgement(j crew.Judgement, finish crew.Mark) string {
	side, share := "quicker", j.Percentile
	if j.Difference > 0 {
		side, share = "slower", 100-j.Percentile
	}
	head := short(math.Abs(j.Difference), 3) + " " + side + " than "
	at := ""
	if j.Mark != finish {
		at = fmt.Sprintf(" at %g ft", j.Mark.Ft())
	}
	if j.Forecast.RunsUsed == 0 {
		return head + "the forecast" + at + ", a rough guess: no runs yet"
	}
	head += "forecast" + at + ": "
	switch {
	case share >= 25:
		return head + "a normal run"
	case share >= 10:
		return head + side + " than most, nothing unusual"
	case share >= 2.5:
		return head + fmt.Sprintf("one run in %.0f is this %s", 100/share, strings.TrimSuffix(side, "er"))
	case share >= 0.1:
		return head + fmt.Sprintf("one run in %.0f is this %s: what changed?", 100/share, strings.TrimSuffix(side, "er"))
	}
	return head + "way off: what changed?"
}

// PieceName names a part of the track.
func PieceName(p crew.Piece) string {
	return strings.Join(each(p.Parts, func(part crew.TrackPart) string { return string(part) }), " and ")
}

// Piece says what a part of the track picked up or gave up.
func Piece(p crew.Piece) string {
	said := "gave up " + short(math.Abs(p.Seconds), 3)
	switch {
	case math.Abs(p.Seconds) < 0.0005:
		return "even"
	case p.Seconds < 0:
		said = "picked up " + short(-p.Seconds, 3)
	}
	switch {
	case p.Word != crew.NotTold:
		return said + ", real"
	case p.MoreRuns > 0 && p.MoreRuns <= 10: // nobody makes more just to know
		return said + fmt.Sprintf("  ~ its usual scatter (%d more like it to know)", p.MoreRuns)
	}
	return said + "  ~ its usual scatter"
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
		return fmt.Sprintf("looks lifted: %s is %.1f %% short of its usual ET x MPH", run, 100*s.Share)
	case crew.PullLow:
		return fmt.Sprintf("looks lifted: %s makes ET x MPH %.0f, a full pull %.0f-%.0f", run, s.Pull, s.Low, s.High)
	case crew.PullHigh:
		return fmt.Sprintf(
			"time lost early, or a figure misread: %s makes ET x MPH %.0f, a full pull %.0f-%.0f",
			run,
			s.Pull,
			s.Low,
			s.High,
		)
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
		return "short at the top end: lifted, or down on power (" + product + ")"
	case crew.GapOfFormula:
		return "go by mph (" + product + ")"
	}
	return fmt.Sprintf(
		"the gap says nothing yet (%s, constant power %d): compare with its own runs",
		product,
		crew.IdealPull,
	)
}

// shortGap is Gap where there is no room for the product.
func shortGap(g crew.PowerGap, sys units.System) string {
	switch g.Kind {
	case crew.GapEarly:
		return "traction or gearing was missing, not power"
	case crew.GapLate:
		return "short at the top end: lifted, or down on power"
	}
	if sys != units.US {
		return "go by speed"
	}
	return "go by mph"
}
