package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// three makes a field of a figure that is one, or low/likely/high.
func three(flag, help string, kind units.Kind, sign float64, at func(*logbook.Part) (low, likely, high *units.Number)) field[logbook.Part] {
	return field[logbook.Part]{flag, help, func(p *logbook.Part, text string) error {
		if text == absent {
			clearThree(p, at)
			return nil
		}
		t, err := parseThree(text, kind)
		if err != nil {
			return err
		}
		setThree(p, t, sign, at)
		return nil
	}}
}

func setThree(p *logbook.Part, t threeFigures, sign float64, at func(*logbook.Part) (low, likely, high *units.Number)) {
	low, likely, high := at(p)
	*low, *high = units.Number{}, units.Number{}
	*likely = units.Some(sign * t.likely)
	if !t.alone {
		r := times(t.exact(), sign)
		*low, *high = units.Some(r.Low), units.Some(r.High)
	}
}

func clearThree(p *logbook.Part, at func(*logbook.Part) (low, likely, high *units.Number)) {
	low, likely, high := at(p)
	*low, *likely, *high = units.Number{}, units.Number{}, units.Number{}
}

func gainHP(p *logbook.Part) (low, likely, high *units.Number) {
	return &p.GainLowHP, &p.GainHP, &p.GainHighHP
}

func gainPct(p *logbook.Part) (low, likely, high *units.Number) {
	return &p.GainLowPct, &p.GainPct, &p.GainHighPct
}

var partFields = []field[logbook.Part]{
	{"gain", "power added, as 25hp, 8% or low/likely/high as 15/25/30hp", func(p *logbook.Part, text string) error {
		clearThree(p, gainHP)
		clearThree(p, gainPct)
		if text == absent {
			return nil
		}
		t, err := parseThree(text, units.Power, units.Percent)
		if err != nil {
			return err
		}
		if t.percent {
			setThree(p, t, 1, gainPct)
		} else {
			setThree(p, t, 1, gainHP)
		}
		return nil
	}},
	choice("power-at", "where that power counts: wheels or clutch", func(p *logbook.Part) *string { return &p.PowerAt }),
	three("lose", "weight taken off, as 40lb; -15lb puts it on", units.Weight, -1, func(p *logbook.Part) (*units.Number, *units.Number, *units.Number) {
		return &p.WeightLowLb, &p.WeightLb, &p.WeightHighLb
	}),
	three("grip", "launch grip added, as 5% or 2/5/8%", units.Percent, 1, func(p *logbook.Part) (*units.Number, *units.Number, *units.Number) {
		return &p.GripLowPct, &p.GripPct, &p.GripHighPct
	}),
	three("cost", "what it costs, as 450 or 400/450/600; 0 when it is free", units.Money, 1, func(p *logbook.Part) (*units.Number, *units.Number, *units.Number) {
		return &p.CostLow, &p.Cost, &p.CostHigh
	}),
	three("hours", "hours of work, as 8 or 6/8/12", units.Hours, 1, func(p *logbook.Part) (*units.Number, *units.Number, *units.Number) {
		return &p.HoursLow, &p.Hours, &p.HoursHigh
	}),
	words("notes", "anything else", func(p *logbook.Part) *string { return &p.Notes }),
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
		Example: `  slipcase plan add headers --vehicle heron --gain 8/12/18hp --lose 15lb --cost 450 --hours 8
  slipcase plan add blower --vehicle heron --boost 6psi --blower roots --lose -70lb --cost 2800/3200/4000`,
		Args: cobra.ExactArgs(1), RunE: a.writes(a.addPart),
	}
	register(add, partFields)
	add.Flags().String("vehicle", "", "the vehicle")
	registerBoost(add)
	list := &cobra.Command{
		Use: "list", Short: "list the candidate changes", Args: cobra.NoArgs,
		Example: "  slipcase plan list --vehicle heron\n  slipcase plan list --format csv",
		RunE:    a.reads(a.listParts),
	}
	list.Flags().String("vehicle", "", "of this vehicle alone")
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct a change of the plan; the old figures stay as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase plan amend headers --cost 520\n  slipcase plan amend headers --vehicle heron --gain 10/15/20hp --hours .",
		RunE:    a.writes(a.amendPart),
	}
	register(amend, partFields)
	amend.Flags().String("vehicle", "", "the vehicle")
	drop := &cobra.Command{
		Use: "drop NAME", Short: "take a change off the plan; its row stays as void", Args: cobra.ExactArgs(1),
		Example: "  slipcase plan drop blower\n  slipcase plan drop headers --vehicle heron",
		RunE:    a.writes(a.dropPart),
	}
	drop.Flags().String("vehicle", "", "the vehicle")
	c.AddCommand(add, list, a.planRankCommand(), a.planShowCommand(), amend, drop)
	return c
}

