package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

var sheetFields = []field[logbook.Sheet]{
	choice("power-at", "where it was measured: wheels or clutch", func(s *logbook.Sheet) *string { return &s.At }),
	choice("standard", "what it is corrected to: sae, standard, din or none", func(s *logbook.Sheet) *string { return &s.Standard }),
	number("temp", "air temperature at the dyno, as 88F or 31C", units.Temperature, func(s *logbook.Sheet) *units.Number { return &s.TempF }),
	number("rh", "relative humidity at the dyno, percent", units.Percent, func(s *logbook.Sheet) *units.Number { return &s.RHPct }),
	number("station", "station pressure at the dyno, as 28.94inHg", units.Pressure, func(s *logbook.Sheet) *units.Number { return &s.StationInHg }),
	words("notes", "anything else", func(s *logbook.Sheet) *string { return &s.Notes }),
	{"peak", "instead of --sheet: the peak alone, as 312hp or 312hp@5600rpm", setPeak},
}

// setPeak reads a peak with or without its engine speed.
func setPeak(s *logbook.Sheet, text string) error {
	power, rpm, both := strings.Cut(text, "@")
	var err error
	if s.PeakHP, err = parseNumber(units.Power, power); err != nil || !both {
		return err
	}
	s.PeakRPM, err = parseNumber(units.RPM, rpm)
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
	drop := &cobra.Command{
		Use: "drop NAME", Short: "put a sheet away; its row stays as void", Args: cobra.ExactArgs(1),
		Example: "  slipcase power drop stock\n  slipcase power drop bigger-carb",
		RunE:    a.writes(a.dropSheet),
	}
	list := &cobra.Command{
		Use: "list", Short: "list the dyno sheets", Args: cobra.NoArgs,
		Example: "  slipcase power list\n  slipcase power list --vehicle heron --format csv",
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			vehicle, err := vehicleFlag(c, lb)
			if err != nil {
				return err
			}
			all, err := lb.Sheets(vehicle)
			if err != nil {
				return err
			}
			return a.answer(all, a.sheetTable(all), nil)
		}),
	}
	list.Flags().String("vehicle", "", "of this vehicle alone")
	show := &cobra.Command{
		Use: "show NAME [AFTER]", Short: "show a sheet, or two over each other with what the second gains",
		Example: `  slipcase power show stock --shift 4500-6000
  slipcase power show stock bigger-carb --standard standard`,
		Args: cobra.RangeArgs(1, 2), RunE: a.reads(a.showSheets),
	}
	show.Flags().String("standard", "", "state it in: sae, standard, din or none; the first sheet's own when left out")
	show.Flags().String("shift", "", "the engine speeds that a run uses, as 4500-6000")
	c.AddCommand(add, list, show, amend, drop)
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
	return a.answer(s, a.sheetTable([]logbook.Sheet{s}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  dyno sheet %s of %s: %s\n  next, in a setup   slipcase setup add --vehicle %s --sheet %s\n",
			s.Name, s.Vehicle, a.sheetWords(s), s.Vehicle, s.Name)
	})
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
		return usagef("--standard is missing: want what the sheet is corrected to, sae, standard, din or none: it is printed on it")
	case file != "" && c.Flags().Changed("peak"):
		return usagef("--sheet and --peak: want one of them, the sheet has its peak")
	case file != "":
		curve, err := a.readCurve(file)
		if err != nil {
			return err
		}
		s.Points = nil
		for _, p := range curve {
			s.Points = append(s.Points, logbook.Point{RPM: p.RPM, HP: math.Round(p.HP*100) / 100})
		}
		s.PeakHP, s.PeakRPM = units.Some(math.Round(curve.Peak().HP*100)/100), units.Some(curve.Peak().RPM)
	case !s.PeakHP.Known():
		return usagef("nothing of the sheet is given: want --sheet file.csv, or --peak such as 312hp@5600rpm")
	case len(s.Points) > 0 && c.Flags().Changed("peak"):
		return usagef("--peak: the sheet has %d points and its peak from them: want --sheet", len(s.Points))
	}
	if _, _, err := dynoAir(*s); err != nil {
		return usage(err)
	}
	if err := s.Check(); err != nil {
		return usage(err)
	}
	if s.PeakRPM.Known() {
		if err := predict.CheckEngineSpeed(s.PeakRPM.Value()); err != nil {
			return usage(err)
		}
	}
	doubt, err := predict.CheckPower(s.PeakHP.Value())
	if err != nil {
		return usage(err)
	}
	if doubt != nil {
		return forced(c, &s.Entry, []string{page.Unusual(*doubt, a.units)})
	}
	return nil
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
	return a.answer(s, a.sheetTable([]logbook.Sheet{s}), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  dyno sheet %s of %s, revision %d: %s\n", s.Name, s.Vehicle, s.Rev, a.sheetWords(s))
		changes(w, &was, &s)
	})
}

