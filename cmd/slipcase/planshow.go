package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) planShowCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "show NAME", Short: "one change: what it promises, and, once it is in, what came of it",
		Long: `Before a setup names the change with --change NAME, what it is worth. After, what was
promised from the runs before it against what the first, three and ten runs with it
brought, and the power that they imply.`,
		Example: "  slipcase plan show headers --track saltgrass\n  slipcase plan show bigger-carb --vehicle heron",
		Args:    cobra.ExactArgs(1), RunE: a.reads(a.showPart),
	}
	registerSubject(c)
	return c
}

func (a *app) showPart(c *cobra.Command, args []string, lb *crew.Session) error {
	p, err := namedPart(c, lb, args[0])
	if err != nil {
		return err
	}
	if err := c.Flags().Set("vehicle", p.Vehicle); err != nil {
		return err
	}
	setups, err := lb.Setups(p.Vehicle)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(setups, func(s logbook.Setup) bool { return slices.Contains(s.BuiltIn(), p.Name) })
	if at < 0 {
		return a.showWorth(c, lb, p)
	}
	return a.showOutcome(lb, p, setups, at)
}

// showWorth is for a change that is not in yet.
func (a *app) showWorth(c *cobra.Command, lb *crew.Session, p logbook.Part) error {
	s, err := a.subject(c, lb)
	if err != nil {
		return err
	}
	today, unstated := s.stated()
	candidate, note, err := candidateOf(p, today)
	if err != nil {
		return usage(err)
	}
	ranked, err := s.prospect.Rank([]predict.Candidate{candidate}, predict.ByET)
	if err != nil {
		return usage(err)
	}
	u, err := s.prospect.Try(candidate.Change)
	if err != nil {
		return usage(err)
	}
	cautions, err := a.changeCautions(c, s, candidate.Change, u.Quick())
	if err != nil {
		return err
	}
	if p.Boost != "" {
		cautions = append(cautions, page.BoostCautions...)
	}
	out := struct {
		logbook.Part
		Worth    worthJSON `json:"worth"`
		Why      string    `json:"why"`
		Warnings []string  `json:"warnings"`
	}{p, newWorthJSON(ranked[0]), page.CubeRootGap(u.Why, a.units), append(page.Notes(u.Notes, a.units), cautions...)}
	t := a.upgradeTable(s.marksShown(), s.prospect.Before, u)
	a.aside(out.Warnings)
	return a.answer(out, t, func(w io.Writer) {
		a.wrapped(w, fmt.Sprintf("%s, %s: %s", p.Name, a.partWords(p), quicker(ranked[0].ETGain)))
		a.wrapped(w, a.place(s))
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "cube root", fmt.Sprintf("%+.2f s (%+.2f to %+.2f) by the published formulas; %s", u.CubeRootS.Likely, u.CubeRootS.Low, u.CubeRootS.High, out.Why))
		for _, n := range append([]string{note, unstated}, page.Notes(u.Notes, a.units)...) {
			if n != "" {
				a.say(w, "note", n)
			}
		}
		for _, n := range cautions {
			a.say(w, "caution", n)
		}
		fmt.Fprintf(w, "  once it is in   slipcase setup add --vehicle %s --change %s\n", p.Vehicle, p.Name)
	})
}

type cameJSON struct {
	Runs      int       `json:"runs"`
	ET        float64   `json:"et_s"`
	Low       float64   `json:"et_low80_s"`
	High      float64   `json:"et_high80_s"`
	ImpliedHP *needJSON `json:"implied_gain_hp,omitempty"`
}

func newCame(runs int, et predict.Range) cameJSON {
	return cameJSON{runs, round4(et.Likely), round4(et.Low), round4(et.High), nil}
}

// outcomeJSON is what a change that is in promised and brought.
type outcomeJSON struct {
	logbook.Part
	Setup    string     `json:"setup"`
	With     []string   `json:"changes_of_the_setup"`
	Ft       float64    `json:"distance_ft"`
	Promised cameJSON   `json:"promised"`
	Alone    *cameJSON  `json:"promised_alone,omitempty"` // of this change, where others came with it
	Came     []cameJSON `json:"came"`
	ClaimHP  *needJSON  `json:"claimed_gain_hp,omitempty"`
}

