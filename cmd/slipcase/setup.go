package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) setupCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "setup", Short: "how a vehicle is, from a moment on: weight, power, parts",
		Example: "  slipcase setup list --vehicle heron",
	}
	add := &cobra.Command{
		Use: "add", Short: "record a new setup of a vehicle",
		Example: `  slipcase setup add --vehicle heron --weight {3450lb|1565kg} --power {312hp|233kW} --power-at wheels --standard sae
  slipcase setup add --vehicle heron --from 2026-06-13 --name bigger-carb --power {331hp|247kW} --cost 410`,
		Args: cobra.NoArgs, RunE: a.writes(a.addSetup),
	}
	register(add, typed.SetupFields)
	add.Flags().String("vehicle", "", "the vehicle")
	add.Flags().
		String("from", "", "in force from, as 2026-05-02 or \"2026-05-02 13:00\"; now when left out, of the first this morning")
	add.Flags().Bool("force", false, "record what looks wrong as it is")
	list := listOf(a, "list the setups", "  slipcase setup list --vehicle heron",
		(*crew.Session).Setups, (*page.Page).Setups)
	show := &cobra.Command{
		Use: "show ID|NAME", Short: "show one setup", Args: cobra.ExactArgs(1),
		Example: "  slipcase setup show bigger-carb\n  slipcase setup show last",
		RunE: a.reads(func(_ *cobra.Command, args []string, lb *crew.Session) error {
			s, err := lb.Setup("", args[0])
			if err != nil {
				return err
			}
			return a.page.Setup(s)
		}),
	}
	amend := &cobra.Command{
		Use: "amend ID|NAME", Short: "correct a recorded setup; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase setup amend last --weight {3438lb|1559kg}",
		RunE:    a.writes(a.amendSetup),
	}
	register(amend, typed.SetupFields)
	amend.Flags().String("from", "", "in force from")
	amend.Flags().Bool("force", false, "record what looks wrong as it is")
	void, unvoid := voidable[logbook.Setup]{
		what: "setup", arg: "ID|NAME", example: "bigger-carb",
		entry:    func(s *logbook.Setup) *logbook.Entry { return &s.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Setup, error) { return lb.Setup("", ref) },
		findVoid: (*logbook.Logbook).VoidSetup, amend: (*logbook.Logbook).AmendSetup,
		slips: (*crew.Session).SetupSlips, moves: "slipcase setup amend --from moves it off them, or slip void takes one out",
		show: (*page.Page).SetupStatus, called: page.SetupCalled,
	}.commands(a)
	c.AddCommand(add, list, show, amend, void, unvoid)
	return c
}

func (a *app) addSetup(c *cobra.Command, _ []string, lb *crew.Session) error {
	if !anyChanged(c, "name", "weight", "power", "power-at", "standard", "boost", "boost-held", "sheet", "change", "cost",
		"notes", "rear", "tire", "stall", "shift-at") {
		return usagef("a setup says what changed: want --weight, --power, --name or --change, see slipcase setup add --help")
	}
	var s logbook.Setup
	if err := apply(c, typed.SetupFields, &s); err != nil {
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
	if err := setupSheet(c, lb, &s); err != nil {
		return err
	}
	if err := s.Check(); err != nil {
		return usage(err)
	}
	if same, err := lb.CompleteSetup(s); err != nil || same != nil {
		return a.page.SetupSame(same, err)
	}
	ran := 0
	if !c.Flags().Changed("from") {
		if ran, err = a.since(lb, &s); err != nil {
			return err
		}
	}
	if !s.PowerHP.Known() && anyChanged(c, "power-at", "standard") {
		return usagef("--power-at and --standard say what a power is: want --power with them, " +
			"or slipcase setup amend for one that is recorded")
	}
	built, err := lb.BuildSetup(v, &s)
	if err != nil {
		return err
	}
	if err := a.unusualSetup(c, lb, &s); err != nil {
		return err
	}
	if err := lb.AddSetup(&s); err != nil {
		return err
	}
	if err := lb.Hides(s, &built); err != nil {
		return err
	}
	return a.page.SetupAdded(s, built, ran)
}

// since settles from when a setup holds that was given no day: the first of a vehicle from
// this morning, for its slips are often typed at noon; a further one as askFrom says.
func (a *app) since(lb *crew.Session, s *logbook.Setup) (ran int, err error) {
	before, err := lb.Setups(s.Vehicle)
	if err != nil || len(before) > 0 {
		if err == nil {
			ran, err = a.askFrom(lb, s)
		}
		return ran, err
	}
	y, m, d := s.From.Date()
	s.From = logbook.Time{Time: time.Date(y, m, d, 0, 0, 0, 0, s.From.Location())}
	return 0, nil
}

// askFrom asks of a setup of now whether today's slips had it already, and makes it one
// of this morning where they had. It counts those that are from before it.
func (a *app) askFrom(lb *crew.Session, s *logbook.Setup) (ran int, err error) {
	morning, ran, err := lb.RanWithout(*s)
	if err != nil || ran == 0 || !a.tty.Interactive() {
		return ran, err
	}
	for _, line := range a.page.SetupFrom(*s, ran) {
		fmt.Fprintln(a.tty.Out, line)
	}
	word, err := a.tty.Key("  [m] from this morning", "now", "morning")
	if err != nil || word == "now" {
		return 0, err
	}
	s.From = logbook.Time{Time: morning}
	return 0, nil
}

// setupSheet gives a setup the power of the dyno sheet of the command.
func setupSheet(c *cobra.Command, lb *crew.Session, s *logbook.Setup) error {
	given := crew.GivenPower{
		HP: c.Flags().Changed("power"), At: c.Flags().Changed("power-at"), Standard: c.Flags().Changed("standard"),
	}
	if s.Power == "" || !c.Flags().Changed("sheet") && given == (crew.GivenPower{}) {
		return nil
	}
	return lb.FromSheet(s, given)
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
	var built crew.Built
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	s, err = lb.AmendSetup(s.ID, func(s *logbook.Setup) error {
		if err := apply(c, typed.SetupFields, s); err != nil {
			return err
		}
		from, err := a.flagTime(c, "from", s.From.Time, zone)
		if err != nil {
			return err
		}
		s.From = logbook.Time{Time: from}
		if err := setupSheet(c, lb, s); err != nil {
			return err
		}
		if c.Flags().Changed("change") {
			built, err = lb.RebuildSetup(v, was, s, anyChanged(c, "power", "sheet"), c.Flags().Changed("weight"))
			if err != nil {
				return err
			}
		}
		if err := s.Check(); err != nil {
			return usage(err)
		}
		return a.unusualSetup(c, lb, s)
	})
	if err != nil {
		return err
	}
	if err := lb.Hides(s, &built); err != nil {
		return err
	}
	return a.page.SetupAmended(s, built, logbook.Changes(&was, &s))
}
