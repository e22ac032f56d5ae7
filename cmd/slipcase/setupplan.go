package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// planned puts the likely figures of the changes of the plan that a setup has newly
// built in on top of what it was before, where its power or weight was not given: a
// change that is in but forecast without would give a dial that breaks out.
func (a *app) planned(lb *crew.Session, v logbook.Vehicle, before logbook.Setup, s *logbook.Setup, givenPower, givenWeight bool) (said []string, err error) {
	parts, err := lb.Parts(v.ID)
	if err != nil {
		return nil, err
	}
	built, err := builtIn(lb, v.ID, s.From.Add(-1)) // without this setup's own
	if err != nil {
		return nil, err
	}
	onPlan := len(parts) > 0
	parts = slices.DeleteFunc(parts, func(p logbook.Part) bool { return built[p.Name] })
	today := statedOf(before, predict.DefaultLoss(predict.Kind(v.Kind), predict.Drive(v.Drive)))
	var all predict.Change
	var strange []string
	for _, name := range s.BuiltIn() {
		at := slices.IndexFunc(parts, func(p logbook.Part) bool { return p.Name == name })
		if at < 0 {
			if name != s.Name && !built[name] {
				strange = append(strange, name)
			}
			continue
		}
		change, _, err := changeOfPart(parts[at], today)
		if err != nil {
			return nil, usage(err)
		}
		all = all.With(change)
	}
	round := func(n units.Number) units.Number { return units.Some(math.Round(n.Value()*10) / 10) }
	hp, weight := all.Applied(before.PowerHP, before.WeightLb)
	if !givenPower && hp != before.PowerHP {
		s.PowerHP = round(hp)
		said = append(said, fmt.Sprintf("power %s to %s", a.show(units.Power, before.PowerHP), a.show(units.Power, s.PowerHP)))
	}
	if !givenWeight && weight != before.WeightLb {
		s.WeightLb = round(weight)
		said = append(said, fmt.Sprintf("weight %s to %s", a.show(units.Weight, before.WeightLb), a.show(units.Weight, s.WeightLb)))
	}
	if len(said) > 0 {
		said = []string{strings.Join(said, ", ") + ", as the plan has it, not as measured; --power and --weight say yours"}
	}
	if len(strange) > 0 && onPlan {
		said = append(said, strings.Join(strange, ", ")+": not on the plan, kept as words")
	}
	return said, nil
}

// replanned is planned for a setup whose list of changes was amended: from the setup
// before it, since its own figures have those of the old list in them, unless they are
// not the plan's.
func (a *app) replanned(c *cobra.Command, lb *crew.Session, v logbook.Vehicle, was logbook.Setup, s *logbook.Setup) (said []string, err error) {
	j, err := lb.Joiner(v.ID)
	if err != nil {
		return nil, err
	}
	before, ok := j.SetupAt(v.ID, "", s.From.Add(-1))
	if !ok {
		return nil, nil
	}
	old := was
	old.PowerHP, old.WeightLb = before.PowerHP, before.WeightLb
	if _, err := a.planned(lb, v, before, &old, false, false); err != nil {
		return nil, err
	}
	power, weight := anyChanged(c, "power", "sheet"), c.Flags().Changed("weight")
	for _, f := range []struct {
		what           string
		given          *bool
		was, old, from units.Number
		is             *units.Number
	}{
		{"power", &power, was.PowerHP, old.PowerHP, before.PowerHP, &s.PowerHP},
		{"weight", &weight, was.WeightLb, old.WeightLb, before.WeightLb, &s.WeightLb},
	} {
		switch {
		case *f.given:
		case f.was != f.old:
			*f.given = true
			said = append(said, f.what+" stays as recorded, it is not the plan's; --"+f.what+" says another")
		default:
			*f.is = f.from
		}
	}
	notes, err := a.planned(lb, v, before, s, power, weight)
	return append(notes, said...), err
}