func (a *app) listParts(c *cobra.Command, _ []string, lb *crew.Session) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	parts, err := lb.Parts(vehicle)
	if err != nil {
		return err
	}
	return a.answer(parts, a.partTable(parts), nil)
}

func (a *app) dropPart(c *cobra.Command, args []string, lb *crew.Session) error {
	p, err := namedPart(c, lb, args[0])
	if err != nil {
		return err
	}
	if p.Status == logbook.Void {
		return fmt.Errorf("change %q is dropped already", p.Name)
	}
	p, err = lb.AmendPart(p.ID, func(p *logbook.Part) error { p.Status = logbook.Void; return nil })
	if err != nil {
		return err
	}
	return a.answer(p, a.partTable([]logbook.Part{p}), func(w io.Writer) { fmt.Fprintf(w, "dropped  %s of %s\n", p.Name, p.Vehicle) })
}

func (a *app) addPart(c *cobra.Command, args []string, lb *crew.Session) error {
	p := logbook.Part{Name: args[0]}
	if err := apply(c, partFields, &p); err != nil {
		return err
	}
	if !p.Cost.Known() {
		return usagef("--cost is missing: want what it costs, as 450 or 400/450/600, or 0 when it is free: without it nothing can be ranked")
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
	if err := p.Check(); err != nil {
		return usage(err)
	}
	if _, _, err := changeOfPart(p, powerOf(lb, v, a.now())); err != nil {
		return usage(err)
	}
	if err := lb.AddPart(&p); err != nil {
		return err
	}
	out := struct {
		logbook.Part
		Worked *boostJSON `json:"worked_out,omitempty"`
	}{p, boost}
	return a.answer(out, a.partTable([]logbook.Part{p}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %s of %s: %s\n", p.Name, p.Vehicle, a.partWords(p))
		if boost != nil {
			fmt.Fprintln(w)
			a.boostText(w, *boost)
		}
		fmt.Fprintf(w, "  next, against the others   slipcase plan rank --vehicle %s\n", p.Vehicle)
	})
}

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
			return usagef("--cost is left out: want what it costs, or 0 when it is free: without it nothing can be ranked")
		}
		if err := p.Check(); err != nil {
			return usage(err)
		}
		_, _, err := changeOfPart(*p, powerOf(lb, v, a.now()))
		return usage(err)
	})
	if err != nil {
		return err
	}
	return a.answer(p, a.partTable([]logbook.Part{p}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %s of %s, revision %d: %s\n", p.Name, p.Vehicle, p.Rev, a.partWords(p))
		changes(w, &was, &p)
	})
}

// namedPart is the change of that name, of the vehicle of the flag where it is given.
func namedPart(c *cobra.Command, lb *crew.Session, name string) (logbook.Part, error) {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return logbook.Part{}, err
	}
	return lb.Part(vehicle, name)
}

