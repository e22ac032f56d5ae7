package main

import (
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) partCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "part", Short: "parts that wear out or expire: fitted, removed, how many runs are left",
		Example: "  slipcase part add plugs --vehicle heron --life 60runs --has 43\n  slipcase part list",
	}
	list := &cobra.Command{
		Use: "list", Short: "list parts with what is left of them", Args: cobra.NoArgs,
		Example: "  slipcase part list\n  slipcase part list --vehicle heron --due",
		RunE:    a.reads(a.listWorn),
	}
	list.Flags().String("vehicle", "", "of this vehicle, and the spares")
	list.Flags().Bool("due", false, "those alone that are to be changed")
	show := &cobra.Command{
		Use: "show NAME", Short: "show a part and all that was recorded of it", Args: cobra.ExactArgs(1),
		Example: "  slipcase part show plugs",
		RunE: a.reads(func(_ *cobra.Command, args []string, lb *crew.Session) error {
			w, err := lb.WornPart(args[0], a.now())
			if err != nil {
				return err
			}
			return a.page.PartShown(w)
		}),
	}
	void, unvoid := voidable[logbook.Wear]{
		group: "part", what: "entry on a part", arg: "ID|last", example: "wabc",
		long:     "What was recorded of the part later must make sense without it. Ids are in\n  slipcase part show NAME",
		entry:    func(w *logbook.Wear) *logbook.Entry { return &w.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Wear, error) { return lb.Wear(ref) },
		findVoid: (*logbook.Logbook).VoidWear, amend: (*logbook.Logbook).AmendWear,
		needs:  func(lb *crew.Session, w logbook.Wear) error { return lb.WearStands(w, false) },
		leaves: func(lb *crew.Session, w logbook.Wear) error { return lb.WearStands(w, true) },
		show:   (*page.Page).WearStatus, called: func(w logbook.Wear) string { return w.ID },
	}.commands(a)
	c.AddCommand(a.partAdd(), a.partFit(), a.partRemove(), a.partNote(), list, show, void, unvoid)
	return c
}

func (a *app) listWorn(c *cobra.Command, _ []string, lb *crew.Session) error {
	vehicle, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	parts, wrong, err := lb.Worn(vehicle, a.now())
	if err != nil {
		return err
	}
	if due, _ := c.Flags().GetBool("due"); due {
		kept := parts[:0]
		for _, w := range parts {
			if w.Due != crew.NotDue {
				kept = append(kept, w)
			}
		}
		parts = kept
	}
	return a.page.PartsWorn(parts, wrong)
}

// recordWear records an entry on a part and tells what is left of the part.
func (a *app) recordWear(c *cobra.Command, lb *crew.Session, w logbook.Wear) error {
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	at, err := a.at(c, "at", zone)
	if err != nil {
		return err
	}
	if ahead := at.Sub(a.now()); ahead > 24*time.Hour {
		return usagef("--at %s: that is still to come", at.Format("2006-01-02 15:04"))
	}
	if w.Notes == "" {
		w.Notes, _ = c.Flags().GetString("notes")
	}
	w.Time = logbook.Time{Time: at}
	if err := lb.AddWear(&w); err != nil {
		return err
	}
	if w.What == crew.WearPass {
		return a.page.PassesAdded(w)
	}
	is, err := lb.WornPart(w.Part, a.now())
	if err != nil {
		return err
	}
	return a.page.PartTold(w, is)
}

// wearCommand is a command that records an entry on the part of its name.
func (a *app) wearCommand(
	what, short, example string,
	fill func(c *cobra.Command, lb *crew.Session, w *logbook.Wear) error,
) *cobra.Command {
	c := &cobra.Command{
		Use: what + " NAME", Short: short, Args: cobra.ExactArgs(1), Example: example,
		RunE: a.writes(func(c *cobra.Command, args []string, lb *crew.Session) error {
			w := logbook.Wear{What: what, Part: args[0]}
			if err := fill(c, lb, &w); err != nil {
				return err
			}
			return a.recordWear(c, lb, w)
		}),
	}
	c.Flags().String("at", "", "when; now when left out")
	c.Flags().String("notes", "", "anything else")
	return c
}

func (a *app) partAdd() *cobra.Command {
	c := a.wearCommand("add", "record a part that wears out or expires",
		"  slipcase part add plugs --vehicle heron --life 60runs --has 43\n"+
			"  slipcase part add belts --vehicle heron --safety belts --made 2025-03-01\n  slipcase part add slicks-b --life 40runs",
		a.fillPart)
	c.Long = `Records a part and how long it lives: runs, seasons, years or months, or a last day; --life
may be given several times. On a vehicle it is fitted at once, else it is a spare. Safety
equipment has its usual life when no other is given: the rulebook in force decides.`
	f := c.Flags()
	f.String("vehicle", "", "the vehicle that it is on; a spare when left out")
	f.StringSlice("life", nil, "60runs, 2seasons, 2years, 18months, or the last day, as 2028-09-30")
	f.String("has", "", "runs or seasons that it has already, as 43 or 1season")
	f.String("made", "", "the day that it was made or certified, from which years and months count; --at when left out")
	var kinds []string
	for _, u := range crew.UsualLives {
		kinds = append(kinds, u.Safety)
	}
	keywordFlag(c, "safety", "", "the safety equipment that it is: "+strings.Join(kinds, ", "), kinds...)
	return c
}

