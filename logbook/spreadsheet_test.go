package logbook

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// converter turns one file into another, told how.
type converter func(t *testing.T, from, to string, how ...string)

// gnumeric is the converter of a general spreadsheet program (Debian package gnumeric).
func gnumeric(t *testing.T) converter {
	t.Helper()
	tool, err := exec.LookPath("ssconvert")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("Gnumeric is not installed")
		}
		t.Skip("Gnumeric is not installed")
	}
	return func(t *testing.T, from, to string, how ...string) {
		t.Helper()
		c := exec.Command(tool, append(how, from, to)...)
		var said bytes.Buffer
		c.Stderr = &said
		if err := c.Run(); err != nil {
			t.Fatalf("ssconvert %s %s: %v\n%s", from, to, err, said.String())
		}
	}
}

// trip takes a file of a logbook through a spreadsheet and back.
type trip struct {
	name string
	by   func(t *testing.T, convert converter, path string)
	// rounded: most rows lose digits, which a repair brings back
	rounded bool
}

var trips = []trip{
	{name: "csv", by: func(t *testing.T, convert converter, path string) {
		convert(t, path, path+".out.csv")
		must(t, os.Rename(path+".out.csv", path))
	}},
	{name: "xlsx", by: func(t *testing.T, convert converter, path string) {
		convert(t, path, path+".xlsx")
		must(t, os.Remove(path))
		convert(t, path+".xlsx", path)
		must(t, os.Remove(path+".xlsx"))
	}},
	{name: "semicolons", by: func(t *testing.T, convert converter, path string) {
		convert(t, path, path+".txt", "-T", "Gnumeric_stf:stf_assistant", "-O", "separator=; format=raw")
		must(t, os.Rename(path+".txt", path))
	}},
	{name: "dates by day, numbers to two places", rounded: true, by: func(t *testing.T, convert converter, path string) {
		throughCells(t, convert, path, "dd/mm/yyyy hh:mm", "0.00")
	}},
	{name: "dates by month and half days", by: func(t *testing.T, convert converter, path string) {
		throughCells(t, convert, path, "m/d/yyyy h:mm AM/PM", "General")
	}},
	{
		name:    "dates with points and seconds, numbers to one place",
		rounded: true,
		by: func(t *testing.T, convert converter, path string) {
			throughCells(t, convert, path, "dd.mm.yyyy hh:mm:ss", "0.0")
		},
	},
}

