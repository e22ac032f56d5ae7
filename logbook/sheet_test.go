package logbook

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

func TestReadSheet(t *testing.T) {
	hp := func(line int, rpm, power float64) SheetRow {
		return SheetRow{Line: line, RPM: rpm, PowerHP: units.Some(power)}
	}
	for _, c := range []struct {
		name, text string
		want       []SheetRow
	}{
		{"plain", "rpm,hp\n3000,150\n3500,180.5\n", []SheetRow{hp(2, 3000, 150), hp(3, 3500, 180.5)}},
		{"any order, another column, grouped", "note,Power (hp),Engine RPM\nx,150,\"3,000\"\n\ny,180,3500", []SheetRow{hp(2, 3000, 150), hp(4, 3500, 180)}},
		{"decimal comma", "rpm;hp\n3000;150,5\n3500;180\n", []SheetRow{hp(2, 3000, 150.5), hp(3, 3500, 180)}},
		{"tabs", "power/hp\tengine speed\n150\t3000\n180\t3500\n", []SheetRow{hp(2, 3000, 150), hp(3, 3500, 180)}},
		{"torque told by the power beside it", "rpm,hp,torque\n3000,150,262.6\n", []SheetRow{
			{Line: 2, RPM: 3000, PowerHP: units.Some(150), LbFt: units.Some(262.6)},
		}},
		{"byte order mark, torque alone", "\xef\xbb\xbfrpm,torque_lb_ft\n3000,262\n3500,270\n", []SheetRow{
			{Line: 2, RPM: 3000, LbFt: units.Some(262)}, {Line: 3, RPM: 3500, LbFt: units.Some(270)},
		}},
	} {
		got, err := ReadSheet(strings.NewReader(c.text))
		if diff := cmp.Diff(c.want, got); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", c.name, err, diff)
		}
	}
}

// NIST SP 811, B.8: 1 hp (550 ft·lbf/s) is 745.6999 W, 1 lbf·ft 1.355818 N·m; a
// metric horsepower is 735.4988 W.
func TestReadSheetUnits(t *testing.T) {
	for _, c := range []struct {
		head   string
		power  bool
		factor float64
	}{{"kW", true, 1000 / 745.6999}, {"PS", true, 735.4988 / 745.6999}, {"Nm", false, 1 / 1.355818}} {
		rows, err := ReadSheet(strings.NewReader("rpm," + c.head + "\n3000,100\n"))
		if err != nil {
			t.Fatal(err)
		}
		got := rows[0].LbFt.Value()
		if c.power {
			got = rows[0].PowerHP.Value()
		}
		if d := got/100/c.factor - 1; d > 1e-6 || d < -1e-6 {
			t.Errorf("100 %s reads %v", c.head, got)
		}
	}
}

func TestReadSheetRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "empty"},
		{"rpm\n3000\n", "neither power nor torque"},
		{"hp,torque\n1,2\n", "want one headed rpm"},
		{"rpm,power\n3000,150\n", `column "power" has no unit: want it in the heading`},
		{"rpm,torque\n3000,262\n", `column "torque" has no unit`},
		{"rpm,hp,kW\n3000,150,112\n", `"hp" and "kW" are both power`},
		{"rpm,hp\n3000,150kW\n", `row 2, column "hp": "150kW"`},
		{"rpm,hp\n3000,NaN\n", `row 2, column "hp": "NaN"`},
		{"rpm,hp\n3000,\n,150\n", "row 3 has no engine speed"},
		{"rpm,hp\n3000,\"15\n", "cannot be read as CSV"},
	} {
		if rows, err := ReadSheet(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q reads %v, %v; want %q", c.text, rows, err, c.want)
		}
	}
}

func FuzzReadSheet(f *testing.F) {
	f.Add("rpm,hp\n3000,150\n")
	f.Add("Power (kW);rpm\n1,5;3000\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := ReadSheet(strings.NewReader(text))
		for _, r := range rows {
			if err == nil && r.Line < 2 {
				t.Errorf("row %+v", r)
			}
		}
	})
}

