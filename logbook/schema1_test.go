package logbook

import (
	"archive/zip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipcase/weather/units"
)

// testdata/v1 is a logbook as the first version wrote it. It stays as it is, and
// must be readable for ever.
func TestLogbookOfVersion1(t *testing.T) {
	dir := t.TempDir()
	must(t, os.CopyFS(dir, os.DirFS("testdata/v1")))
	lb, err := Open(dir, Options{})
	must(t, err)
	noneGrave(t, lb)
	runs, err := lb.Runs("")
	must(t, err)
	if len(runs) != 2 || len(lb.Problems()) != 0 {
		t.Fatalf("%d runs, problems %v", len(runs), lb.Problems())
	}
	first, second := runs[0], runs[1]
	for _, n := range []struct {
		what string
		got  units.Number
		want float64
	}{
		{"reaction", first.Slip.ReactionS, .042},
		{"60 ft", first.Slip.ET60S, 1.912},
		{"660 ft speed", first.Slip.MPH660, 83.77},
		{"1000 ft", first.Slip.ET1000S, 10.98},
		{"1320 ft", first.Slip.ET1320S, 13.212},
		{"dial", first.Slip.DialS, 13.25},
		{"weight", first.Setup.WeightLb, 3450},
		{"elevation", first.Track.ElevationFt, 812},
		{"wind", first.Air.WindMPH, 6},
		{"lifted at", second.Slip.FullPowerToFt, 1150},
	} {
		if n.got != units.Some(n.want) {
			t.Errorf("%s is %v, want %v", n.what, n.got, n.want)
		}
	}
	if want := time.Date(2026, 5, 2, 14, 25, 0, 0, time.FixedZone("", -5*3600)); !first.Slip.Time.Equal(want) {
		t.Errorf("time is %v, want %v", first.Slip.Time, want)
	}
	if want := "flag, \"gusty\"\nsecond line"; second.Slip.Notes != want || second.Slip.Rev != 2 ||
		second.Setup.Name != "bigger-carb" {
		t.Errorf("second slip: %+v", second.Slip)
	}
	if v := second.Vehicle; v.Name() != "Grey Heron" || v.Drive != "rear" {
		t.Errorf("vehicle: %+v", v)
	}
	void, err := lb.Slip(voidOf(t, lb))
	must(t, err)
	if void.Status != Void || void.Vehicle != "kestrel" {
		t.Errorf("void slip: %+v", void)
	}
	must(t, lb.AddSlips(slipAt(20, 0, 13.4)))
	noneGrave(t, lb)
}

func voidOf(t *testing.T, lb *Logbook) string {
	t.Helper()
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	for line := range strings.Lines(string(data)) {
		if cells := strings.Split(line, ","); cells[2] == string(Void) {
			return cells[0]
		}
	}
	t.Fatal("no void slip")
	return ""
}

// A backup from before there were parts and own columns is restored, and takes both.
func TestBackupOfVersion1IsRestored(t *testing.T) {
	old, back := t.TempDir(), filepath.Join(t.TempDir(), "back")
	must(t, os.CopyFS(old, os.DirFS("testdata/v1")))
	lb, err := Open(old, heldOptions())
	must(t, err)
	file := filepath.Join(t.TempDir(), "old.zip")
	_, err = lb.Backup(file, false)
	must(t, err)
	z, err := zip.OpenReader(file)
	must(t, err)
	defer z.Close()
	for _, f := range z.File {
		if f.Name == wears.file || f.Name == columnTable.file {
			t.Errorf("the backup has %s, which its logbook had not", f.Name)
		}
	}
	_, err = Restore(file, back, heldOptions())
	must(t, err)
	if lb, err = Open(back, heldOptions()); err != nil {
		t.Fatal(err)
	}
	now := Time{time.Date(2026, 5, 3, 9, 0, 0, 0, time.UTC)}
	add := &Wear{Time: now, What: WearAdd, Part: "plugs", Vehicle: "heron", LifeRuns: units.Some(60)}
	must(t, lb.AddWear(add, func([]Wear) error { return nil }))
	must(t, lb.AddOwnColumn(&OwnColumn{Entry: Entry{ID: "jets"}, Kind: "number"}))
	noneGrave(t, lb)

	// And from then on a backup has them.
	file = filepath.Join(t.TempDir(), "new.zip")
	_, err = lb.Backup(file, false)
	must(t, err)
	again := filepath.Join(t.TempDir(), "again")
	_, err = Restore(file, again, heldOptions())
	must(t, err)
	if lb, err = Open(again, heldOptions()); err != nil {
		t.Fatal(err)
	}
	columns, err := lb.OwnColumns()
	must(t, err)
	worn, err := lb.Wears()
	must(t, err)
	if len(columns) != 1 || columns[0].ID != "jets" || len(worn) != 1 || worn[0].Part != "plugs" {
		t.Errorf("came back: columns %+v, parts %+v", columns, worn)
	}
}
