package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) planCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "plan", Short: "candidate changes: what each is worth, alone and together, and what it brought",
		Example: "  slipcase plan rank --vehicle heron --track saltgrass --budget 1500\n  slipcase plan show headers",
	}
	add := &cobra.Command{
		Use: "add NAME", Short: "record a change that you think of",
		Long: `Records a candidate change: its gain, weight, grip, cost and hours, each one figure or low,
likely and high with strokes between. With --boost or --pulley the gain is worked out from
the boost, or, beside a --gain, how much of it boost can explain. Nothing is bought yet:
once it is in, a setup names it with --change NAME.`,
		Example: `  slipcase plan add headers --vehicle heron --gain {8/12/18hp|6/9/13kW} --lose {15lb|7kg} --cost 450 --hours 8
  slipcase plan add blower --vehicle heron --boost {6psi|0.4bar} --blower roots --lose {-70lb|-32kg} --cost 2800/3200/4000`,
		Args: cobra.ExactArgs(1), RunE: a.writes(a.addPart),
	}
	register(add, typed.PlanFields)
	add.Flags().String("vehicle", "", "the vehicle")
	registerBoost(add)
	list := listOf(
		a,
		"list the candidate changes",
		"  slipcase plan list --vehicle heron\n  slipcase plan list --format csv",
		(*crew.Session).Plan,
		(*page.Page).Parts,
	)
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct a change of the plan; the old figures stay as history", Args: cobra.ExactArgs(1),
		Example: `  slipcase plan amend headers --cost 520
  slipcase plan amend headers --vehicle heron --gain {10/15/20hp|7/11/15kW} --hours .`,
		RunE: a.writes(a.amendPart),
	}
	register(amend, typed.PlanFields)
	amend.Flags().String("vehicle", "", "the vehicle")
	void, unvoid := voidable[logbook.Planned]{
		group: "plan", what: "change", arg: "NAME", example: "blower",
		entry: func(p *logbook.Planned) *logbook.Entry { return &p.Entry },
		find:  namedPart, findVoid: (*logbook.Logbook).VoidPlanned, amend: (*logbook.Logbook).AmendPlanned,
		show: (*page.Page).PartStatus, called: func(p logbook.Planned) string { return p.Name },
	}.commands(a)
	void.Flags().String("vehicle", "", "the vehicle")
	c.AddCommand(add, list, a.planRankCommand(), a.planShowCommand(), amend, void, unvoid, formerly("drop", void))
	return c
}

func (a *app) addPart(c *cobra.Command, args []string, lb *crew.Session) error {
	p := logbook.Planned{Name: args[0]}
	if err := apply(c, typed.PlanFields, &p); err != nil {
		return err
	}
	if !p.Cost.Known() {
		return usagef("--cost is missing: want what it costs, as 450 or 400/450/600, or 0 when it is free: %s", uncosted)
	}
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	p.Vehicle = v.ID
	boost, err := a.boostOf(c, lb, v, &p)
	if err != nil {
		return err
	}
	if err := lb.CheckPlanned(p, v); err != nil {
		return err
	}
	if err := lb.AddPlanned(&p); err != nil {
		return err
	}
	return a.page.PartAdded(p, boost)
}

const uncosted = "without it nothing can be ranked"

func (a *app) amendPart(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c, "--vehicle"); err != nil {
		return err
	}
	p, err := namedPart(c, lb, args[0])
	if err != nil {
		return err
	}
	v, err := lb.Vehicle(p.Vehicle)
	if err != nil {
		return err
	}
	was := p
	p, err = lb.AmendPlanned(p.ID, func(p *logbook.Planned) error {
		if err := apply(c, typed.PlanFields, p); err != nil {
			return err
		}
		if !p.Cost.Known() {
			return usagef("--cost is left out: want what it costs, or 0 when it is free: %s", uncosted)
		}
		return lb.CheckPlanned(*p, v)
	})
	if err != nil {
		return err
	}
	return a.page.PartAmended(p, logbook.Changes(&was, &p))
}

// namedPart is the change of that name, of the vehicle of the flag where it is given.
func namedPart(c *cobra.Command, lb *crew.Session, name string) (logbook.Planned, error) {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return logbook.Planned{}, err
	}
	return lb.Planned(vehicle, name)
}