// A logbook begun before there were dyno sheets has no file for them: it reads as
// empty, and the first sheet makes it.
func TestOptionalFileIsMadeOnFirstUse(t *testing.T) {
	lb, err := Init(t.TempDir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{sheets.file, parts.file} {
		if err := os.Remove(lb.path(name)); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := lb.Sheets(""); err != nil || len(got) != 0 {
		t.Fatalf("without the file: %v, %v", got, err)
	}
	if _, err := lb.Sheet("stock"); !errors.Is(err, ErrUnknown) {
		t.Fatalf("a sheet that is not there: %v", err)
	}
	want := Sheet{
		Name:     "stock",
		At:       "wheels",
		Standard: "sae",
		PeakHP:   units.Some(312.5),
		Points:   Points{{3000, 171.4}, {5500, 312.5}},
	}
	if err := lb.AddSheet(&want); err != nil {
		t.Fatal(err)
	}
	got, err := lb.Sheet("stock")
	if err != nil {
		t.Fatal(err)
	}
	got.RecordedAt, want.RecordedAt = Time{}, Time{}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	again := want
	if err := lb.AddSheet(&again); !errors.Is(err, ErrExists) {
		t.Errorf("the same name again: %v", err)
	}
	// Lost after there were rows, it is missing and not empty.
	if err := os.Remove(lb.path(sheets.file)); err != nil {
		t.Fatal(err)
	}
	if _, err := lb.Sheets(""); err == nil || !strings.Contains(err.Error(), "missing") {
		t.Errorf("a lost file reads as %v", err)
	}
}

func TestPointsCell(t *testing.T) {
	var p Points
	for _, bad := range []string{"3000", "3000:x", "x:5", "3000:-1", "3000:5 2000:6", "NaN:5", "3000:+Inf"} {
		if err := p.UnmarshalCSV(bad); err == nil {
			t.Errorf("%q reads %v", bad, p)
		}
	}
}

func TestPartCheck(t *testing.T) {
	known := units.Some
	for _, c := range []struct {
		part Part
		want string
	}{
		{Part{Name: "x", Vehicle: "v"}, "changes nothing"},
		{Part{Name: "x", Vehicle: "v", GainHP: known(10), GainPct: known(3)}, "one of them"},
		{Part{Name: "x", Vehicle: "v", GainHP: known(10), GainLowHP: known(5)}, "low, likely and high"},
		{Part{Name: "x", Vehicle: "v", GainHP: known(10), GainLowHP: known(15), GainHighHP: known(20)}, "rising"},
		{Part{Name: "x", Vehicle: "v", GainHP: known(10), Cost: known(-1)}, "no less than 0"},
		{Part{Name: "big cam", Vehicle: "v", GainHP: known(10)}, "letters, digits and dash"},
	} {
		if err := c.part.Check(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.part, err, c.want)
		}
	}
}

// Two logbooks begun before there were dyno sheets merge, check and back up as if
// the file were there and empty.
func TestMergeWithoutTheOptionalFile(t *testing.T) {
	a, err := Init(t.TempDir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Init(t.TempDir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, lb := range []*Logbook{a, b} {
		if err := errors.Join(os.Remove(lb.path(sheets.file)), os.Remove(lb.path(parts.file))); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.AddSheet(&Sheet{Name: "stock", At: "wheels", Standard: "sae", PeakHP: units.Some(312)}); err != nil {
		t.Fatal(err)
	}
	if _, err := a.Merge(b, nil); err != nil {
		t.Fatal(err)
	}
	if got, err := a.Sheets(""); err != nil || len(got) != 1 {
		t.Errorf("merged: %v, %v", got, err)
	}
	if found, err := a.Check(); err != nil || len(found) != 0 {
		t.Errorf("check finds %v, %v", found, err)
	}
	if err := os.Remove(a.path(sheets.file)); err != nil {
		t.Fatal(err)
	}
	if found, err := a.Check(); err != nil || len(found) == 0 {
		t.Errorf("check does not find the lost file: %v, %v", found, err)
	}
}
