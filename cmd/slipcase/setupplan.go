package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// planned puts the likely figures of the changes of the plan that a setup has newly
// built in on top of what it was before, where its power or weight was not given: a
// change that is in but forecast without would give a dial that breaks out.
func (a *app) planned(lb *logbook.Logbook, v logbook.Vehicle, before logbook.Setup, s *logbook.Setup, givenPower, givenWeight bool) (said []string, err error) {
	parts, err := lb.Parts(v.ID)
	if err != nil {
		return nil, err
	}
	built, err := builtIn(lb, v.ID, s.From.Time)
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
