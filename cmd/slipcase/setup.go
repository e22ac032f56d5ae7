package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

var setupFields = []field[logbook.Setup]{
	words("name", "a short name for it, as bigger-carb", func(s *logbook.Setup) *string { return &s.Name }),
	number("weight", "ready to run, with driver or rider, as 3450lb or 1565kg", units.Weight, func(s *logbook.Setup) *units.Number { return &s.WeightLb }),
	number("power", "as 312hp or 233kW", units.Power, func(s *logbook.Setup) *units.Number { return &s.PowerHP }),
	choice("power-at", "where it was measured: wheels or clutch", func(s *logbook.Setup) *string { return &s.PowerAt }),
	choice("standard", "what the sheet is corrected to: sae, standard, din or none", func(s *logbook.Setup) *string { return &s.PowerStandard }),
	words("sheet", "the dyno sheet that the power is from: slipcase power list", func(s *logbook.Setup) *string { return &s.Power }),
	words("change", "what was changed; names of slipcase plan list, apart by commas, are held against what they promised", func(s *logbook.Setup) *string { return &s.Change }),
	number("cost", "what it cost", units.Money, func(s *logbook.Setup) *units.Number { return &s.Cost }),
	words("notes", "anything else", func(s *logbook.Setup) *string { return &s.Notes }),
}

func (a *app) setupCommand() *cobra.Command {
	c := &cobra.Command{Use: "setup", Short: "how a vehicle is, from a moment on: weight, power, parts", Example: "  slipcase setup list --vehicle heron"}
	add := &cobra.Command{
		Use:     "add",
		Short:   "record a new setup of a vehicle",
		Example: "  slipcase setup add --vehicle heron --weight 3450lb --power 312hp --power-at wheels --standard sae\n  slipcase setup add --vehicle heron --from 2026-06-13 --name bigger-carb --power 331hp --cost 410",
		Args:    cobra.NoArgs,
		RunE:    a.writes(a.addSetup),
	}
	register(add, setupFields)
	add.Flags().String("vehicle", "", "the vehicle")
	add.Flags().String("from", "", "in force from, as 2026-05-02 or \"2026-05-02 13:00\"; now when left out")
	add.Flags().Bool("force", false, "record what looks wrong as it is")
	list := &cobra.Command{
		Use: "list", Short: "list the setups", Args: cobra.NoArgs, Example: "  slipcase setup list --vehicle heron",
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			vehicle, err := vehicleFlag(c, lb)
			if err != nil {
				return err
			}
			ss, err := lb.Setups(vehicle)
			if err != nil {
				return err
			}
			return a.answer(ss, a.setupTable(ss), nil)
		}),
	}
	list.Flags().String("vehicle", "", "of this vehicle alone")
	show := &cobra.Command{
		Use: "show ID|NAME", Short: "show one setup", Args: cobra.ExactArgs(1), Example: "  slipcase setup show bigger-carb\n  slipcase setup show last",
		RunE: a.reads(func(_ *cobra.Command, args []string, lb *crew.Session) error {
			s, err := lb.Setup("", args[0])
			if err != nil {
				return err
			}
			return a.answer(s, a.setupTable([]logbook.Setup{s}), nil)
		}),
	}
	amend := &cobra.Command{
		Use: "amend ID|NAME", Short: "correct a recorded setup; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase setup amend last --weight 3438lb",
		RunE:    a.writes(a.amendSetup),
	}
	register(amend, setupFields)
	amend.Flags().String("from", "", "in force from")
	amend.Flags().Bool("force", false, "record what looks wrong as it is")
	c.AddCommand(add, list, show, amend)
	return c
}

