package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/intake"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/weather/units"
)

func (a *app) importCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "bring the runs of a spreadsheet in",
		Long: `Brings the runs of a spreadsheet in: .csv, tabs or semicolons, or .xlsx. First it shows
what it takes each column for, what would be new and what looks wrong, and records
nothing; with --go it records all of that at once. Rows in doubt are left out and
written to FILE.left.csv with the reason: mend them there and import that file.
The same file again adds nothing; with new rows it adds those. What slipcase export
wrote comes in as it was, without a question: slips with their ids, setups, air.

--column says what a column is, by its heading or letter: C=et_1320, "Corr=skip",
"Boost=note" or "Jets=own", a column of your own (slipcase column --help). What else can
be told so is in the table of slips (slipcase slip add --help).`,
		Example: `  slipcase import runs.xlsx
  slipcase import runs.csv --vehicle heron --track saltgrass --go
  slipcase import runs.csv --column "ET 2=skip" --date-order dmy`,
		Args: cobra.ExactArgs(1),
		RunE: a.writes(a.importFile),
	}
	f := c.Flags()
	f.Bool("go", false, "record it")
	f.String("vehicle", "", "of rows that say none")
	f.String("track", "", "of rows that say none")
	f.StringArray("kind", nil, "of new vehicles: car, motorcycle, or plover=motorcycle")
	f.StringArray("column", nil, "what a column is, as C=et_1320 or \"Corr=skip\"")
	f.String("date-order", "", "of dates as 5/2/26: mdy or dmy")
	f.Int("year", 0, "of dates without a year")
	f.String("perfect", "", "what the slips print for a perfect light: 0, .4 or .5")
	f.String("sheet", "", "this sheet of a workbook alone")
	f.String("keep-map", "", "write what was told of the file into another, for --map")
	f.String("map", "", "take what --keep-map wrote")
	f.Bool("force", false, "record what looks wrong too")
	return c
}

// told is what the racer says of a file, as --keep-map keeps it.
type told struct {
	Columns   map[string]string `json:"columns,omitempty"`
	DateOrder string            `json:"date_order,omitempty"`
	Year      int               `json:"year,omitempty"`
	Vehicle   string            `json:"vehicle,omitempty"`
	Track     string            `json:"track,omitempty"`
	Kinds     []string          `json:"kinds,omitempty"`
	Perfect   string            `json:"perfect,omitempty"`
	Sheet     string            `json:"sheet,omitempty"`
}

// toldOf reads the flags, over what a kept map says.
func toldOf(c *cobra.Command) (t told, err error) {
	if path, _ := c.Flags().GetString("map"); path != "" {
		data, err := os.ReadFile(path)
		if err != nil {
			return t, err
		}
		if err := json.Unmarshal(data, &t); err != nil {
			return t, fmt.Errorf("%s is no map that --keep-map wrote: %w", path, err)
		}
	}
	if t.Columns == nil {
		t.Columns = map[string]string{}
	}
	list, _ := c.Flags().GetStringArray("column")
	for _, text := range list {
		at := strings.LastIndexByte(text, '=')
		if at < 1 {
			return t, usagef("--column %q: want a heading or letter and what it is, as C=et_1320", clipped(text))
		}
		t.Columns[strings.TrimSpace(text[:at])] = strings.TrimSpace(text[at+1:])
	}
	for name, into := range map[string]*string{
		"date-order": &t.DateOrder, "vehicle": &t.Vehicle, "track": &t.Track, "perfect": &t.Perfect, "sheet": &t.Sheet,
	} {
		if given, _ := c.Flags().GetString(name); c.Flags().Changed(name) {
			*into = given
		}
	}
	if c.Flags().Changed("year") {
		t.Year, _ = c.Flags().GetInt("year")
	}
	if kinds, _ := c.Flags().GetStringArray("kind"); len(kinds) > 0 {
		t.Kinds = kinds
	}
	return t, nil
}