// throughCells makes a sheet with the file's cells as numbers, dates and texts in
// formats of its own, and saves as CSV what it shows.
func throughCells(t *testing.T, convert converter, path, dates, numbers string) {
	t.Helper()
	data, err := os.ReadFile(path)
	must(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	must(t, err)
	var b bytes.Buffer
	b.WriteString(
		`<?xml version="1.0"?><gnm:Workbook xmlns:gnm="http://www.gnumeric.org/v10.dtd"><gnm:SheetNameIndex><gnm:SheetName>log</gnm:SheetName></gnm:SheetNameIndex><gnm:Sheets><gnm:Sheet><gnm:Name>log</gnm:Name><gnm:Cells>`,
	)
	for r, row := range rows {
		for c, text := range row {
			kind, format := 60, "" // text
			var at Time
			if r > 0 {
				if _, err := strconv.ParseFloat(text, 64); err == nil && rows[0][c] != "rev" && rows[0][c] != "id" {
					kind, format = 40, numbers
				} else if text != "" && at.UnmarshalCSV(text) == nil {
					day := time.Date(1899, 12, 30, 0, 0, 0, 0, at.Location())
					_, shift := at.Zone()
					_, then := day.Zone()
					serial := (at.Sub(day).Seconds() + float64(shift-then)) / 86400
					kind, format, text = 40, dates, strconv.FormatFloat(serial, 'f', -1, 64)
				}
			}
			if text == "" {
				continue
			}
			fmt.Fprintf(&b, `<gnm:Cell Row="%d" Col="%d" ValueType="%d"`, r, c, kind)
			if format != "" {
				fmt.Fprintf(&b, ` ValueFormat="%s"`, format)
			}
			b.WriteString(">")
			must(t, xml.EscapeText(&b, []byte(text)))
			b.WriteString("</gnm:Cell>")
		}
	}
	b.WriteString("</gnm:Cells></gnm:Sheet></gnm:Sheets></gnm:Workbook>")
	sheet := path + ".gnumeric"
	must(t, os.WriteFile(sheet, b.Bytes(), 0o600))
	convert(t, sheet, path+".txt", "-T", "Gnumeric_stf:stf_assistant", "-O", "separator=, format=preserve")
	must(t, os.Rename(path+".txt", path))
	must(t, os.Remove(sheet))
}

// onDiskOf puts a logbook in memory on the disk.
func onDiskOf(t *testing.T, lb *Logbook, m *memory) *Logbook {
	t.Helper()
	dir := t.TempDir()
	for path, n := range m.names {
		must(t, os.WriteFile(filepath.Join(dir, filepath.Base(path)), n.data, 0o600))
	}
	d, err := Open(dir, heldOptions())
	must(t, err)
	d.newID = NewID
	return d
}

// Every file of a logbook goes through a spreadsheet and back, in each of the ways in
// which it saves: what was recorded is read, at once or once repaired, and appended to.
func TestSpreadsheetRoundTrips(t *testing.T) {
	convert := gnumeric(t)
	lb, m := seasonOf(t, max(9, campaign(9, 120)))
	want := wholeOf(t, lb)
	sameTimes := cmp.Comparer(func(a, b Time) bool { return a.Equal(b.Time) })
	for i, trip := range trips {
		if testing.Short() && i > 0 {
			continue
		}
		t.Run(trip.name, func(t *testing.T) {
			d := onDiskOf(t, lb, m)
			for _, tab := range tables {
				trip.by(t, convert, d.path(tab.file))
			}
			if !trip.rounded {
				if diff := cmp.Diff(want, wholeOf(t, d), sameTimes); diff != "" || len(d.Problems()) > 0 {
					t.Errorf("problems %v (-recorded +read):\n%s", d.Problems(), diff)
				}
				if n := kinds(t, d); len(n) > 0 {
					t.Errorf("a check finds %v", n)
				}
			}
			repair(t, d)
			got := wholeOf(t, d)
			if trip.rounded {
				// In one cell of a row a rounded number looks as an edit of the racer's.
				got = oneCellBack(t, want, got)
			}
			if diff := cmp.Diff(want, got, sameTimes); diff != "" {
				t.Errorf("repaired (-recorded +read):\n%s", diff)
			}
			noneGrave(t, d)
			s := marked("after the trip", 4000)
			s.Driver = "me"
			must(t, d.AddSlips(s))
			if back, err := d.Slip(s.ID); err != nil || back.Notes != s.Notes || back.Driver != "me" {
				t.Errorf("appended and read: %+v, %v", back, err)
			}
			noneGrave(t, d)
		})
	}
}

// oneCellBack gives entries that differ from what was recorded in one cell what was recorded.
func oneCellBack(t *testing.T, want, got whole) whole {
	t.Helper()
	entriesBack(t, setups.schema, want.Setups, got.Setups)
	entriesBack(t, readings.schema, want.Readings, got.Readings)
	entriesBack(t, sheets.schema, want.Sheets, got.Sheets)
	entriesBack(t, planRows.schema, want.Parts, got.Parts)
	entriesBack(t, slips.schema, want.Slips, got.Slips)
	return got
}

func entriesBack[T any, P recordPtr[T]](t *testing.T, s columnSet, want, got []T) {
	t.Helper()
	for i := range min(len(want), len(got)) {
		a, err := textsOf(s, P(&want[i]), nil)
		must(t, err)
		b, err := textsOf(s, P(&got[i]), nil)
		must(t, err)
		if len(s.diff(a, b)) == 1 {
			got[i] = want[i]
		}
	}
}

// The racer's edit in a spreadsheet that rewrites times and numbers is told as his.
func TestAnEditInASpreadsheet(t *testing.T) {
	convert := gnumeric(t)
	lb := chicago(t)
	was, err := lb.Slips("")
	must(t, err)
	for _, trip := range trips {
		if trip.rounded || testing.Short() && trip.name != "xlsx" {
			continue
		}
		t.Run(trip.name, func(t *testing.T) {
			d := onCopy(t, lb)
			editCells(t, d, func(rows [][]string) [][]string {
				for at, name := range rows[0] {
					if name == "et_1320_s" {
						rows[1][at] = "13.999"
					}
				}
				return rows
			})
			trip.by(t, convert, d.path(slips.file))
			repair(t, d)
			s, err := d.Slip(was[0].ID)
			must(t, err)
			if s.ET1320S != units.Some(13.999) || !s.Time.Equal(was[0].Time.Time) {
				t.Errorf("the edited slip is %v at %v", s.ET1320S, s.Time)
			}
			if n := kinds(t, d); n[Changed] != 1 || len(n) != 1 {
				t.Errorf("a check finds %v", n)
			}
		})
	}
}

// Names that read as numbers, as old logbooks have them: a spreadsheet takes their zeros,
// a check tells, and a repair brings the vehicle back.
func TestNumbersForNamesInASpreadsheet(t *testing.T) {
	leftToFullRun(t)
	convert := gnumeric(t)
	lb := start(t)
	for _, name := range []string{"0812", "1e5"} {
		must(t, add(lb, vehicles, []*Vehicle{{Entry: Entry{ID: name}, Kind: "car", Aspiration: "natural"}}))
		s := marked("of "+name, 1)
		s.Vehicle = name
		must(t, lb.AddSlips(s))
	}
	if n := kinds(t, lb)[BadName]; n != 2 {
		t.Errorf("a check warns of %d names", n)
	}
	for _, tab := range []table{vehicles, slips} {
		trips[1].by(t, convert, lb.path(tab.file))
	}
	if n := kinds(t, lb); n[Lost] != 2 {
		t.Errorf("a check finds %v", n)
	}
	repair(t, lb)
	for _, name := range []string{"0812", "1e5"} {
		if v, err := lb.Vehicle(name); err != nil || v.ID != name {
			t.Errorf("%s is %q, %v", name, v.ID, err)
		}
	}
	noneGrave(t, lb)
	if all, err := lb.Slips(""); err != nil || len(all) != 2 || !strings.HasPrefix(all[0].Notes, "of ") {
		t.Errorf("slips: %v, %v", all, err)
	}
}