// fillPart reads what a new part is.
func (a *app) fillPart(c *cobra.Command, lb *crew.Session, w *logbook.Wear) error {
	if name, _ := c.Flags().GetString("vehicle"); name != "" {
		v, err := lb.VehicleNamed(name)
		if err != nil {
			return err
		}
		w.Vehicle = v.ID
	}
	zone, err := a.raceZone(lb)
	if err != nil {
		return err
	}
	at, err := a.at(c, "at", zone)
	if err != nil {
		return err
	}
	made, err := a.flagTime(c, "made", at, zone)
	if err != nil {
		return err
	}
	if made.After(at) {
		return usagef("--made %s: that is after %s, from when the part is in the book (--at)",
			made.Format("2006-01-02"), at.Format("2006-01-02"))
	}
	lives, _ := c.Flags().GetStringSlice("life")
	for _, text := range lives {
		life, err := typed.ParseLife(text, made, zone)
		switch {
		case err != nil:
			return usagef("--life %w", err)
		case life.Runs > 0:
			w.LifeRuns = units.Some(float64(life.Runs))
		case life.Seasons > 0:
			w.LifeSeasons = units.Some(float64(life.Seasons))
		default:
			w.Expires = logbook.Time{Time: life.Ends}
		}
	}
	w.Safety, _ = c.Flags().GetString("safety")
	if usual, known := crew.UsualLifeOf(w.Safety); known && len(lives) == 0 {
		w.Expires = logbook.Time{Time: usual.Ends(made)}
	}
	if !w.LifeRuns.Known() && !w.LifeSeasons.Known() && w.Expires.IsZero() {
		return usagef("--life is missing: want how long it lives, as 60runs, 2seasons, 2years or 2028-09-30")
	}
	return hasAlready(c, w)
}

// hasAlready reads --has: bare runs, or seasons.
func hasAlready(c *cobra.Command, w *logbook.Wear) error {
	text, _ := c.Flags().GetString("has")
	word := strings.ToLower(strings.TrimSpace(text))
	if word == "" {
		return nil
	}
	of := &w.HasRuns
	if cut := strings.TrimRight(word, "s"); strings.HasSuffix(cut, "season") {
		word, of = strings.TrimSuffix(cut, "season"), &w.HasSeasons
	} else {
		word = strings.TrimSuffix(cut, "run")
	}
	n, err := strconv.Atoi(strings.TrimSpace(word))
	if err != nil || n < 0 {
		return usagef("--has %q: want runs or seasons, as 43 or 1season", clipped(text))
	}
	*of = units.Some(float64(n))
	return nil
}

func (a *app) partFit() *cobra.Command {
	c := a.wearCommand("fit", "put a part onto a vehicle", "  slipcase part fit slicks-b --vehicle heron",
		func(c *cobra.Command, lb *crew.Session, w *logbook.Wear) error {
			v, err := a.theVehicle(c, lb)
			w.Vehicle = v.ID
			return err
		})
	c.Flags().String("vehicle", "", "the vehicle")
	return c
}

func (a *app) partRemove() *cobra.Command {
	return a.wearCommand("remove", "take a part off; a spare keeps its life", "  slipcase part remove slicks-b",
		func(*cobra.Command, *crew.Session, *logbook.Wear) error { return nil })
}

func (a *app) partNote() *cobra.Command {
	c := a.wearCommand("note", "note something on a part", "  slipcase part note plugs \"gapped to .035\"", nil)
	c.Use, c.Args = "note NAME WORDS", cobra.MinimumNArgs(2)
	c.RunE = a.writes(func(c *cobra.Command, args []string, lb *crew.Session) error {
		return a.recordWear(c, lb, logbook.Wear{What: crew.WearNote, Part: args[0], Notes: strings.Join(args[1:], " ")})
	})
	return c
}

func (a *app) passCommand() *cobra.Command {
	c := &cobra.Command{
		Use:     "pass",
		Short:   "passes that have no slip, which wear parts all the same",
		Example: "  slipcase pass add",
	}
	add := &cobra.Command{
		Use: "add", Short: "count passes without a slip", Args: cobra.NoArgs,
		Example: "  slipcase pass add --vehicle heron\n  slipcase pass add --count 4 --at 2026-05-02 --notes \"test and tune\"",
		RunE: a.writes(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			v, err := a.theVehicle(c, lb)
			if err != nil {
				return err
			}
			text, _ := c.Flags().GetString("count")
			n, err := strconv.Atoi(strings.TrimSpace(text))
			if err != nil || n < 1 || n > 1000 {
				return usagef("--count %q: want a number from 1 to 1,000", clipped(text))
			}
			return a.recordWear(c, lb, logbook.Wear{What: crew.WearPass, Vehicle: v.ID, Passes: units.Some(float64(n))})
		}),
	}
	add.Flags().String("vehicle", "", "the vehicle")
	add.Flags().String("count", "1", "how many")
	add.Flags().String("at", "", "when; now when left out")
	add.Flags().String("notes", "", "anything else")
	c.AddCommand(add)
	return c
}
