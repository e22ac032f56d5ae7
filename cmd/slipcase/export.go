package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"iter"
	"maps"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

func (a *app) exportCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "export FILE|FOLDER",
		Short: "write runs, with all that is known of them, for other programs",
		Long: `Writes one row a run: the slip, its setup, track and air, standard air, what it was
expected to be and how its round ended. The ending says the form: .csv, .json, .jsonl,
.xlsx (with a sheet for each of the log's tables) or .md. A folder gets one CSV file a
vehicle and year, the logbook's id in each row.`,
		Example: "  slipcase export runs.csv\n  slipcase export season.xlsx --vehicle heron --from 2026-04-01\n" +
			"  slipcase export team --no-forecast",
		Args: cobra.ExactArgs(1),
		RunE: a.reads(a.export),
	}
	c.Flags().String("vehicle", "", "of this vehicle alone")
	runFilterFlags(c)
	c.Flags().Bool("no-forecast", false, "without forecasts, standard air and what counts, which take the longest")
	c.Flags().Bool("force", false, "write over files that are there")
	return c
}

// exporting is an export on its way.
type exporting struct {
	*notebook.Placing
	c       *cobra.Command
	lb      *crew.Session
	runs    *logbook.ByVehicle
	keep    func(*crew.Run) bool
	teller  *crew.Teller
	columns []notebook.Part[*crew.Told]
	bar     *tty.Bar
	files   []page.Exported
}

func (a *app) export(c *cobra.Command, args []string, lb *crew.Session) error {
	vehicle, filter, err := a.ofRuns(c, lb)
	if err != nil {
		return err
	}
	debug.SetGCPercent(400) // for a fifth more memory a tenth less time
	runs, err := lb.RunsByVehicle(vehicle)
	if err != nil {
		return err
	}
	own, err := lb.OwnIf(runs.Own)
	if err != nil {
		return err
	}
	without, _ := c.Flags().GetBool("no-forecast")
	force, _ := c.Flags().GetBool("force")
	bar := a.tty.Bar("exporting")
	step := func(done int) { bar.Step(done, runs.Len) }
	teller, err := lb.NewTeller(crew.ToldAsk{Forecasts: !without, Step: step}, runs.Readings)
	if err != nil {
		return err
	}
	columns := notebook.RunColumns(lb.ID(), !without, own)
	x := &exporting{&notebook.Placing{Over: force}, c, lb, runs, filter.Keeps, teller, columns, bar, nil}
	defer x.Drop()
	if ending := notebook.Ending(args[0]); ending != "" {
		err = x.file(args[0], ending)
	} else {
		err = x.folder(args[0])
	}
	if x.bar.Stop(); err == nil {
		err = x.Done()
	}
	if errors.Is(err, notebook.ErrThere) {
		err = &advised{err, "write over it   slipcase export --force " + page.Quote(args[0])}
	}
	if err != nil {
		return err
	}
	return a.page.Exports(args[0], x.files)
}

// sheet is the table of the runs of vehicles that are meant.
func (x *exporting) sheet(vehicles iter.Seq[[]crew.Run], keep func(*crew.Run) bool) notebook.Sheet {
	return notebook.RunSheet(x.columns, func(tell func(*crew.Told) error) error {
		for runs := range vehicles {
			err := x.teller.Tell(x.c.Context(), runs, keep, func(t *crew.Told) error {
				x.files[len(x.files)-1].Runs++
				return tell(t)
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// file writes all runs into one file.
func (x *exporting) file(path, ending string) error {
	if err := x.outside(filepath.Dir(path)); err != nil {
		return err
	}
	sheets := []notebook.Sheet{x.sheet(x.runs.All(), x.keep)}
	if ending == ".xlsx" {
		tables, err := tablesOf(x.lb)
		if err != nil {
			return err
		}
		sheets = append(sheets, tables...)
	}
	return x.write(path, ending, sheets)
}

func (x *exporting) write(path, ending string, sheets []notebook.Sheet) error {
	x.files = append(x.files, page.Exported{File: path})
	return x.Write(path, func(w io.Writer) error { return notebook.Write(w, ending, sheets...) })
}

// outside refuses the folder of the logbook, whose every CSV file is a part of it.
func (x *exporting) outside(dir string) error {
	here, err := os.Stat(x.lb.Dir())
	there, err2 := os.Stat(dir)
	if err == nil && err2 == nil && os.SameFile(here, there) {
		return fmt.Errorf("%s is the folder of the logbook: want another place", dir)
	}
	return nil
}

// folder writes a file for each vehicle and year into a folder that holds no other things.
func (x *exporting) folder(dir string) error {
	if ext := filepath.Ext(dir); ext != "" {
		return usagef("%s: a file ends in %s; without an ending it is a folder", dir, strings.Join(notebook.Endings, ", "))
	}
	if err := x.outside(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	there, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range there {
		if filepath.Ext(e.Name()) != ".csv" || e.Name() == "slips.csv" {
			return fmt.Errorf("%s holds other things, as %s: want an empty folder, or one with exports alone", dir, e.Name())
		}
	}
	for runs := range x.runs.All() {
		years := map[int]bool{}
		for i := range runs {
			if r := &runs[i]; x.keep(r) {
				years[r.Slip.Time.Year()] = true
			}
		}
		for _, year := range slices.Sorted(maps.Keys(years)) {
			keep := func(r *crew.Run) bool { return r.Slip.Time.Year() == year && x.keep(r) }
			name := filepath.Join(dir, fmt.Sprintf("%s-%d.csv", runs[0].Slip.Vehicle, year))
			if err := x.write(name, ".csv", []notebook.Sheet{x.sheet(slices.Values([][]crew.Run{runs}), keep)}); err != nil {
				return err
			}
		}
	}
	slices.SortStableFunc(x.files, func(a, b page.Exported) int { return strings.Compare(a.File, b.File) })
	return nil
}

// tablesOf are the tables of the log but its slips, as they stand; named as their files.
func tablesOf(lb *crew.Session) (sheets []notebook.Sheet, err error) {
	add := func(s notebook.Sheet, failed error) {
		err = cmp.Or(err, failed)
		sheets = append(sheets, s)
	}
	add(tableOf[logbook.Vehicle]("vehicles")(lb.Vehicles()))
	add(tableOf[logbook.Track]("tracks")(lb.Tracks()))
	add(tableOf[logbook.Setup]("setups")(lb.Setups("")))
	add(tableOf[logbook.Reading]("air")(lb.Readings("")))
	add(tableOf[logbook.Sheet]("power")(lb.Sheets("")))
	add(tableOf[logbook.Planned]("plan")(lb.Plan("")))
	add(tableOf[logbook.Wear]("parts")(lb.Wears()))
	add(tableOf[logbook.OwnColumn]("columns")(lb.OwnColumns()))
	return sheets, err
}

func tableOf[R any](name string) func([]R, error) (notebook.Sheet, error) {
	return func(records []R, err error) (notebook.Sheet, error) { return notebook.RecordSheet(name, records), err }
}
