package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// CubeRootGap says why the run model and the cube root differ about a change.
func CubeRootGap(g crew.CubeRootGap, sys units.System) string {
	switch g.Kind {
	case crew.OfGrip:
		return "the cube root says nothing of grip"
	case crew.OfWeight:
		return fmt.Sprintf(
			"1 %% of weight is %.2f %% of ET here, 0.33 by the cube root: engine, gears and wheels spin as heavy as before",
			g.PerPct,
		)
	case crew.Agreed:
		return "about as the cube root says"
	}
	text := fmt.Sprintf(
		"1 %% of power is %.2f %% of ET here, 0.33 by the cube root: the launch is %.2f g for about the first %s",
		g.PerPct,
		g.LaunchG,
		plain(units.Length, sys, g.GripFt, 0),
	)
	switch {
	case g.MPHPct == 0:
		return text
	case g.AllMPH:
		return fmt.Sprintf("%s; of speed it is %.2f %%, all the cube root gives", text, g.MPHPct)
	}
	return fmt.Sprintf("%s; of speed it is %.2f %%, 0.33 by the cube root", text, g.MPHPct)
}

var limitWords = map[crew.LaunchLimit]string{
	crew.ByTires:     "the tires",
	crew.ByWheelie:   "a front wheel about to lift",
	crew.ByTorque:    "the engine through clutch and first gear",
	crew.ByConverter: "the engine through its converter",
}

// Launch says what may limit the launch, the likeliest first; less than 1 in 20 goes
// without saying.
func Launch(l crew.Limits) string {
	const worthSaying = 0.05
	var order []crew.LaunchLimit
	for limit := range crew.LaunchLimits {
		if l[limit] >= worthSaying {
			order = append(order, limit)
		}
	}
	slices.SortStableFunc(order, func(a, b crew.LaunchLimit) int { return cmp.Compare(l[b], l[a]) })
	var parts []string
	for _, limit := range order {
		parts = append(parts, fmt.Sprintf("%s %.0f %%", limitWords[limit], 100*l[limit]))
	}
	return "limited, by its runs so far, by " + strings.Join(parts, ", ")
}

var handWays = map[crew.HandWay]string{
	crew.ByLastRun:          "the last run",
	crew.ByMeanOf3:          "the mean of the last three",
	crew.ByLineOnAir:        "a line on density altitude",
	crew.ByLastRunCorrected: "the last run, air corrected",
}

// Backtest says how good the forecasts have been, beside the best way by hand.
func Backtest(b crew.Backtest) string {
	if b.N == 0 {
		return "no run to try the forecast on: it takes a full pull with a time"
	}
	text := fmt.Sprintf(
		"%.0f of %d runs landed inside the 8-of-10 range; the forecast missed by %.3f on average",
		b.Coverage80*float64(b.N),
		b.N,
		b.MAE,
	)
	if b.HandN > 0 {
		way, s := b.ByHand.Least()
		text += fmt.Sprintf(" (%.3f with a run before it; the best way by hand, %s, %.3f)", b.OursByHand, handWays[way], s)
	}
	if n := b.Unnoted.N - b.N; n > 0 {
		text += fmt.Sprintf(
			"; with the %s out of line but not noted it missed by %.3f, %.0f of %d inside",
			count(n, "run"),
			b.Unnoted.MAE,
			b.Unnoted.Coverage80*float64(b.Unnoted.N),
			b.Unnoted.N,
		)
	}
	return text
}

// Explained says how much of a claimed gain boost accounts for.
func Explained(e crew.Explained) string {
	percent := func(ratio float64) float64 { return 100 * (ratio - 1) }
	most := fmt.Sprintf(
		"boost explains %.0f %% more power (%.0f to %.0f)",
		percent(e.Power.Likely),
		percent(e.Power.Low),
		percent(e.Power.High),
	)
	if e.Share == 1 {
		return fmt.Sprintf("%s: the %.0f %% claimed can be all boost", most, percent(e.Claimed))
	}
	return fmt.Sprintf(
		"%s, about %.0f %% of the %.0f %% claimed: the rest came from elsewhere (carburetor, heads, cam, exhaust) or from the dyno",
		most,
		100*e.Share,
		percent(e.Claimed),
	)
}