func (a *app) dropSheet(_ *cobra.Command, args []string, lb *crew.Session) error {
	s, err := lb.Sheet(args[0])
	if err != nil {
		return err
	}
	s, err = lb.AmendSheet(s.ID, func(s *logbook.Sheet) error { s.Status = logbook.Void; return nil })
	if err != nil {
		return err
	}
	return a.answer(s, a.sheetTable([]logbook.Sheet{s}), func(w io.Writer) { fmt.Fprintf(w, "dropped  dyno sheet %s of %s\n", s.Name, s.Vehicle) })
}

// sheetWords says a sheet's peak, where it was measured and what it is corrected to.
func (a *app) sheetWords(s logbook.Sheet) string {
	return fmt.Sprintf("peak %s%s at the %s, %s", a.show(units.Power, s.PeakHP), atRPM(s.PeakRPM), s.At, standardWords(s.Standard))
}

// readCurve reads and checks a dyno sheet's file; a fault is the input's.
func (a *app) readCurve(file string) (predict.Curve, error) {
	in := a.in
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return nil, fmt.Errorf("opening the dyno sheet: %w", err)
		}
		defer f.Close()
		in = f
	}
	read, err := logbook.ReadSheet(in)
	if err != nil {
		return nil, usagef("%s: %w", file, err)
	}
	rows := make([]predict.DynoRow, len(read))
	for i, r := range read {
		rows[i] = predict.DynoRow(r)
	}
	curve, err := predict.NewCurve(rows)
	if err != nil {
		return nil, usagef("%s: %w", file, err)
	}
	return curve, nil
}

// dynoAir is the air of the day at the dyno, where the sheet has all of it.
func dynoAir(s logbook.Sheet) (air weather.Air, known bool, err error) {
	r := weather.Reading{TempF: s.TempF, RHPct: s.RHPct, StationInHg: s.StationInHg}
	switch n := countKnown(s.TempF, s.RHPct, s.StationInHg); n {
	case 0:
		return air, false, nil
	case 3:
		air, _, err = r.Air(units.Number{})
		return air, err == nil, err
	}
	return air, false, fmt.Errorf("the air at the dyno is not whole: want --temp, --rh and --station, or none of them")
}

func countKnown(of ...units.Number) (n int) {
	for _, v := range of {
		if v.Known() {
			n++
		}
	}
	return n
}

func (a *app) sheetTable(all []logbook.Sheet) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 4},
		{Head: "sheet", Key: "name"},
		{Head: "vehicle", Key: "vehicle", Drop: 2},
		{Head: "when", Key: "time", Drop: 3},
		{Head: "peak", Key: "peak_" + a.suffix(units.Power), Right: true},
		{Head: "at rpm", Key: "peak_rpm", Right: true, Drop: 1},
		{Head: "at", Key: "power_at"},
		{Head: "standard", Key: "power_standard"},
		{Head: "points", Key: "points", Right: true, Drop: 2},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, s := range all {
		t.Add(s.ID, s.Name, s.Vehicle, a.stamp(s.Time.Time), a.cell(units.Power, s.PeakHP), s.PeakRPM.String(),
			s.At, s.Standard, fmt.Sprint(len(s.Points)), s.Notes)
	}
	return t
}

func atRPM(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf(" at %.0f rpm", n.Value())
}

// standardWords names a correction standard to a person.
func standardWords(s string) string {
	switch predict.Standard(s) {
	case predict.SAE:
		return "SAE J1349"
	case predict.StandardJ607:
		return `SAE J607 ("standard")`
	case predict.DIN:
		return "DIN 70020"
	case predict.Uncorrected:
		return "as measured"
	}
	return "standard not said"
}

// fromSheet gives a setup the peak of the dyno sheet that --sheet names, unless
// the power was given beside it.
func fromSheet(c *cobra.Command, lb *crew.Session, s *logbook.Setup) error {
	if !c.Flags().Changed("sheet") || s.Power == "" {
		return nil
	}
	sheet, err := lb.Sheet(s.Power)
	if err != nil {
		return err
	}
	s.Power = sheet.Name
	if !c.Flags().Changed("power") {
		s.PowerHP, s.PowerAt, s.PowerStandard = sheet.PeakHP, sheet.At, sheet.Standard
	}
	return nil
}
