package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// threeNumbers are the low, likely and high of a figure of a part.
type threeNumbers func(*logbook.Part) (low, likely, high *units.Number)

// three makes a field of a figure that is one, or low/likely/high.
func three(flag, help string, kind units.Kind, sign float64, at threeNumbers) typed.Field[logbook.Part] {
	return typed.Field[logbook.Part]{
		Flag: flag,
		Help: help,
		Set: func(p *logbook.Part, bare units.System, text string) error {
			if text == typed.Absent {
				at.clear(p)
				return nil
			}
			f, err := parseFigure(bare, text, kind)
			if err != nil {
				return err
			}
			at.set(p, f, sign)
			return nil
		},
	}
}

func (at threeNumbers) set(p *logbook.Part, f crew.Asked, sign float64) {
	at.clear(p)
	low, likely, high := at(p)
	r := crew.Times(f.Range, sign)
	if *likely = units.Some(r.Likely); !f.Alone {
		*low, *high = units.Some(r.Low), units.Some(r.High)
	}
}

func (at threeNumbers) clear(p *logbook.Part) {
	low, likely, high := at(p)
	*low, *likely, *high = units.Number{}, units.Number{}, units.Number{}
}

var (
	gainHP threeNumbers = func(p *logbook.Part) (_, _, _ *units.Number) {
		return &p.GainLowHP, &p.GainHP, &p.GainHighHP
	}
	gainPct threeNumbers = func(p *logbook.Part) (_, _, _ *units.Number) {
		return &p.GainLowPct, &p.GainPct, &p.GainHighPct
	}
)

// setGain reads a gain, in hp or in percent.
func setGain(p *logbook.Part, bare units.System, text string) error {
	gainHP.clear(p)
	gainPct.clear(p)
	if text == typed.Absent {
		return nil
	}
	f, err := parseFigure(bare, text, units.Power, units.Percent)
	switch {
	case err != nil:
		return err
	case f.Percent:
		gainPct.set(p, f, 1)
	default:
		gainHP.set(p, f, 1)
	}
	return nil
}

var partFields = []typed.Field[logbook.Part]{
	{Flag: "gain", Help: "power added, as {25hp|19kW}, 8% or low/likely/high as {15/25/30hp|11/19/22kW}", Set: setGain},
	typed.ChoiceField(
		"power-at",
		"where that power counts: wheels or clutch",
		func(p *logbook.Part) *string { return &p.PowerAt },
		"wheels",
		"clutch",
	),
	three("lose", "weight taken off, as {40lb|18kg}; {-15lb|-7kg} puts it on", units.Weight, -1,
		func(p *logbook.Part) (_, _, _ *units.Number) {
			return &p.WeightLowLb, &p.WeightLb, &p.WeightHighLb
		}),
	three("grip", "launch grip added, as 5% or 2/5/8%", units.Percent, 1, func(p *logbook.Part) (_, _, _ *units.Number) {
		return &p.GripLowPct, &p.GripPct, &p.GripHighPct
	}),
	three("cost", "what it costs, as 450 or 400/450/600; 0 when it is free", units.Money, 1,
		func(p *logbook.Part) (_, _, _ *units.Number) {
			return &p.CostLow, &p.Cost, &p.CostHigh
		}),
	three("hours", "hours of work, as 8 or 6/8/12", units.Hours, 1, func(p *logbook.Part) (_, _, _ *units.Number) {
		return &p.HoursLow, &p.Hours, &p.HoursHigh
	}),
	typed.WordsField("replaces", "changes of the plan that do not go together with it, as radials,stock-headers",
		func(p *logbook.Part) *string { return &p.Replaces }),
	typed.WordsField(
		"needs",
		"changes of the plan that must be in with it",
		func(p *logbook.Part) *string { return &p.Needs },
	),
	typed.ChoiceField("safety", "the safety equipment that it is, as roll-bar: bought where the times call for it",
		func(p *logbook.Part) *string { return &p.Safety }),
	typed.WordsField("notes", "anything else", func(p *logbook.Part) *string { return &p.Notes }),
}

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
	register(add, partFields)
	add.Flags().String("vehicle", "", "the vehicle")
	registerBoost(add)
	list := listOf(
		a,
		"list the candidate changes",
		"  slipcase plan list --vehicle heron\n  slipcase plan list --format csv",
		(*crew.Session).Parts,
		(*page.Page).Parts,
	)
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct a change of the plan; the old figures stay as history", Args: cobra.ExactArgs(1),
		Example: `  slipcase plan amend headers --cost 520
  slipcase plan amend headers --vehicle heron --gain {10/15/20hp|7/11/15kW} --hours .`,
		RunE: a.writes(a.amendPart),
	}
	register(amend, partFields)
	amend.Flags().String("vehicle", "", "the vehicle")
	void, unvoid := voidable[logbook.Part]{
		group: "plan", what: "change", arg: "NAME", example: "blower",
		entry: func(p *logbook.Part) *logbook.Entry { return &p.Entry },
		find:  namedPart, findVoid: (*logbook.Logbook).VoidPart, amend: (*logbook.Logbook).AmendPart,
		show: (*page.Page).PartStatus, called: func(p logbook.Part) string { return p.Name },
	}.commands(a)
	void.Flags().String("vehicle", "", "the vehicle")
	c.AddCommand(add, list, a.planRankCommand(), a.planShowCommand(), amend, void, unvoid, formerly("drop", void))
	return c
}

func (a *app) addPart(c *cobra.Command, args []string, lb *crew.Session) error {
	p := logbook.Part{Name: args[0]}
	if err := apply(c, partFields, &p); err != nil {
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
	if err := lb.CheckPart(p, v); err != nil {
		return err
	}
	if err := lb.AddPart(&p); err != nil {
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
	p, err = lb.AmendPart(p.ID, func(p *logbook.Part) error {
		if err := apply(c, partFields, p); err != nil {
			return err
		}
		if !p.Cost.Known() {
			return usagef("--cost is left out: want what it costs, or 0 when it is free: %s", uncosted)
		}
		return lb.CheckPart(*p, v)
	})
	if err != nil {
		return err
	}
	return a.page.PartAmended(p, logbook.Changes(&was, &p))
}

// namedPart is the change of that name, of the vehicle of the flag where it is given.
func namedPart(c *cobra.Command, lb *crew.Session, name string) (logbook.Part, error) {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return logbook.Part{}, err
	}
	return lb.Part(vehicle, name)
}