// options are what was told, checked, with what the log knows.
func (t told) options(a *app, lb *crew.Session) (o notebook.Options, err error) {
	o = notebook.Options{
		Columns: map[string]notebook.Role{}, DateOrder: t.DateOrder, Year: t.Year, Vehicle: t.Vehicle,
		Track: t.Track, Sheet: t.Sheet,
		Bare: a.page.Bare, Now: a.now(),
	}
	for head, word := range t.Columns {
		role, err := notebook.RoleNamed(word)
		if err != nil {
			return o, usagef("--column %s=%s: %w", clipped(head), clipped(word), err)
		}
		if len(head) <= 3 && strings.ToUpper(head) != head {
			o.Columns[strings.ToUpper(head)] = role
		}
		o.Columns[head] = role
	}
	if !slices.Contains([]string{"", "mdy", "dmy"}, t.DateOrder) {
		return o, usagef("--date-order %q: want mdy or dmy", clipped(t.DateOrder))
	}
	if t.Year != 0 && (t.Year < 1950 || t.Year > a.now().Year()) {
		return o, usagef("--year %d: want 1950 to %d", t.Year, a.now().Year())
	}
	if t.Perfect != "" {
		v, err := units.Seconds.Parse(t.Perfect)
		if err != nil || v != 0 && v != 0.4 && v != 0.5 {
			return o, usagef("--perfect %q: want 0, .4 or .5", clipped(t.Perfect))
		}
		o.PerfectS = units.Some(v)
	}
	if o.Vehicles, err = lb.Vehicles(); err != nil {
		return o, err
	}
	if o.Tracks, err = lb.Tracks(); err != nil {
		return o, err
	}
	if o.Own, err = lb.OwnColumns(); err != nil {
		return o, err
	}
	o.Zone = zonesOf(a, o.Tracks)
	return o, nil
}

func (a *app) importFile(c *cobra.Command, args []string, lb *crew.Session) error {
	t, err := toldOf(c)
	if err != nil {
		return err
	}
	o, err := t.options(a, lb)
	if err != nil {
		return err
	}
	grids, err := notebook.Open(args[0])
	if err != nil {
		return err
	}
	book := notebook.Interpret(grids, o)
	for key := range t.Columns {
		if !book.UsedColumns[key] && !book.UsedColumns[strings.ToUpper(key)] {
			return usagef("--column %q: the file has no such column over runs", clipped(key))
		}
	}
	force, _ := c.Flags().GetBool("force")
	kinds, err := t.kinds()
	if err != nil {
		return err
	}
	bar := a.tty.Bar("reading")
	p := &intake.Plan{
		Log: lb, Book: book, Options: o, Kinds: kinds, Force: force, File: args[0], NewID: a.id, Page: a.page, Step: bar.Step,
	}
	err = p.Make(c.Context())
	bar.Stop()
	if err != nil {
		return err
	}
	if keep, _ := c.Flags().GetString("keep-map"); keep != "" {
		if err := keepMap(keep, t); err != nil {
			return err
		}
	}
	if record, _ := c.Flags().GetBool("go"); record {
		return a.recordImport(c, p)
	}
	shown := p.Shown()
	shown.Again = importAgain(c, p)
	return a.page.Imported(shown)
}

// kinds are those of new vehicles, by their names.
func (t told) kinds() (map[string]string, error) {
	kinds := map[string]string{}
	for _, k := range t.Kinds {
		name, kind, named := strings.Cut(k, "=")
		if !named {
			name, kind = "", k
		}
		if kind != "car" && kind != "motorcycle" {
			return nil, usagef("--kind %q: want car or motorcycle, or heron=car", clipped(k))
		}
		kinds[name] = kind
	}
	return kinds, nil
}

// keepMap writes what was told into a file of its own.
func keepMap(path string, t told) error {
	data, err := json.MarshalIndent(t, "", "  ")
	if err != nil {
		return err
	}
	out := notebook.Placing{Over: true}
	defer out.Drop()
	if err := out.Write(path, func(w io.Writer) error { _, err := w.Write(append(data, '\n')); return err }); err != nil {
		return err
	}
	return out.Done()
}

// leftName is the file for the rows left out, beside the notebook.
func leftName(file string) string {
	base := strings.TrimSuffix(file, filepath.Ext(file))
	return strings.TrimSuffix(base, ".left") + ".left.csv"
}
