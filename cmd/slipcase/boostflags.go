package main

import (
	"errors"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/counts"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func registerBoost(c *cobra.Command) {
	quantityFlag(c, "boost", units.Boost, "boost in the manifold, as {6psi|0.4bar}: the gain is worked out from it")
	keywordFlag(c, "blower", "", "with --boost: roots, screw, centrifugal or turbo",
		"roots", "screw", "centrifugal", "turbo")
	quantityFlag(c, "boost-now", units.Boost, "with --boost or --pulley: the boost it has already")
	quantityFlag(c, "pulley", units.Ratio, "with --boost-now: how many times as fast the blower will turn, as 1.1")
	figureFlag(c, "efficiency", "with --boost: adiabatic, percent, as 55 or 50/55/60; by kind of blower when left out",
		units.Percent)
	figureFlag(c, "intercooler", "with --boost: its effectiveness in percent, as 70; none when left out", units.Percent)
	keywordFlag(c, "held", "", "with a turbo: what its wastegate holds, gauge or absolute", "gauge", "absolute")
	registerStill(c)
	c.MarkFlagsMutuallyExclusive("boost", "pulley")
}

// boostOf works out a part's boost and, where no gain was given, its gain; nil
// when the part has none.
func (a *app) boostOf(
	c *cobra.Command, lb *crew.Session, v logbook.Vehicle, p *logbook.Planned,
) (*crew.Boosted, error) {
	if !anyChanged(c, "boost", "pulley") {
		flags := append(airFlags(), "blower", "boost-now", "efficiency", "intercooler", "held")
		return nil, usage(counts.Idle(c, "--boost, or --boost-now with --pulley,", nil, flags...))
	}
	if !c.Flags().Changed("boost-now") {
		name, err := lb.Boosted(v.ID)
		if err != nil {
			return nil, err
		}
		if name != "" {
			return nil, usagef("%s is in and makes boost already: want what there is now, as --boost-now {6psi|0.4bar}, "+
				"or 0 when it came off", name)
		}
	}
	boost, err := a.workBoost(c, units.Number{})
	if err != nil {
		return nil, err
	}
	p.Boost = a.page.BoostWords(boost)
	if err := lb.BoostPlanned(p, v, &boost); errors.Is(err, crew.ErrNoClaim) {
		return nil, usagef("--gain with --boost: want the gain in percent, or a setup that states today's power, " +
			"and more than 0")
	} else if err != nil {
		return nil, err
	}
	return &boost, nil
}

// workBoost is what the boost of the flags makes of the power there is now, in their
// air, in standard air without, and how much of a claimed gain it explains.
func (a *app) workBoost(c *cobra.Command, claim units.Number) (b crew.Boosted, err error) {
	f := c.Flags()
	blower, _ := f.GetString("blower")
	held, _ := f.GetString("held")
	ask := crew.BoostAsk{
		Psi: quantityOf(c, "boost"), NowPsi: quantityOf(c, "boost-now"), Pulley: quantityOf(c, "pulley"),
		Blower: predict.Blower(blower), Hold: predict.Hold(held),
		Efficiency: figureOf(c, "efficiency"), Intercooler: figureOf(c, "intercooler"), ClaimPct: claim,
	}
	for _, flag := range []string{"intercooler", "efficiency"} {
		if err := usage(counts.Share(flag, c.Flag(flag).Value.String(), figureOf(c, flag).Likely)); err != nil {
			return b, err
		}
	}
	switch {
	case blower == "":
		return b, usagef(`--blower "": want one of roots, screw, centrifugal, turbo`)
	case ask.Pulley.Known() && ask.NowPsi.Or(0) == 0:
		return b, usagef("--pulley wants the boost there is: --boost-now {6psi|0.4bar}")
	}
	if ask.Air, err = a.airGiven(c, logbook.Track{}, nil); err != nil {
		return b, err
	}
	if b, err = crew.Boost(ask); err == nil {
		err = usage(counts.Idle(c, "the air of a track higher up", airFlags(), "held"))
	}
	return b, err
}
