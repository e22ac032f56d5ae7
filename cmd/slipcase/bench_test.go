package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// writeSlips records slips of several vehicles in a logbook, a slip every quarter
// of an hour and vehicle after vehicle, in one write.
func writeSlips(tb testing.TB, dir string, vehicles, slips int) {
	tb.Helper()
	lb, err := logbook.Open(dir, logbook.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	start := time.Date(2024, 3, 1, 9, 0, 0, 0, time.UTC)
	all := make([]*logbook.Slip, slips)
	for i := range all {
		s := &logbook.Slip{Vehicle: benchVehicle(i % vehicles), Lane: "left", Round: "T1"}
		if vehicles > 1 {
			s.Track = "saltgrass"
		}
		s.Time = logbook.Time{Time: start.Add(time.Duration(i) * 15 * time.Minute)}
		off := float64(i%37) / 1000
		for _, f := range []struct{ flag, text string }{
			{"reaction", ".042"},
			{"60", fmt.Sprintf("%.3f", 1.912+off/7)},
			{"330", fmt.Sprintf("%.3f", 5.437+off/3)},
			{"660", fmt.Sprintf("%.3f@83.77", 8.412+off/2)},
			{"1000", fmt.Sprintf("%.3f", 10.980+off)},
			{"1320", fmt.Sprintf("%.3f@105.84", 13.212+off)},
		} {
			for _, field := range typed.SlipFields {
				if field.Flag == f.flag {
					if err := field.Set(s, units.US, f.text); err != nil {
						tb.Fatal(err)
					}
				}
			}
		}
		all[i] = s
	}
	if err := lb.AddSlips(all...); err != nil {
		tb.Fatal(err)
	}
}

func benchVehicle(i int) string {
	if i == 0 {
		return "heron"
	}
	return fmt.Sprintf("vehicle-%d", i)
}

// big is a logbook of 10,000 slips of 30 vehicles, 334 at most each, with a setup
// and five years of readings.
func big(b *testing.B) string {
	b.Helper()
	const vehicles = 30
	dir := filepath.Join(b.TempDir(), "log")
	lines := [][]string{{"init"}, {"track", "add", "saltgrass", "--elevation", "812ft"}}
	for i := range vehicles {
		v := benchVehicle(i)
		lines = append(lines, []string{"vehicle", "add", v}, []string{
			"setup", "add", "--vehicle", v, "--from", "2024-01-01",
			"--weight", "3450", "--power", "312", "--power-at", "wheels", "--standard", "sae",
		})
	}
	for _, line := range lines {
		if status, _, said := runLine(b, append(line, "--logbook", dir)...); status != exitDone {
			b.Fatal(line, said)
		}
	}
	writeSlips(b, dir, vehicles, 10_000)
	// A reading every two hours of the hundred days in which they were run.
	air, err := os.OpenFile(filepath.Join(dir, "air.csv"), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		b.Fatal(err)
	}
	defer air.Close()
	for i := range 1250 {
		at := time.Date(2024, 3, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 2 * time.Hour).Format(time.RFC3339)
		if _, err := fmt.Fprintf(air, "abench%04d,1,fact,%s,,%s,saltgrass,80,45,,,28.94,,,,,,\n", i, at, at); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// newSlip is the nth slip of an afternoon: none is typed twice.
func newSlip(n int) []string {
	at := time.Date(2024, 6, 10, 14, 25, 0, 0, time.UTC).Add(time.Duration(n) * 2 * time.Minute)
	return strings.Fields(
		fmt.Sprintf(
			"slip add --vehicle heron --track saltgrass --at %s --60 1.%d --330 5.437 --660 8.412@83.77 --1320 13.%d@105.84",
			at.Format("2006-01-02T15:04"),
			900+n%20,
			200+n%60,
		),
	)
}

// BenchmarkSlipAdd records and judges a slip in a log of 10,000: as a racer types
// it, a whole run of the program, and within this process. The promise is 200 ms.
func BenchmarkSlipAdd(b *testing.B) {
	dir := big(b)
	n := 0
	b.Run("program", func(b *testing.B) {
		for b.Loop() {
			n++
			if out, err := child(b, []string{"SLIPCASE_LOGBOOK=" + dir}, newSlip(n)...).CombinedOutput(); err != nil {
				b.Fatalf("%v\n%s", err, out)
			}
		}
	})
	b.Run("in-process", func(b *testing.B) {
		for b.Loop() {
			n++
			if status, _, said := runLine(b, append(newSlip(n), "--logbook", dir)...); status != exitDone {
				b.Fatal(said)
			}
		}
	})
}

// BenchmarkHeldSession looks at a slip, records and judges it in a log that is held open,
// as a board does: the vehicle's slips are read once.
func BenchmarkHeldSession(b *testing.B) {
	lb, err := logbook.Open(big(b), logbook.Options{})
	if err != nil {
		b.Fatal(err)
	}
	s := crew.NewSession(lb, time.Now)
	n := 0
	for b.Loop() {
		n++
		slip := crew.Slip{Vehicle: "heron", Track: "saltgrass"}
		slip.Time.Time = time.Date(2024, 6, 10, 14, 25, 0, 0, time.UTC).Add(time.Duration(n) * 2 * time.Minute)
		crew.SetSplits(&slip, crew.Splits{ETs: [crew.Marks]units.Number{
			units.Some(
				1.9 + float64(n%20)/1000,
			), units.Some(5.437), units.Some(8.412), {}, units.Some(13.2 + float64(n%60)/1000),
		}})
		if _, err := s.Look(&slip); err != nil {
			b.Fatal(err)
		}
		if err := s.AddSlips(&slip); err != nil {
			b.Fatal(err)
		}
		if _, err := s.Judge(slip); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkHelp is a whole run of the program that only greets. The promise is 30 ms.
func BenchmarkHelp(b *testing.B) {
	for b.Loop() {
		c := child(b, nil, "--help")
		var out bytes.Buffer
		c.Stdout, c.Stderr = &out, io.Discard
		if err := c.Run(); err != nil || out.Len() == 0 {
			b.Fatal(err, out.Len())
		}
	}
}

// BenchmarkSlipList lists and judges the last slips of the 10,000.
func BenchmarkSlipList(b *testing.B) {
	dir := big(b)
	b.ResetTimer()
	for b.Loop() {
		if status, _, said := runLine(b, "slip", "list", "--format", "csv", "--logbook", dir); status != exitDone {
			b.Fatal(said)
		}
	}
}

// BenchmarkReport writes the report of 1,000 runs of a vehicle.
func BenchmarkReport(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "log")
	manyRuns(b, dir, 1000)
	for b.Loop() {
		file := filepath.Join(b.TempDir(), "report.html")
		if status, _, said := runLine(b, "report", "--force", "-o", file, "--logbook", dir); status != exitDone {
			b.Fatal(said)
		}
		if info, err := os.Stat(file); err == nil {
			b.ReportMetric(float64(info.Size())/1e6, "MB")
		}
	}
}

// BenchmarkPicture draws the air of 3,000 runs of a vehicle.
func BenchmarkPicture(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "log")
	manyRuns(b, dir, 3000)
	for b.Loop() {
		file := filepath.Join(b.TempDir(), "air.svg")
		if status, _, said := runLine(b, "picture", "air", "--force", "-o", file, "--logbook", dir); status != exitDone {
			b.Fatal(said)
		}
	}
}

// manyRuns is a log of runs of one vehicle, with its air once a day.
func manyRuns(b testing.TB, dir string, runs int) {
	b.Helper()
	for _, line := range [][]string{
		{"init"},
		{"track", "add", "saltgrass", "--elevation", "812ft"},
		{"vehicle", "add", "heron"},
		{"setup", "add", "--from", "2024-01-01", "--weight", "3450", "--power", "312", "--power-at", "wheels", "--standard", "sae"},
	} {
		if status, _, said := runLine(b, append(line, "--logbook", dir)...); status != exitDone {
			b.Fatal(line, said)
		}
	}
	lb, err := logbook.Open(dir, logbook.Options{})
	if err != nil {
		b.Fatal(err)
	}
	var air []*logbook.Reading
	var slips []*logbook.Slip
	for i := range runs {
		day := time.Date(2024, 3, 1+2*(i/8), 10, 0, 0, 0, time.UTC)
		if i%8 == 0 {
			r := &logbook.Reading{Time: logbook.Time{Time: day}, Track: "saltgrass"}
			r.TempF, r.RHPct, r.StationInHg = units.Some(70+float64(i%25)), units.Some(50.), units.Some(28.9)
			air = append(air, r)
		}
		off := float64(i*37%101)/2000 - 0.025
		slips = append(slips, &logbook.Slip{
			Vehicle: "heron", Track: "saltgrass", Lane: []string{"left", "right"}[i%2], Round: "E1", Result: "won",
			Time: logbook.Time{Time: day.Add(time.Duration(i%8) * 30 * time.Minute)}, ReactionS: units.Some(0.04),
			DialS: units.Some(13.2), OpponentReactionS: units.Some(0.05),
			OpponentETS:   units.Some(12.4),
			OpponentDialS: units.Some(12.35),
			ET60S:         units.Some(1.912 + off/5), ET330S: units.Some(5.437 + off/3), ET660S: units.Some(8.412 + off/2),
			MPH660: units.Some(83.77), ET1000S: units.Some(10.98 + off), ET1320S: units.Some(13.212 + off),
			MPH1320: units.Some(105.84),
		})
	}
	if err := lb.AddReading(air...); err != nil {
		b.Fatal(err)
	}
	if err := lb.AddSlips(slips...); err != nil {
		b.Fatal(err)
	}
}