// span shows a figure of the plan: one, or its low and high.
func (a *app) span(k units.Kind, low, likely, high units.Number) string {
	if !likely.Known() {
		return ""
	}
	text := a.show(k, likely)
	switch {
	case k.Name == units.Money.Name:
		text = dollars(likely.Value())
	case k.Name == units.Weight.Name && likely.Value() > 0:
		text = "+" + text
	}
	if low.Known() && low != high {
		text += fmt.Sprintf(" (%.0f to %.0f)", k.In(a.units, low.Value()), k.In(a.units, high.Value()))
	}
	return text
}

// gainText is the gain of a part in the unit it was given in.
func (a *app) gainText(p logbook.Part) string {
	if p.GainPct.Known() {
		return a.span(units.Percent, p.GainLowPct, p.GainPct, p.GainHighPct)
	}
	return a.span(units.Power, p.GainLowHP, p.GainHP, p.GainHighHP)
}

func (a *app) partWords(p logbook.Part) string {
	text := ""
	for _, s := range []struct{ label, of string }{
		{"power ", a.gainText(p)},
		{"weight ", a.span(units.Weight, p.WeightLowLb, p.WeightLb, p.WeightHighLb)},
		{"grip ", a.span(units.Percent, p.GripLowPct, p.GripPct, p.GripHighPct)},
		{"", a.span(units.Money, p.CostLow, p.Cost, p.CostHigh)},
		{"", a.span(units.Hours, p.HoursLow, p.Hours, p.HoursHigh)},
	} {
		if s.of == "" {
			continue
		}
		if text != "" {
			text += ", "
		}
		text += s.label + s.of
	}
	return text
}

func (a *app) partTable(parts []logbook.Part) table.Table {
	if a.format == table.CSV {
		return partFigures(parts)
	}
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 4},
		{Head: "change", Key: "name"},
		{Head: "vehicle", Key: "vehicle", Drop: 2},
		{Head: "power", Key: "gain"},
		{Head: "weight", Key: "weight"},
		{Head: "grip", Key: "grip", Drop: 1},
		{Head: "cost", Key: "cost"},
		{Head: "hours", Key: "hours", Drop: 1},
		{Head: "boost", Key: "boost", Drop: 3},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, p := range parts {
		t.Add(p.ID, p.Name, p.Vehicle, a.gainText(p), a.span(units.Weight, p.WeightLowLb, p.WeightLb, p.WeightHighLb),
			a.span(units.Percent, p.GripLowPct, p.GripPct, p.GripHighPct), a.span(units.Money, p.CostLow, p.Cost, p.CostHigh),
			a.span(units.Hours, p.HoursLow, p.Hours, p.HoursHigh), p.Boost, p.Notes)
	}
	return t
}

// partFigures is the plan for another program: every figure bare, in its own column.
func partFigures(parts []logbook.Part) table.Table {
	t := table.Table{Columns: []table.Column{{Key: "id"}, {Key: "name"}, {Key: "vehicle"}}}
	for _, of := range [][2]string{{"gain", "_hp"}, {"gain", "_pct"}, {"weight", "_lb"}, {"grip", "_pct"}, {"cost", ""}, {"hours", ""}} {
		for _, end := range []string{"_low", "", "_high"} {
			t.Columns = append(t.Columns, table.Column{Key: of[0] + end + of[1], Right: true})
		}
	}
	t.Columns = append(t.Columns, table.Column{Key: "boost"}, table.Column{Key: "notes"})
	for _, p := range parts {
		row := []string{p.ID, p.Name, p.Vehicle}
		for _, n := range []units.Number{
			p.GainLowHP, p.GainHP, p.GainHighHP, p.GainLowPct, p.GainPct, p.GainHighPct, p.WeightLowLb, p.WeightLb, p.WeightHighLb,
			p.GripLowPct, p.GripPct, p.GripHighPct, p.CostLow, p.Cost, p.CostHigh, p.HoursLow, p.Hours, p.HoursHigh,
		} {
			row = append(row, n.String())
		}
		t.Add(append(row, p.Boost, p.Notes)...)
	}
	return t
}

// dollars are whole: the plan's figures deserve no cents.
func dollars(v float64) string { return "$" + units.Group(fmt.Sprintf("%.0f", v)) }
