package logbook

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// A logbook begun before there were dyno sheets has no file for them: it reads as
// empty, and the first sheet makes it.
func TestOptionalFileIsMadeOnFirstUse(t *testing.T) {
	lb, err := Init(t.TempDir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{sheets.file, planRows.file} {
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
		part Planned
		want string
	}{
		{Planned{Name: "x", Vehicle: "v"}, "changes nothing"},
		{Planned{Name: "x", Vehicle: "v", GainHP: known(10), GainPct: known(3)}, "one of them"},
		{Planned{Name: "x", Vehicle: "v", GainHP: known(10), GainLowHP: known(5)}, "low, likely and high"},
		{Planned{Name: "x", Vehicle: "v", GainHP: known(10), GainLowHP: known(15), GainHighHP: known(20)}, "rising"},
		{Planned{Name: "x", Vehicle: "v", GainHP: known(10), Cost: known(-1)}, "no less than 0"},
		{Planned{Name: "big cam", Vehicle: "v", GainHP: known(10)}, "letters, digits and dash"},
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
		if err := errors.Join(os.Remove(lb.path(sheets.file)), os.Remove(lb.path(planRows.file))); err != nil {
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
