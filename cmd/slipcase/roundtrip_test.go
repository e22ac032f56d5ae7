package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// TestExportAndImport: an export imported into an empty log, and exported again, has the same
// runs: their slips with their ids, setups, vehicles, tracks and what was read of the air.
func TestExportAndImport(t *testing.T) {
	logs := 12
	if testing.Short() {
		logs = 3
	}
	for seed := range logs {
		dir := t.TempDir()
		from, into := filepath.Join(dir, "from"), filepath.Join(dir, "into")
		randomLog(t, from, rand.New(rand.NewPCG(uint64(seed), 17)))
		export := func(log, file string) {
			t.Helper()
			if status, _, said := runLine(t, "export", filepath.Join(dir, file), "--no-forecast", "--logbook", log); status != exitDone {
				t.Fatalf("log %d: %s", seed, said)
			}
		}
		ending := []string{".csv", ".xlsx"}[seed%2]
		export(from, "out"+ending)
		export(from, "was.csv")
		for _, line := range [][]string{{"init"}, {"import", filepath.Join(dir, "out"+ending), "--go"}} {
			if status, _, said := runLine(t, append(line, "--logbook", into)...); status != exitDone {
				t.Fatalf("log %d: %v: %s", seed, line, said)
			}
		}
		export(into, "is.csv")
		was, is := keptCells(t, filepath.Join(dir, "was.csv")), keptCells(t, filepath.Join(dir, "is.csv"))
		if len(was) < 5 || len(was) != len(is) {
			t.Fatalf("log %d: %d runs, then %d", seed, len(was), len(is))
		}
		for id, row := range was {
			for name, cell := range row {
				if got := is[id][name]; got != cell {
					t.Errorf("log %d, %s: %s %q became %q", seed, id, name, cell, got)
				}
			}
		}
		status, out, said := runLine(t, "import", filepath.Join(dir, "out"+ending), "--go", "--logbook", into)
		if status != exitDone || !strings.Contains(out, "recorded  0 slips") {
			t.Errorf("log %d, a second time: %s%s", seed, out, said)
		}
	}
}

// keptCells are the cells of an export that tell of what was recorded, by the id of the run;
// moments in universal time.
func keptCells(t *testing.T, path string) map[string]map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	runs := map[string]map[string]string{}
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			// The air of the minute goes by readings between runs too, which a table of runs has
			// not; the source becomes the import.
			if slices.Contains([]string{"logbook", "source", "sae_factor", "headwind_mph"}, name) ||
				strings.HasPrefix(name, "air_") || strings.HasPrefix(name, "density_altitude") {
				continue
			}
			row[name] = line[i]
			if at, err := time.Parse(time.RFC3339, line[i]); err == nil {
				row[name] = at.UTC().Format(time.RFC3339)
			}
		}
		runs[row["id"]] = row
	}
	return runs
}

