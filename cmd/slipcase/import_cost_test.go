//go:build linux

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipcase/logbook"
)

// longSeason is a spreadsheet of many runs of one car, eight a day, with the air of each.
func longSeason(tb testing.TB, runs int) string {
	tb.Helper()
	var b strings.Builder
	b.WriteString("Date,Time,RT,60 ft,330 ft,1/8,1/8 MPH,1000 ft,1/4,1/4 MPH,Temp F,RH %,Station inHg,Jets\n")
	for i := range runs {
		at := time.Date(2010, 3, 1+2*(i/8), 10, 0, 0, 0, time.UTC).Add(time.Duration(i%8) * 30 * time.Minute)
		off := float64(i*37%101)/2000 - 0.025
		fmt.Fprintf(&b, "%s,%s,%.3f,%.3f,%.3f,%.3f,%.2f,%.3f,%.3f,%.2f,%d,50,28.90,%d\n", at.Format("2006-01-02"), at.Format("15:04"),
			0.03+float64(i%29)/1000, 1.912+off/5, 5.437+off/3, 8.412+off/2, 83.77-off*5, 10.98+off, 13.212+off, 105.84-off*5,
			60+i%25, 68+i%4)
	}
	path := filepath.Join(tb.TempDir(), "season.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		tb.Fatal(err)
	}
	return path
}

// importInto is the command line that brings a season into a log.
func importInto(dir, file string) []string {
	return []string{
		"import", file, "--go", "--vehicle", "heron", "--kind", "car", "--track", "saltgrass",
		"--column", "Jets=own", "--logbook", dir,
	}
}

// TestImportCost: 5,000 runs are in within 5 s of the processor's time; without the campaign, when
// others may be at work, within three times that.
func TestImportCost(t *testing.T) {
	leftToFullRun(t)
	dir := filepath.Join(t.TempDir(), "log")
	if status, _, said := runLine(t, "init", "--logbook", dir); status != exitDone {
		t.Fatal(said)
	}
	const runs = 5000
	file := longSeason(t, runs)
	used, peak := measured(t, child(t, nil, importInto(dir, file)...))
	t.Logf("%d runs: %v of the processor's time, %d MB", runs, used, peak>>20)
	within := 15 * time.Second
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		within = 5 * time.Second
	}
	if used > within {
		t.Errorf("%d runs take %v: want %v at most", runs, used, within)
	}
	if n := slipCount(t, dir); n < runs*99/100 {
		t.Errorf("%d slips of %d runs", n, runs)
	}
}

// BenchmarkImport brings 5,000 runs into an empty log, the whole program. The promise is 5 s.
func BenchmarkImport(b *testing.B) {
	file := longSeason(b, 5000)
	for b.Loop() {
		dir := filepath.Join(b.TempDir(), "log")
		if status, _, said := runLine(b, "init", "--logbook", dir); status != exitDone {
			b.Fatal(said)
		}
		if out, err := child(b, nil, importInto(dir, file)...).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
	}
}

// TestCancelledImport ends the context of an import at every moment that it asks: nothing is
// recorded, and no file stands beside the notebook, until one comes to its end.
func TestCancelledImport(t *testing.T) {
	leftToFullRun(t)
	dir := filepath.Join(t.TempDir(), "log")
	if status, _, said := runLine(t, "init", "--logbook", dir); status != exitDone {
		t.Fatal(said)
	}
	file := longSeason(t, 40)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	// A figure that is left out, for the file beside.
	if err := os.WriteFile(file, bytes.Replace(data, []byte(",105."), []byte(",150."), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	before, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	for left := 2; ; left++ {
		var out, said bytes.Buffer
		a := &app{in: strings.NewReader(""), out: &out, errOut: &said, now: time.Now, newID: logbook.NewID}
		ctx := &ending{Context: context.Background()}
		ctx.left.Store(int64(left))
		status := a.run(ctx, importInto(dir, file))
		if status == exitDone {
			if n := slipCount(t, dir); n != 39 || left < 30 {
				t.Errorf("after %d: %d slips, want 39\n%s", left, n, out.String())
			}
			return
		}
		after, err := contents(dir)
		if err != nil {
			t.Fatal(err)
		}
		for name, sum := range merged(before, after) {
			if before[name] != sum {
				t.Fatalf("after %d: %s was changed", left, name)
			}
		}
		if _, err := os.Stat(leftName(file)); err == nil || status != exitInterrupted || out.Len() > 0 {
			t.Fatalf("after %d: status %d, file beside %v; %s%s", left, status, err, out.String(), said.String())
		}
	}
}
