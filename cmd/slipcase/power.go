package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

var sheetFields = []typed.Field[logbook.Sheet]{
	typed.ChoiceField(
		"power-at",
		"where it was measured: wheels or clutch",
		func(s *logbook.Sheet) *string { return &s.At },
		"wheels",
		"clutch",
	),
	typed.ChoiceField("standard", "what it is corrected to: sae, standard, din or none",
		func(s *logbook.Sheet) *string { return &s.Standard }, "sae", "standard", "din", "none"),
	typed.NumberField("temp", "air temperature at the dyno, as 88F or 31C", units.Temperature,
		func(s *logbook.Sheet) *units.Number { return &s.TempF }),
	typed.NumberField("rh", "relative humidity at the dyno, percent", units.Percent,
		func(s *logbook.Sheet) *units.Number { return &s.RHPct }),
	typed.NumberField("station", "station pressure at the dyno, as 28.94inHg", units.Pressure,
		func(s *logbook.Sheet) *units.Number { return &s.StationInHg }),
	typed.WordsField("notes", "anything else", func(s *logbook.Sheet) *string { return &s.Notes }),
	{Flag: "peak", Help: "instead of --sheet: the peak alone, as 312hp or 312hp@5600rpm", Set: setPeak},
}

// setPeak reads a peak with or without its engine speed.
func setPeak(s *logbook.Sheet, bare units.System, text string) error {
	power, rpm, both := strings.Cut(text, "@")
	var err error
	if s.PeakHP, err = typed.ParseNumber(bare, units.Power, power); err != nil || !both {
		return err
	}
	s.PeakRPM, err = typed.ParseNumber(bare, units.RPM, rpm)
	return err
}

func (a *app) powerCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "power", Short: "dyno sheets: power over engine speed, compared and converted",
		Example: "  slipcase power list\n  slipcase power show stock bigger-carb",
	}
	add := &cobra.Command{
		Use: "add NAME", Short: "record a dyno sheet, or only its peak",
		Long: `Records a dyno sheet: a CSV file with a heading for each column, among them rpm and power
or torque or both, in any order, each with its unit (hp, kW, PS, lb-ft, Nm), or the peak
alone. A setup names its sheet with --sheet.`,
		Example: `  slipcase power add stock --vehicle heron --sheet stock.csv --power-at wheels --standard sae
  slipcase power add bigger-carb --vehicle heron --peak 331hp@5700rpm --power-at wheels --standard standard`,
		Args: cobra.ExactArgs(1), RunE: a.writes(a.addSheet),
	}
	registerSheet(add)
	add.Flags().String("vehicle", "", "the vehicle")
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct what is recorded of a sheet; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase power amend stock --standard standard\n  slipcase power amend stock --sheet stock.csv",
		RunE:    a.writes(a.amendSheet),
	}
	registerSheet(amend)
	void, unvoid := voidable[logbook.Sheet]{
		group: "power", what: "dyno sheet", arg: "NAME", example: "stock",
		entry:    func(s *logbook.Sheet) *logbook.Entry { return &s.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Sheet, error) { return lb.Sheet(ref) },
		findVoid: (*logbook.Logbook).VoidSheet, amend: (*logbook.Logbook).AmendSheet,
		show: (*page.Page).SheetStatus, called: func(s logbook.Sheet) string { return s.Name },
	}.commands(a)
	list := listOf(a, "list the dyno sheets", "  slipcase power list\n  slipcase power list --vehicle heron --format csv",
		(*crew.Session).Sheets, (*page.Page).Sheets)
	show := &cobra.Command{
		Use: "show NAME [AFTER]", Short: "show a sheet, or two over each other with what the second gains",
		Example: `  slipcase power show stock --shift 4500-6000
  slipcase power show stock bigger-carb --standard standard`,
		Args: cobra.RangeArgs(1, 2), RunE: a.reads(a.showSheets),
	}
	show.Flags().String("standard", "", "state it in: sae, standard, din or none; the first sheet's own when left out")
	shiftFlag(show, "the engine speeds that a run uses, as 4500-6000")
	c.AddCommand(add, list, show, amend, void, unvoid, formerly("drop", void))
	return c
}

func registerSheet(c *cobra.Command) {
	register(c, sheetFields)
	c.Flags().String("sheet", "", "the file, as CSV; - reads it from standard input")
	c.Flags().String("at", "", "when it was made, as 2026-03-14")
	c.Flags().Bool("force", false, "record what looks wrong as it is")
}

