package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) compareCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "two setups of a vehicle in the same air: did the change work",
		Long: `Compares two setups by their runs alone, both in the same air: what B is quicker by, how
sure that is, and what it would take to tell. "~" means that noise explains it. Days are
the unit: the luck of a day does not average away within it.`,
		Example: "  slipcase compare stock bigger-carb --vehicle heron\n  slipcase compare stock bigger-carb --vehicle heron --by 0.05",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("%d setups named: want two, as slipcase compare stock bigger-carb", len(args))
			}
			return nil
		},
		RunE: a.reads(a.compare),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	c.Flags().String("by", "", "an amount, as 0.05s: how likely is B quicker by that much")
	return c
}

func (a *app) compare(c *cobra.Command, args []string, lb *logbook.Logbook) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	by, err := numberFlag(c, "by", units.Seconds)
	if err != nil {
		return err
	}
	if by.Value() < 0 {
		return usagef("--by %v: want seconds, 0 or more", by)
	}
	var setups [2]logbook.Setup
	for i, ref := range args {
		if setups[i], err = lb.Setup(v.ID, ref); err != nil {
			return err
		}
		if setups[i].Vehicle != v.ID {
			return fmt.Errorf("setup %q is of %s, not of %s", ref, setups[i].Vehicle, v.ID)
		}
	}
	if setups[0].ID == setups[1].ID {
		return usagef("setup %q against itself: want two setups", args[0])
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return err
	}
	name := func(s logbook.Setup) string {
		if s.Name != "" {
			return s.Name
		}
		return s.ID
	}
	passes := passesOf(runs)
	for i, r := range runs {
		passes[i].Machine.Setup = name(r.Setup)
	}
	cmp, err := predict.Compare(passes, name(setups[0]), name(setups[1]), by.Value())
	if err != nil {
		return err
	}
	d := cmp.Difference
	out := map[string]any{
		"vehicle": v.ID, "a": cmp.A.Setup, "b": cmp.B.Setup, "runs_a": cmp.A.Runs, "runs_b": cmp.B.Runs, "days_a": cmp.A.Days, "days_b": cmp.B.Days,
		"distance_ft": cmp.Mark.Ft(), "difference_s": rounded(d.Centre, toMeanS),
		"difference_low50_s": rounded(d.Low50, toMeanS), "difference_high50_s": rounded(d.High50, toMeanS), "difference_low80_s": rounded(d.Low80, toMeanS),
		"difference_high80_s": rounded(d.High80, toMeanS), "difference_low95_s": rounded(d.Low95, toMeanS), "difference_high95_s": rounded(d.High95, toMeanS),
		"chance_b_quicker": rounded(cmp.Quicker, toShare), "chance_b_quicker_by": rounded(cmp.QuickerBy, toShare), "by_s": by.Value(),
		"verdict": cmp.Verdict, "more_days_to_tell": cmp.MoreDays, "says": cmp.Sentence, "warnings": append([]string{}, cmp.Warnings...),
	}
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "setup"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "days", Key: "days", Right: true},
		{Head: "B less A", Key: "difference_s", Right: true},
		{Head: "95 % from", Key: "low95_s", Right: true},
		{Head: "to", Key: "high95_s", Right: true},
		{Head: "B quicker", Key: "chance_b_quicker", Right: true},
	}}
	t.Add(cmp.A.Setup, fmt.Sprint(cmp.A.Runs), fmt.Sprint(cmp.A.Days), "", "", "", "")
	t.Add(cmp.B.Setup, fmt.Sprint(cmp.B.Runs), fmt.Sprint(cmp.B.Days), fmt.Sprintf("%+.3f", d.Centre), fmt.Sprintf("%+.3f", d.Low95), fmt.Sprintf("%+.3f", d.High95),
		a.share(cmp.Quicker))
	a.aside(append([]string{cmp.Sentence}, cmp.Warnings...))
	return a.answer(out, t, func(w io.Writer) {
		a.say(w, fmt.Sprintf("at %g ft", cmp.Mark.Ft()), cmp.Sentence)
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		if by.Known() {
			a.say(w, "chance", fmt.Sprintf("%s that %s is quicker by %v s or more", a.share(cmp.QuickerBy), cmp.B.Setup, by))
		}
		for _, warning := range cmp.Warnings {
			a.say(w, "note", warning)
		}
	})
}
