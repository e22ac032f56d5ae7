package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) powerCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "power", Short: "dyno sheets: power over engine speed, compared and converted",
		Example: "  slipcase power list\n  slipcase power show stock bigger-carb",
	}
	add := &cobra.Command{
		Use: "add NAME", Short: "record a dyno sheet, or only its peak",
		Long: `Records a dyno sheet: a file with a heading for each column, among them rpm and power or
torque or both, in any order, each with its unit (hp, kW, PS, lb-ft, Nm), or the peak alone.
CSV with commas, semicolons or tabs and .xlsx are read, with title lines, a line of units
and headings in other languages; what was understood is shown. Rows that stick out and
rows where the engine slows are left out. A setup names its sheet with --sheet.`,
		Example: `  slipcase power add stock --vehicle heron --sheet stock.csv --power-at wheels --standard sae
  slipcase power add carb --vehicle heron --sheet "carb.csv" --standard none --temp {60F --station 30.1inHg|16C --station 1019hPa}
  slipcase power add bigger-carb --vehicle heron --peak {331hp|247kW}@5700rpm --power-at wheels --standard standard`,
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
	standardFlag(show, "state it in: sae, standard, din or none; its own when left out, of two one that corrects")
	shiftFlag(show, "the engine speeds that a run uses, as 4500-6000")
	c.AddCommand(add, list, show, amend, void, unvoid, formerly("drop", void))
	return c
}

func registerSheet(c *cobra.Command) {
	register(c, typed.SheetFields)
	c.Flags().String("sheet", "", "the file, as CSV or .xlsx; - reads it from standard input")
	c.Flags().String("column", "", "of several columns of power the one wanted, by its heading")
	c.Flags().String("at", "", "when it was made, as 2026-03-14")
	c.Flags().Bool("force", false, "record what looks wrong as it is")
}

func (a *app) addSheet(c *cobra.Command, args []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	s := logbook.Sheet{Name: args[0], Vehicle: v.ID}
	pulled, err := a.fillSheet(c, &s)
	if err != nil {
		return err
	}
	if err := lb.AddSheet(&s); err != nil {
		return err
	}
	return a.page.SheetAdded(s, pulled)
}

// fillSheet reads the flags and the file into a sheet, and refuses what cannot be; it
// gives what the file was understood as, nil without one.
func (a *app) fillSheet(c *cobra.Command, s *logbook.Sheet) (pulled *crew.Pulled, err error) {
	if err := apply(c, typed.SheetFields, s); err != nil {
		return nil, err
	}
	if c.Flags().Changed("at") {
		at, err := a.at(c, "at", a.now().Location())
		if err != nil {
			return nil, err
		}
		s.Time = logbook.Time{Time: at}
	}
	file, _ := c.Flags().GetString("sheet")
	column, _ := c.Flags().GetString("column")
	switch {
	case file != "" && c.Flags().Changed("peak"):
		return nil, usagef("--sheet and --peak: want one of them, the sheet has its peak")
	case file == "" && column != "":
		return nil, usagef("--column is of a file: want --sheet with it")
	case file != "":
		at, _ := c.Flags().GetString("power-at")
		if pulled, err = a.readPull(file, notebook.PullAsk{At: at, Column: column}); err != nil {
			return nil, err
		}
		crew.TakePull(s, *pulled)
	}
	switch {
	case s.At == "":
		return nil, usagef("--power-at is missing: want where it was measured, wheels or clutch")
	case s.Standard == "":
		return nil, usagef("--standard is missing: want what the sheet is corrected to, sae, standard, din or none: " +
			"it is printed on it")
	case !s.PeakHP.Known():
		return nil, usagef("nothing of the sheet is given: want --sheet file.csv, or --peak such as {312hp|233kW}@5600rpm")
	case len(s.Points) > 0 && c.Flags().Changed("peak"):
		return nil, usagef("--peak: the sheet has %d points and its peak from them: want --sheet", len(s.Points))
	}
	if err := crew.CheckSheet(*s); errors.Is(err, crew.ErrAirNotWhole) {
		return nil, usagef("%w: want --temp and --station, with --rh where it is known, or none of them", err)
	} else if err != nil {
		return nil, usage(err)
	}
	return pulled, forced(c, &s.Entry, a.page.Unusual(crew.UnusualBuild(units.Number{}, s.PeakHP)))
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
	var pulled *crew.Pulled
	s, err = lb.AmendSheet(s.ID, func(s *logbook.Sheet) (err error) {
		pulled, err = a.fillSheet(c, s)
		return err
	})
	if err != nil {
		return err
	}
	return a.page.SheetAmended(s, pulled, logbook.Changes(&was, &s))
}

func (a *app) showSheets(c *cobra.Command, args []string, lb *crew.Session) error {
	standard, _ := c.Flags().GetString("standard")
	shown, err := lb.CompareSheets(args, standard, shiftOf(c))
	if err != nil {
		return err
	}
	return a.page.ComparedSheets(shown)
}

// readPull reads and checks the file of a dyno; a fault is the input's. Of several columns
// of power the one wanted is asked for, where somebody is there.
func (a *app) readPull(file string, ask notebook.PullAsk) (*crew.Pulled, error) {
	data, err := notebook.ReadAll(file, a.in)
	if err != nil {
		return nil, fmt.Errorf("opening the dyno sheet: %w", err)
	}
	pulled, err := notebook.ReadPull(data, ask)
	var several *crew.PowerColumns
	if errors.As(err, &several) && ask.Column == "" && a.tty.Interactive() {
		for _, line := range a.page.PowerColumns(file, several.Columns) {
			fmt.Fprintln(a.tty.Out, line)
		}
		if ask.Column, err = a.tty.Ask("which column", several.Columns[0].Head); err != nil {
			return nil, err
		}
		pulled, err = notebook.ReadPull(data, ask)
	}
	switch {
	case errors.As(err, &several):
		return nil, usagef("%s", strings.Join(append(a.page.PowerColumns(file, several.Columns),
			"want one of them by --power-at wheels or clutch, or by --column and its heading"), "; "))
	case err != nil:
		return nil, usagef("%s: %w", file, err)
	}
	return &pulled, nil
}

// shiftFlag gives a command a flag for the engine speeds of a run, read by shiftOf.
func shiftFlag(c *cobra.Command, usage string) { c.Flags().Var(&typed.Shift{}, "shift", usage) }

func shiftOf(c *cobra.Command) crew.Shift {
	s := c.Flags().Lookup("shift").Value.(*typed.Shift)
	return crew.Shift{LowRPM: s.LowRPM, HighRPM: s.HighRPM}
}
