package main

import (
	"cmp"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
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

func (a *app) compare(c *cobra.Command, args []string, lb *crew.Session) error {
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
	setups, err := twoSetups(lb, v, args)
	if err != nil {
		return err
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return err
	}
	passes := crew.PassesOf(runs)
	for i, r := range runs {
		passes[i].Machine.Setup = setupName(r.Setup)
	}
	told, err := predict.Compare(passes, setupName(setups[0]), setupName(setups[1]), by.Value())
	if err != nil {
		return err
	}
	says, notes := page.Comparison(told), page.Notes(told.Notes, a.units)
	a.aside(append([]string{says}, notes...))
	t := a.compareTable(told)
	return a.answer(compareJSON(v, told, says, notes), t, func(w io.Writer) {
		a.say(w, fmt.Sprintf("at %g ft", told.Mark.Ft()), says)
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		if by.Known() {
			a.say(w, "chance", fmt.Sprintf("%s that %s is quicker by %v s or more", a.share(told.QuickerBy), told.B.Setup, by))
		}
		for _, warning := range notes {
			a.say(w, "note", warning)
		}
	})
}

// twoSetups are the setups named, both of the vehicle.
func twoSetups(lb *crew.Session, v logbook.Vehicle, refs []string) (setups [2]logbook.Setup, err error) {
	for i, ref := range refs {
		if setups[i], err = lb.Setup(v.ID, ref); err != nil {
			return setups, err
		}
		if setups[i].Vehicle != v.ID {
			return setups, fmt.Errorf("setup %q is of %s, not of %s", ref, setups[i].Vehicle, v.ID)
		}
	}
	if setups[0].ID == setups[1].ID {
		return setups, usagef("setup %q against itself: want two setups", refs[0])
	}
	return setups, nil
}

func setupName(s logbook.Setup) string { return cmp.Or(s.Name, s.ID) }

func compareJSON(v logbook.Vehicle, c predict.Comparison, says string, notes []string) map[string]any {
	d := c.Difference
	out := map[string]any{
		"vehicle": v.ID, "a": c.A.Setup, "b": c.B.Setup, "runs_a": c.A.Runs, "runs_b": c.B.Runs, "days_a": c.A.Days, "days_b": c.B.Days,
		"distance_ft": c.Mark.Ft(), "chance_b_quicker": rounded(c.Quicker, page.ToShare), "chance_b_quicker_by": rounded(c.QuickerBy, page.ToShare), "by_s": c.By,
		"verdict": c.Verdict, "more_days_to_tell": c.MoreDays, "says": says, "warnings": notes,
	}
	for end, s := range map[string]float64{
		"": d.Centre, "_low50": d.Low50, "_high50": d.High50, "_low80": d.Low80, "_high80": d.High80, "_low95": d.Low95, "_high95": d.High95,
	} {
		out["difference"+end+"_s"] = rounded(s, page.ToMeanS)
	}
	return out
}

func (a *app) compareTable(c predict.Comparison) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "setup"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "days", Key: "days", Right: true},
		{Head: "B less A", Key: "difference_s", Right: true},
		{Head: "95 % from", Key: "low95_s", Right: true},
		{Head: "to", Key: "high95_s", Right: true},
		{Head: "B quicker", Key: "chance_b_quicker", Right: true},
	}}
	d := c.Difference
	t.Add(c.A.Setup, fmt.Sprint(c.A.Runs), fmt.Sprint(c.A.Days), "", "", "", "")
	t.Add(c.B.Setup, fmt.Sprint(c.B.Runs), fmt.Sprint(c.B.Days), fmt.Sprintf("%+.3f", d.Centre), fmt.Sprintf("%+.3f", d.Low95), fmt.Sprintf("%+.3f", d.High95),
		a.share(c.Quicker))
	return t
}