// randomLog makes a log of two vehicles at two tracks, with whatever a slip can have.
func randomLog(t *testing.T, dir string, r *rand.Rand) {
	t.Helper()
	lb, err := logbook.Init(dir, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	num := func(low, high float64, decimals int) units.Number {
		if r.Float64() < 0.3 {
			return units.Number{}
		}
		scale := math.Pow10(decimals)
		return units.Some(math.Round((low+(high-low)*r.Float64())*scale) / scale)
	}
	word := func(of ...string) string { return of[r.IntN(len(of))] }
	b := logbook.Batch{
		Vehicles: []*logbook.Vehicle{
			{
				Entry: logbook.Entry{ID: "heron"}, Title: "The Heron", Kind: "car", Aspiration: "turbocharged", Drive: "rear",
				Notes: "=no; \"yes\"",
			},
			{Entry: logbook.Entry{ID: "plover"}, Kind: "motorcycle", Aspiration: "natural"},
		},
		Tracks: []*logbook.Track{
			{
				Entry: logbook.Entry{ID: "saltgrass"}, ElevationFt: units.Some(812), LengthsFt: logbook.Lengths{660, 1320},
				TimeZone: "America/Chicago", HeadingDeg: units.Some(240), Notes: "left lane is bumpy",
			},
			{
				Entry: logbook.Entry{
					ID: "highmesa",
				}, Title: "High Mesa", ElevationFt: units.Some(5120), TimeZone: "America/Denver",
				PerfectReactionS: units.Some(0.5), BothRed: "first",
			},
		},
	}
	zones := map[string]*time.Location{}
	for _, tr := range b.Tracks {
		if zones[tr.ID], err = time.LoadLocation(tr.TimeZone); err != nil {
			t.Fatal(err)
		}
	}
	at := time.Date(2026, 2, 20, 10, 0, 0, 0, zones["saltgrass"])
	for i := range 8 + r.IntN(30) {
		at = at.Add(time.Duration(20+r.IntN(4000)) * time.Minute)
		s := &logbook.Slip{Vehicle: word("heron", "plover"), Track: word("saltgrass", "highmesa")}
		s.ID = fmt.Sprintf("s%09d", i)
		s.Time = logbook.Time{Time: at.In(zones[s.Track]).Truncate(time.Second)}
		if r.Float64() < 0.2 || i == 0 {
			b.Setups = append(b.Setups, &logbook.Setup{
				Entry: logbook.Entry{
					ID: fmt.Sprintf("u%09d", i),
				}, Vehicle: s.Vehicle, From: logbook.Time{Time: at.Add(-time.Hour)},
				Name: word(
					"",
					"as bought",
					"=carb",
				), WeightLb: num(600, 3500, 0), PowerHP: num(100, 700, 0), BoostPsi: num(4, 12, 1),
				Change: word("", "headers", "slicks and gears", "=cam"), Cost: num(0, 900, 2),
				Notes: word("", "-2 deg", "a\nb"),
			})
			if u := b.Setups[len(b.Setups)-1]; u.PowerHP.Known() && r.Float64() < 0.7 {
				b.Sheets = append(b.Sheets, randomSheet(len(b.Sheets), s.Vehicle, at, num, word))
				u.Power = b.Sheets[r.IntN(len(b.Sheets))].ID
			}
		}
		if r.Float64() < 0.4 {
			b.Readings = append(b.Readings, &logbook.Reading{
				Entry: logbook.Entry{ID: fmt.Sprintf("a%09d", i)}, Time: s.Time, Track: s.Track,
				Reading: weather.Reading{
					TempF: units.Some(math.Round(60 + 30*r.Float64())), RHPct: units.Some(math.Round(20 + 60*r.Float64())),
					StationInHg: units.Some(
						map[string]float64{"saltgrass": 29.02, "highmesa": 24.87}[s.Track],
					), WindMPH: num(0, 15, 0),
				},
			})
		}
		randomSlip(s, num, word)
		b.Slips = append(b.Slips, s)
	}
	if err := lb.AddAll(b); err != nil {
		t.Fatal(err)
	}
}

func randomSheet(
	i int, vehicle string, at time.Time,
	num func(low, high float64, decimals int) units.Number, word func(...string) string,
) *logbook.Sheet {
	s := &logbook.Sheet{
		Entry: logbook.Entry{ID: fmt.Sprintf("y%09d", i)}, Name: fmt.Sprintf("pull-%d", i), Vehicle: word("", vehicle),
		At: word("wheels", "clutch"), Standard: word("sae", "none"), PeakHP: units.Some(312.5), PeakRPM: num(4000, 6000, 0),
		TempF: num(60, 90, 1), Notes: word("", "=cold", "2nd of the day"),
	}
	if s.PeakRPM.Known() {
		s.Points = logbook.Points{{RPM: 3000, HP: 171.4}, {RPM: 3500, HP: 208}}
		s.Time = logbook.Time{Time: at.Add(-48 * time.Hour).Truncate(time.Second)}
	}
	return s
}

func randomSlip(
	s *logbook.Slip,
	num func(low, high float64, decimals int) units.Number,
	word func(...string) string,
) {
	s.ReactionS, s.ET60S, s.ET330S = num(-0.05, 0.6, 3), num(1.7, 2, 3), num(5, 5.6, 3)
	s.ET660S, s.MPH660, s.ET1000S = num(8, 8.6, 3), num(80, 90, 2), num(10.5, 11.2, 3)
	s.MPH1000, s.ET1320S, s.MPH1320 = num(95, 99, 2), units.Some(13.205), num(102, 108, 2)
	s.Lane, s.Round, s.Meet = word("", "left", "right"), word("", "E1", "007", "T2"), word("", "Spring meet", "-opener")
	s.DialS, s.Result = num(12.9, 13.4, 2), word("", "won", "lost", "dq")
	s.OpponentReactionS, s.OpponentETS = num(-0.05, 0.4, 3), num(9, 16, 3)
	s.OpponentDialS, s.OpponentMPH = num(9, 16, 2), num(80, 150, 2)
	s.LaunchRPM, s.DelayS, s.TyrePsi = num(2000, 6000, 0), num(0, 2, 3), num(8, 20, 1)
	s.WaterTempF, s.TrackTempF = num(100, 200, 0), num(60, 140, 0)
	s.FullPower = word("", "yes", "lifted", "braked", "spun")
	if s.FullPower == "lifted" {
		s.FullPowerToFt = num(700, 1300, 0)
	}
	s.Class, s.ClassName = word("", "dial", "index", "heads-up", "test"), word("", "Super 1/8", "1320 club")
	if s.Class == "index" {
		s.IndexS = num(8.9, 13, 2)
	}
	s.Tree, s.RacedFt = units.Number{}, num(660, 660, 0)
	s.Driver, s.Bye, s.Buyback = word("", "Lee"), word("", "", "yes"), word("", "", "yes")
	s.Opponent, s.TwoStepRPM, s.CrossoverS = word("", "Kit"), num(2000, 5000, 0), num(0.1, 1, 3)
	s.Notes = word("", "=1+1", "'quoted", `he said "go", twice`, "größer, 24°", "true", "-", "x\ty", "5/2/26", "13.2")
	s.Forced = word("", "", "looked odd")
}
