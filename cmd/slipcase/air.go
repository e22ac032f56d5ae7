package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) airCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "air", Short: "the weather at the track: density altitude, correction factors, readings",
		Example: "  slipcase air calc --temp {90F --rh 50 --station 29.92inHg|32C --rh 50 --station 1013hPa}",
	}
	void, unvoid := a.airVoid()
	c.AddCommand(a.airCalc(), a.airAdd(), a.airList(), a.airAmend(), void, unvoid)
	return c
}

func (a *app) airCalc() *cobra.Command {
	c := &cobra.Command{
		Use:   "calc [READING | REPORT]",
		Short: "density, density altitude and correction factors of one reading; nothing is stored",
		Long: `Works out density, density altitude, water and correction factors of one reading,
on one line as air add takes it, or by flags.
Give a temperature; one of --rh, --dew-point, --wet-bulb; and one of --station,
--altimeter or --sea-level, the last two with --elevation. Without any pressure the
standard pressure at --elevation is taken. Humidity is over liquid water, also in frost.
A density altitude alone ({DA1855|DA565}, --da) leaves temperature and water open: it says how far.`,
		Example: `  slipcase air calc {88F 42 28.94|31C 42 980}
  slipcase air calc --temp {90F --rh 50 --station 29.92inHg|32C --rh 50 --station 1013hPa}
  slipcase air calc --temp {88F --dew-point 64F --altimeter 29.92inHg --elevation 812ft|31C --dew-point 18C --altimeter 1013hPa --elevation 247m}
  slipcase air calc --elevation {812ft|247m} --metar "KXXX 021853Z 24006KT 10SM CLR 31/18 A2995"`,
		Args: cobra.ArbitraryArgs,
		RunE: do(a.calcAir),
	}
	registerStill(c)
	quantityFlag(c, "elevation", units.Length, "of the track, as {812ft|247m}")
	c.Flags().Bool("force", false, "work out what looks wrong all the same")
	return c
}

func (a *app) calcAir(c *cobra.Command, args []string) error {
	entries, err := a.typedAir(c, args, nil)
	if err != nil {
		return err
	}
	if len(entries) != 1 {
		return usagef("%d readings: want one; slipcase air add - records many", len(entries))
	}
	r, report := entries[0].Reading, entries[0].Report
	if entries[0].At != "" {
		return usagef("%q: nothing is stored, so it takes no time", clipped(entries[0].At))
	}
	if err := apply(c, typed.ReadingFields, &r); err != nil {
		return err
	}
	e, err := a.airOf(c, r, report, quantityOf(c, "elevation"))
	if err != nil {
		return err
	}
	return a.page.Air(e.Air, e.Notes)
}

func (a *app) airList() *cobra.Command {
	c := &cobra.Command{
		Use: "list", Short: "list the readings with their density altitude", Args: cobra.NoArgs,
		Example: "  slipcase air list --track saltgrass",
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			name, _ := c.Flags().GetString("track")
			if name != "" {
				t, err := lb.Track(name)
				if err != nil {
					return err
				}
				name = t.ID
			}
			rs, err := lb.Readings(name)
			if err != nil {
				return err
			}
			list, err := lb.Air(rs...)
			if err != nil {
				return err
			}
			return a.page.Readings(list)
		}),
	}
	c.Flags().String("track", "", "at this track alone")
	return c
}

func (a *app) airAmend() *cobra.Command {
	c := &cobra.Command{
		Use: "amend ID", Short: "correct a recorded reading; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase air amend last --temp {86F|30C}",
		RunE:    a.writes(a.amendAir),
	}
	register(c, typed.ReadingFields)
	c.Flags().String("at", "", "when it was read")
	c.Flags().Bool("force", false, "record what looks wrong as it is")
	return c
}

func (a *app) amendAir(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	was, err := lb.Reading(args[0])
	if err != nil {
		return err
	}
	track, err := lb.Track(was.Track)
	if err != nil {
		return err
	}
	is, err := lb.AmendReading(was.ID, func(r *logbook.Reading) error {
		if err := apply(c, typed.ReadingFields, &r.Reading); err != nil {
			return err
		}
		at, err := a.amendedAt(c, "at", r.Time.Time, a.zone(track))
		if err != nil {
			return err
		}
		r.Time = logbook.Time{Time: at}
		_, err = a.checkReading(c, lb, r, track)
		return err
	})
	if err != nil {
		return err
	}
	list, err := lb.Air(is)
	if err != nil {
		return err
	}
	return a.page.ReadingAmended(list[0], logbook.Changes(&was, &is))
}

// airVoid are the commands that take a reading out and put it back.
func (a *app) airVoid() (void, unvoid *cobra.Command) {
	return voidable[logbook.Reading]{
		group: "air", what: "reading", arg: "ID|last", example: "a3k7", long: lastHelp,
		entry:    func(r *logbook.Reading) *logbook.Entry { return &r.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Reading, error) { return lb.Reading(ref) },
		findVoid: (*logbook.Logbook).VoidReading, amend: (*logbook.Logbook).AmendReading,
		needs: (*crew.Session).ReadingStands, show: (*page.Page).ReadingStatus,
		called: func(r logbook.Reading) string { return r.ID },
	}.commands(a)
}
