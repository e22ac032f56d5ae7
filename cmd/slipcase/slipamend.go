package main

import (
	"cmp"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/intake"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) slipAmend() *cobra.Command {
	c := &cobra.Command{
		Use: "amend ID|last", Short: "correct a recorded slip; the old stays as history", Args: cobra.ExactArgs(1),
		Long: "Corrects a recorded slip by what its flags say; the old stays as history.\n" + lastHelp,
		Example: "  slipcase slip amend last --1320 13.212@{105.84|170.33}\n" +
			"  slipcase slip amend last --full-power lifted --full-power-to {1150ft|350m}",
		RunE: a.writes(a.amendSlip),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	c.Flags().String("track", "", "the track")
	c.Flags().String("at", "", "when it was run")
	registerSlip(c)
	c.Flags().Bool("force", false, "record what looks wrong as it is")
	return c
}

func (a *app) amendSlip(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	s, err := lb.Slip(args[0])
	if err != nil {
		return err
	}
	was := s
	v, err := vehicleFlag(c, lb)
	if err != nil {
		return err
	}
	track := logbook.Track{}
	if name, _ := c.Flags().GetString("track"); name != "" || s.Track != "" {
		if track, err = lb.Track(cmp.Or(name, s.Track)); err != nil {
			return err
		}
	}
	s, err = lb.AmendSlip(s.ID, func(s *slip) error {
		if err := apply(c, typed.SlipFields, s); err != nil {
			return err
		}
		if v != "" {
			s.Vehicle = v
		}
		if c.Flags().Changed("track") {
			s.Track = track.ID
		}
		at, err := a.amendedAt(c, "at", s.Time.Time, a.zone(track))
		if err != nil {
			return err
		}
		s.Time = logbook.Time{Time: at}
		return a.checkSlip(c, lb, s)
	})
	if err != nil {
		return err
	}
	return a.page.SlipAmended(was, s, logbook.Changes(&was, &s))
}

// slipVoid are the commands that take a slip out and put it back.
func (a *app) slipVoid() (void, unvoid *cobra.Command) {
	void, unvoid = voidable[slip]{
		what: "slip", arg: "ID|last", example: "s3k7", long: lastHelp,
		entry:    func(s *slip) *logbook.Entry { return &s.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (slip, error) { return lb.Slip(ref) },
		findVoid: (*logbook.Logbook).VoidSlip, amend: (*logbook.Logbook).AmendSlip,
		needs: (*crew.Session).SlipStands, show: (*page.Page).SlipStatus, called: func(s slip) string { return s.ID },
	}.commands(a)
	void.Flags().String("import", "", "all that one import brought, by its id; last is the last one")
	void.Args = cobra.MaximumNArgs(1)
	one := void.RunE
	void.RunE = func(c *cobra.Command, args []string) error {
		id, _ := c.Flags().GetString("import")
		switch {
		case (id == "") == (len(args) == 0):
			return usagef("want a slip's id, or --import and the id of an import")
		case id == "":
			return one(c, args)
		}
		return a.writes(func(_ *cobra.Command, _ []string, lb *crew.Session) error { return a.voidImport(lb, id) })(c, args)
	}
	return void, unvoid
}

// voidImport takes back what one import brought.
func (a *app) voidImport(lb *crew.Session, id string) error {
	id, slips, readings, err := intake.Void(lb, id)
	if err != nil {
		return err
	}
	return a.page.ImportVoided(id, slips, readings)
}