// showOutcome is for one that is in: setups[at] has it.
func (a *app) showOutcome(lb *crew.Session, p logbook.Part, setups []logbook.Setup, at int) error {
	setup := setups[at]
	if at == 0 {
		return fmt.Errorf("%s is in the first setup of %s: there is none before it to hold it against", p.Name, p.Vehicle)
	}
	v, err := lb.Vehicle(p.Vehicle)
	if err != nil {
		return err
	}
	before, after, err := aroundSetup(lb, setup)
	if err != nil {
		return err
	}
	was := statedOf(setups[at-1], predict.DefaultLoss(predict.Kind(v.Kind), predict.Drive(v.Drive)))
	promised, own, names, err := promise(lb, p, setup, was)
	if err != nil {
		return err
	}
	o, err := predict.JudgeChange(before, after, promised)
	if err != nil {
		return fmt.Errorf("%s, in since %s: %w", p.Name, when(setup.From.Time), err)
	}
	out := newOutcomeJSON(p, setup, names, o, was)
	if len(names) > 1 {
		alone, err := predict.JudgeChange(before, nil, own)
		if err != nil {
			return err
		}
		one := newCame(0, alone.Promised)
		out.Alone = &one
	}
	t := a.outcomeTable(out)
	return a.answer(out, t, func(w io.Writer) {
		head := fmt.Sprintf("%s promised %s at %g ft", joined(names, p.Name), quicker(o.Promised), o.Mark.Ft())
		if len(o.Came) == 0 {
			a.wrapped(w, head)
			a.wrapped(w, fmt.Sprintf("%s, in since %s; no full-power run with it reached the finish yet", v.Name(), when(setup.From.Time)))
		} else {
			a.wrapped(w, head+" and brought "+quicker(o.Came[len(o.Came)-1].ETGain))
			a.wrapped(w, fmt.Sprintf("%s, in since %s; both in the air of its first run", v.Name(), when(setup.From.Time)))
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		if len(names) > 1 {
			a.say(w, "note", "the setup brought these together, and its runs cannot tell them apart")
		}
		if sheets := setup.PowerHP.Value() - was.hp; setup.PowerHP.Known() && was.stated && sheets != 0 {
			a.say(w, "note", fmt.Sprintf("the power that the setups state rose by %s", a.show(units.Power, units.Some(sheets))))
		}
		if len(o.Came) > 0 {
			a.say(w, "note", trust(o.Promised, o.Came[len(o.Came)-1].ETGain))
		}
	})
}

// aroundSetup are the vehicle's runs before the setup came in force, and those
// made with it.
func aroundSetup(lb *crew.Session, setup logbook.Setup) (before, after []predict.Pass, err error) {
	runs, err := lb.Runs(setup.Vehicle)
	if err != nil {
		return nil, nil, err
	}
	for _, r := range runs {
		switch {
		case r.Setup.ID == setup.ID:
			after = append(after, crew.PassOf(r))
		case r.Slip.Time.Before(setup.From.Time):
			before = append(before, crew.PassOf(r))
		}
	}
	return before, after, nil
}

func newOutcomeJSON(p logbook.Part, setup logbook.Setup, names []string, o predict.Outcome, was stated) outcomeJSON {
	out := outcomeJSON{Part: p, Setup: setup.ID, With: names, Ft: o.Mark.Ft(), Promised: newCame(0, o.Promised), Came: []cameJSON{}}
	if was.stated && o.Claimed != (predict.Range{}) {
		out.ClaimHP = newNeed(times(o.Claimed, was.hp))
	}
	for _, came := range o.Came {
		one := newCame(came.Runs, came.ETGain)
		if was.stated && came.Implied != nil {
			one.ImpliedHP = newNeed(times(*came.Implied, was.hp))
		}
		out.Came = append(out.Came, one)
	}
	return out
}

// joined says which changes a promise is of.
func joined(names []string, alone string) string {
	if len(names) < 2 {
		return alone
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1] + " together"
}

// promise joins the parts that a setup has built in, each as it was planned when
// the setup was first recorded with it; own is that of p.
func promise(lb *crew.Session, p logbook.Part, setup logbook.Setup, was stated) (c, own predict.Change, names []string, err error) {
	versions, err := lb.SetupHistory(setup.ID)
	if err != nil {
		return c, own, nil, err
	}
	for _, name := range setup.BuiltIn() {
		part, err := lb.Part(p.Vehicle, name)
		if err != nil {
			continue // a change that was never on the plan
		}
		history, err := lb.PartHistory(part.ID)
		if err != nil {
			return c, own, nil, err
		}
		for _, rev := range history {
			if !rev.RecordedAt.After(namedAt(versions, name)) && rev.Status != logbook.Void {
				part = rev
			}
		}
		change, _, err := changeOfPart(part, was)
		if err != nil {
			return c, own, nil, err
		}
		if name == p.Name {
			own = change
		}
		c, names = c.With(change), append(names, name)
	}
	return c, own, names, nil
}

// namedAt is when a setup was first recorded with a change built in.
func namedAt(versions []logbook.Setup, change string) time.Time {
	at := slices.IndexFunc(versions, func(s logbook.Setup) bool { return slices.Contains(s.BuiltIn(), change) })
	return versions[max(at, 0)].RecordedAt.Time
}

// trust says what the outcome says about the claim.
func trust(promised, came predict.Range) string {
	switch {
	case came.Low > promised.High:
		return "it brought less than promised: trust the next claim of this kind less"
	case came.High < promised.Low:
		return "it brought more than promised"
	}
	return "~ promise and outcome agree within their doubts"
}

func (a *app) outcomeTable(out outcomeJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "of"},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 in 10 from", Key: "et_low80_s", Right: true},
		{Head: "to", Key: "et_high80_s", Right: true},
		{Head: "power", Key: "gain_" + a.suffix(units.Power), Right: true},
		{Head: "from", Key: "gain_low80_" + a.suffix(units.Power), Right: true},
		{Head: "to", Key: "gain_high80_" + a.suffix(units.Power), Right: true},
	}}
	row := func(label string, c cameJSON, hp *needJSON) {
		power, low, high := "", "", ""
		if hp != nil {
			power = a.cell(units.Power, units.Some(hp.Likely))
			low, high = a.cell(units.Power, units.Some(hp.Low)), a.cell(units.Power, hp.High)
		}
		t.Add(label, fmt.Sprintf("%+.2f", c.ET), fmt.Sprintf("%+.2f", c.Low), fmt.Sprintf("%+.2f", c.High), power, low, high)
	}
	row("promised", out.Promised, out.ClaimHP)
	if out.Alone != nil {
		row(out.Name+" alone", *out.Alone, nil)
	}
	for _, c := range out.Came {
		label := fmt.Sprintf("by %d runs", c.Runs)
		if c.Runs == 1 {
			label = "by the first run"
		}
		row(label, c, c.ImpliedHP)
	}
	return t
}