func (a *app) addSetup(c *cobra.Command, _ []string, lb *crew.Session) error {
	var s logbook.Setup
	if err := apply(c, setupFields, &s); err != nil {
		return err
	}
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	from, err := a.at(c, "from", zone)
	if err != nil {
		return err
	}
	s.From = logbook.Time{Time: from}
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	s.Vehicle = v.ID
	if err := fromSheet(c, lb, &s); err != nil {
		return err
	}
	if err := s.Check(); err != nil {
		return usage(err)
	}
	if !s.PowerHP.Known() && anyChanged(c, "power-at", "standard") {
		return usagef("--power-at and --standard say what a power is: want --power with them, or slipcase setup amend for one that is recorded")
	}
	givenPower, givenWeight := s.PowerHP.Known(), s.WeightLb.Known()
	before, err := inheritSetup(lb, &s)
	if err != nil {
		return err
	}
	notes, err := a.planned(lb, v, before, &s, givenPower, givenWeight)
	if err != nil {
		return err
	}
	if err := forced(c, &s.Entry, a.doubtsOf(s)); err != nil {
		return err
	}
	if err := lb.AddSetup(&s); err != nil {
		return err
	}
	return a.answer(s, a.setupTable([]logbook.Setup{s}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  setup %s of %s from %s: %s, %s%s\n", orDash(s.Name), s.Vehicle, when(s.From.Time),
			a.show(units.Weight, s.WeightLb), a.show(units.Power, s.PowerHP), atPlace(s))
		for _, n := range notes {
			a.wrapped(w, "  "+n)
		}
		if s.PowerHP.Known() && (s.PowerAt == "" || s.PowerStandard == "") {
			fmt.Fprintf(w, "  taken as at the wheels and SAE where not said   slipcase setup amend %s --power-at wheels --standard sae\n", s.ID)
		}
	})
}

// inheritSetup fills what was not given from the setup before, and returns that: a
// new carburettor does not change what the car weighs unless the racer or his plan
// says so.
func inheritSetup(lb *crew.Session, s *logbook.Setup) (before logbook.Setup, err error) {
	j, err := lb.Joiner(s.Vehicle)
	if err != nil {
		return before, err
	}
	before, ok := j.SetupAt(s.Vehicle, "", s.From.Time)
	if !ok {
		return before, nil
	}
	if !s.WeightLb.Known() {
		s.WeightLb = before.WeightLb
	}
	if !s.PowerHP.Known() {
		s.PowerHP, s.PowerAt, s.PowerStandard = before.PowerHP, before.PowerAt, before.PowerStandard
	}
	if s.PowerAt == "" {
		s.PowerAt = before.PowerAt
	}
	if s.PowerStandard == "" {
		s.PowerStandard = before.PowerStandard
	}
	return before, nil
}

func (a *app) amendSetup(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	s, err := lb.Setup("", args[0])
	if err != nil {
		return err
	}
	was := s
	v, err := lb.Vehicle(s.Vehicle)
	if err != nil {
		return err
	}
	var notes []string
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	s, err = lb.AmendSetup(s.ID, func(s *logbook.Setup) error {
		if err := apply(c, setupFields, s); err != nil {
			return err
		}
		from, err := flagTime(c, "from", s.From.Time, zone)
		if err != nil {
			return err
		}
		s.From = logbook.Time{Time: from}
		if err := fromSheet(c, lb, s); err != nil {
			return err
		}
		if c.Flags().Changed("change") {
			if notes, err = a.replanned(c, lb, v, was, s); err != nil {
				return err
			}
		}
		if err := s.Check(); err != nil {
			return usage(err)
		}
		return forced(c, &s.Entry, a.doubtsOf(*s))
	})
	if err != nil {
		return err
	}
	return a.answer(s, a.setupTable([]logbook.Setup{s}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  setup %s, revision %d\n", s.ID, s.Rev)
		for _, n := range notes {
			a.wrapped(w, "  "+n)
		}
		changes(w, &was, &s)
	})
}

func (a *app) setupTable(ss []logbook.Setup) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 3},
		{Head: "vehicle", Key: "vehicle"},
		{Head: "from", Key: "from"},
		{Head: "setup", Key: "name"},
		{Head: "weight", Key: "weight_" + a.suffix(units.Weight), Right: true},
		{Head: "power", Key: "power_" + a.suffix(units.Power), Right: true},
		{Head: "at", Key: "power_at", Drop: 1},
		{Head: "standard", Key: "power_standard", Drop: 1},
		{Head: "cost", Key: "cost", Right: true, Drop: 4},
		{Head: "change", Key: "change", Drop: 5},
		{Head: "notes", Key: "notes", Drop: 6},
	}}
	for _, s := range ss {
		t.Add(s.ID, s.Vehicle, a.stamp(s.From.Time), s.Name, a.cell(units.Weight, s.WeightLb), a.cell(units.Power, s.PowerHP),
			s.PowerAt, s.PowerStandard, s.Cost.String(), s.Change, s.Notes)
	}
	return t
}

func atPlace(s logbook.Setup) string {
	var parts []string
	if s.PowerAt != "" {
		parts = append(parts, "at the "+s.PowerAt)
	}
	if s.PowerStandard != "" {
		parts = append(parts, s.PowerStandard)
	}
	if len(parts) == 0 {
		return ""
	}
	return " " + strings.Join(parts, ", ")
}