func (a *app) addSheet(c *cobra.Command, args []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	s := logbook.Sheet{Name: args[0], Vehicle: v.ID}
	if err := a.fillSheet(c, &s); err != nil {
		return err
	}
	if err := lb.AddSheet(&s); err != nil {
		return err
	}
	return a.page.SheetAdded(s)
}

// fillSheet reads the flags into a sheet, and refuses what cannot be.
func (a *app) fillSheet(c *cobra.Command, s *logbook.Sheet) error {
	if err := apply(c, sheetFields, s); err != nil {
		return err
	}
	if c.Flags().Changed("at") {
		at, err := a.at(c, "at", a.now().Location())
		if err != nil {
			return err
		}
		s.Time = logbook.Time{Time: at}
	}
	file, _ := c.Flags().GetString("sheet")
	switch {
	case s.At == "":
		return usagef("--power-at is missing: want where it was measured, wheels or clutch")
	case s.Standard == "":
		return usagef("--standard is missing: want what the sheet is corrected to, sae, standard, din or none: " +
			"it is printed on it")
	case file != "" && c.Flags().Changed("peak"):
		return usagef("--sheet and --peak: want one of them, the sheet has its peak")
	case file != "":
		curve, err := a.readCurve(file)
		if err != nil {
			return err
		}
		crew.SetCurve(s, curve)
	case !s.PeakHP.Known():
		return usagef("nothing of the sheet is given: want --sheet file.csv, or --peak such as 312hp@5600rpm")
	case len(s.Points) > 0 && c.Flags().Changed("peak"):
		return usagef("--peak: the sheet has %d points and its peak from them: want --sheet", len(s.Points))
	}
	if err := crew.CheckSheet(*s); errors.Is(err, crew.ErrAirNotWhole) {
		return usagef("%w: want --temp, --rh and --station, or none of them", err)
	} else if err != nil {
		return usage(err)
	}
	return forced(c, &s.Entry, a.page.Unusual(crew.HardToBelieve(units.Number{}, s.PeakHP)))
}

func (a *app) amendSheet(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	s, err := lb.Sheet(args[0])
	if err != nil {
		return err
	}
	was := s
	s, err = lb.AmendSheet(s.ID, func(s *logbook.Sheet) error { return a.fillSheet(c, s) })
	if err != nil {
		return err
	}
	return a.page.SheetAmended(s, logbook.Changes(&was, &s))
}

func (a *app) showSheets(c *cobra.Command, args []string, lb *crew.Session) error {
	standard, _ := c.Flags().GetString("standard")
	shown, err := lb.CompareSheets(args, standard, shiftOf(c))
	if err != nil {
		return err
	}
	return a.page.ComparedSheets(shown)
}

// readCurve reads and checks a dyno sheet's file; a fault is the input's.
func (a *app) readCurve(file string) (crew.Curve, error) {
	in := a.in
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return nil, fmt.Errorf("opening the dyno sheet: %w", err)
		}
		defer f.Close()
		in = f
	}
	curve, err := crew.ReadCurve(in)
	if err != nil {
		return nil, usagef("%s: %w", file, err)
	}
	return curve, nil
}

// shift is a range of engine speeds, as 4500-6000.
type shift struct {
	text string
	is   crew.Shift
}

func (s *shift) String() string { return s.text }
func (s *shift) Type() string   { return "string" }

func (s *shift) Set(text string) (err error) {
	left, right, both := strings.Cut(text, "-")
	if !both {
		return fmt.Errorf("%q: want two engine speeds, as 4500-6000", clipped(text))
	}
	s.text = text
	if s.is.LowRPM, err = units.RPM.Parse(left); err != nil {
		return err
	}
	if s.is.HighRPM, err = units.RPM.Parse(right); err == nil && s.is.HighRPM == 0 {
		return fmt.Errorf("%q: want engine speeds above 0", clipped(text))
	}
	return err
}

// shiftFlag gives a command a flag for the engine speeds of a run, read by shiftOf.
func shiftFlag(c *cobra.Command, usage string) { c.Flags().Var(&shift{}, "shift", usage) }

func shiftOf(c *cobra.Command) crew.Shift { return c.Flags().Lookup("shift").Value.(*shift).is }
