package logbook

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather"
	"slipcase/weather/units"
)

// start makes a logbook with one car and one track, a held clock and counted ids.
func start(t testing.TB) *Logbook {
	t.Helper()
	return startIn(t, filepath.Join(t.TempDir(), "log"))
}

func startIn(t testing.TB, dir string) *Logbook {
	t.Helper()
	lb, err := Init(dir, heldOptions())
	if err != nil {
		t.Fatal(err)
	}
	must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: "heron"}, Kind: "car", Aspiration: "natural"}))
	must(t, lb.AddTrack(&Track{Entry: Entry{ID: "saltgrass"}, ElevationFt: units.Some(812)}))
	return lb
}

func heldOptions() Options {
	n := 0
	return Options{
		Now:   func() time.Time { return time.Date(2026, 5, 2, 15, 0, 0, 0, time.UTC) },
		NewID: func(kind byte) string { n++; return fmt.Sprintf("%c%09d", kind, n) },
	}
}

// tester is a test, of this package or of rapid's.
type tester interface {
	Helper()
	Fatal(args ...any)
}

func must(t tester, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func slipAt(hour, minute int, et float64) *Slip {
	return &Slip{
		Vehicle: "heron", Track: "saltgrass", Time: Time{time.Date(2026, 5, 2, hour, minute, 0, 0, time.UTC)},
		ET60S: units.Some(1.912), ET1320S: units.Some(et), MPH1320: units.Some(105.84),
	}
}

func TestAppendThenReadGivesTheSame(t *testing.T) {
	lb := start(t)
	s := slipAt(14, 25, 13.212)
	s.Notes = "wind \"gusty\", flag\nsecond line; C:\\new"
	must(t, lb.AddSlips(s))
	got, err := lb.Slips("heron")
	must(t, err)
	if diff := cmp.Diff([]Slip{*s}, got); diff != "" {
		t.Errorf("slips differ (-recorded +read):\n%s", diff)
	}
	data, err := os.ReadFile(lb.path("slips.csv"))
	must(t, err)
	if n := strings.Count(string(data), "\n"); n != 2 {
		t.Errorf("slips.csv has %d lines, want header and one row", n)
	}
}

func TestAmendVoidAndHistory(t *testing.T) {
	lb := start(t)
	s := slipAt(14, 25, 13.212)
	must(t, lb.AddSlips(s))
	_, err := lb.AmendSlip(s.ID, func(s *Slip) error { s.ET1320S = units.Some(13.112); return nil })
	must(t, err)
	got, err := lb.Slip("last")
	must(t, err)
	if got.Rev != 2 || got.ET1320S.Value() != 13.112 {
		t.Errorf("amended slip is rev %d, %v s", got.Rev, got.ET1320S)
	}
	_, err = lb.AmendSlip(s.ID, func(s *Slip) error { s.Status = Void; return nil })
	must(t, err)
	if list, err := lb.Slips(""); err != nil || len(list) != 0 {
		t.Errorf("a void slip is listed: %v, %v", list, err)
	}
	revs, err := lb.SlipHistory(s.ID)
	must(t, err)
	if len(revs) != 3 || revs[0].ET1320S.Value() != 13.212 || revs[2].Status != Void {
		t.Errorf("history: %+v", revs)
	}
}

func TestHandEditsAreFollowed(t *testing.T) {
	const row = "s1,1,fact,2026-05-02T14:26:00Z,,"
	for _, tc := range []struct{ name, file, want string }{
		{
			"semicolons, decimal commas, BOM, CRLF, own column",
			"\xef\xbb\xbfid;rev;status;recorded_at;forced;mood;vehicle;time;et_1320_s;track;et_60_s;mph_1320\r\ns1;1;fact;2026-05-02T14:26:00Z;;gut;heron;2026-05-02T14:25:00Z;13,5;saltgrass;;\r\n",
			"\xef\xbb\xbfid;rev;status;recorded_at;forced;mood;vehicle;time;et_1320_s;track;et_60_s;mph_1320\r\ns1;1;fact;2026-05-02T14:26:00Z;;gut;heron;2026-05-02T14:25:00Z;13,5;saltgrass;;\r\ns1;2;fact;2026-05-02T15:00:00Z;;gut;heron;2026-05-02T14:25:00Z;13,4;saltgrass;;\r\n",
		},
		{
			"no last line end, blank lines",
			"id,rev,status,recorded_at,forced,et_1320_s,vehicle,time\n\n" + row + "13.5,heron,2026-05-02T14:25:00Z",
			"",
		},
	} {
		t.Run(tc.name, func(t *testing.T) {
			lb := start(t)
			must(t, os.WriteFile(lb.path("slips.csv"), []byte(tc.file), 0o600))
			got, err := lb.Slips("heron")
			must(t, err)
			if len(got) != 1 || got[0].ET1320S != units.Some(13.5) {
				t.Fatalf("read %+v, problems %v", got, lb.Problems())
			}
			_, err = lb.AmendSlip("s1", func(s *Slip) error { s.ET1320S = units.Some(13.4); return nil })
			must(t, err)
			after, err := os.ReadFile(lb.path("slips.csv"))
			must(t, err)
			if !strings.HasPrefix(string(after), tc.file) {
				t.Errorf("the racer's bytes changed:\n%s", after)
			}
			if tc.want != "" && string(after) != tc.want {
				t.Errorf("appended\n%q\nwant\n%q", after, tc.want)
			}
			if s, err := lb.Slip("s1"); err != nil || s.ET1320S.Value() != 13.4 {
				t.Errorf("reads back %v, %v", s.ET1320S, err)
			}
		})
	}
}

func TestABadRowCostsOnlyItsEntry(t *testing.T) {
	lb := start(t)
	const head = "id,rev,status,recorded_at,forced,vehicle,time,et_1320_s,notes\n"
	good := "good,1,fact,,,heron,2026-05-02T14:25:00Z,13.5,\n"
	for _, tc := range []struct{ name, rows, want string }{
		{"number", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.x,\n", `slips.csv line 2 (bad): column et_1320_s: "13.x" is not a plain number`},
		{"decimal comma in a comma file", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,\"13,5\",\n", `"13,5" is not a plain number`},
		{"NaN", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,NaN,\n", `"NaN" is not a plain number`},
		{"time", "bad,1,fact,,,heron,yesterday,13.5,\n", `column time: "yesterday" is not a time with its offset`},
		{"no time", "bad,1,fact,,,heron,,13.5,\n", `column time: the cell is empty`},
		{"status", "bad,1,gone,,,heron,2026-05-02T14:25:00Z,13.5,\n", `"gone" is not one of fact, void`},
		{"rev", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5,\nbad,x,fact,,,heron,2026-05-02T14:25:00Z,13.4,\n", `column rev: "x" is not a whole number`},
		{"cells", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5\n", "8 cells where the header has 9"},
		{"open quote", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5,\"open\n", "a quote in the row is not closed"},
		{"NUL", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5,\x00\n", "NUL bytes"},
		{"UTF-8", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5,\xff\n", "not valid UTF-8"},
		{"huge cell", "bad,1,fact,,,heron,2026-05-02T14:25:00Z,13.5," + strings.Repeat("x", 10<<20) + "\n", "a cell longer than"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			lb.problems, lb.reported = nil, map[string]bool{}
			must(t, os.WriteFile(lb.path("slips.csv"), []byte(head+tc.rows+good), 0o600))
			got, err := lb.Slips("")
			must(t, err)
			if len(got) != 1 || got[0].ID != "good" {
				t.Errorf("read %+v", got)
			}
			if p := fmt.Sprint(lb.Problems()); !strings.Contains(p, tc.want) {
				t.Errorf("problems %s\nwant %s", p, tc.want)
			}
			if _, err := lb.AmendSlip("bad", func(*Slip) error { return nil }); err == nil {
				t.Error("a damaged entry could be amended")
			}
		})
	}
}

func TestATornTailIsSetAside(t *testing.T) {
	lb := start(t)
	must(t, lb.AddSlips(slipAt(14, 0, 13.5)))
	must(t, lb.AddSlips(slipAt(14, 25, 13.4)))
	whole, err := os.ReadFile(lb.path("slips.csv"))
	must(t, err)
	must(t, os.WriteFile(lb.path("slips.csv"), whole[:len(whole)-20], 0o600))
	got, err := lb.Slips("")
	must(t, err)
	if len(got) != 1 || len(lb.Problems()) != 1 || !lb.Problems()[0].Torn {
		t.Fatalf("read %d slips, problems %v", len(got), lb.Problems())
	}
	must(t, lb.AddSlips(slipAt(14, 50, 13.3)))
	if got, err = lb.Slips(""); err != nil || len(got) != 2 {
		t.Errorf("after the next append %d slips, %v", len(got), err)
	}
	aside, err := filepath.Glob(lb.path("slips.csv.torn-*"))
	must(t, err)
	if len(aside) != 1 {
		t.Errorf("set aside: %v", aside)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	must(t, os.WriteFile(file, nil, 0o600))
	newer := filepath.Join(dir, "newer")
	must(t, os.Mkdir(newer, 0o700))
	must(t, os.WriteFile(filepath.Join(newer, metaFile), []byte(`{"schema":99}`), 0o600))
	for _, tc := range []struct{ path, want string }{
		{filepath.Join(dir, "missing"), "the folder is missing"},
		{file, "is a file, not a folder"},
		{dir, "holds no logbook.json"},
		{newer, "schema 99"},
	} {
		if _, err := Open(tc.path, Options{}); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("Open(%s) = %v, want %q", tc.path, err, tc.want)
		}
	}
}

func TestRunJoinsSetupAndAir(t *testing.T) {
	lb := start(t)
	day := func(h, m int) Time { return Time{time.Date(2026, 5, 2, h, m, 0, 0, time.UTC)} }
	for _, s := range []*Setup{
		{Vehicle: "heron", From: day(8, 0), Name: "stock", PowerHP: units.Some(300)},
		{Vehicle: "heron", From: day(14, 10), Name: "bigger-carb", PowerHP: units.Some(320)},
	} {
		must(t, lb.AddSetup(s))
	}
	for _, r := range []struct {
		at   Time
		temp float64
	}{{day(14, 0), 80}, {day(15, 0), 84}} {
		must(t, lb.AddReading(&Reading{
			Time: r.at, Track: "saltgrass",
			Reading: weather.Reading{TempF: units.Some(r.temp), RHPct: units.Some(40), StationInHg: units.Some(29)},
		}))
	}
	nextDay := slipAt(14, 45, 13.2)
	nextDay.Time = Time{nextDay.Time.AddDate(0, 0, 1)}
	must(t, lb.AddSlips(slipAt(14, 5, 13.5), slipAt(14, 30, 13.3), slipAt(20, 0, 13.2), nextDay))
	runs, err := lb.Runs("heron")
	must(t, err)
	if runs[0].Setup.Name != "stock" || runs[1].Setup.Name != "bigger-carb" {
		t.Errorf("setups in force: %s, %s", runs[0].Setup.Name, runs[1].Setup.Name)
	}
	if a := runs[1].Air; !a.Known || math.Abs(a.Air.TempF-82) > 0.2 {
		t.Errorf("air at 14:30 = %+v, want 82 F half way between the readings", a)
	}
	if a := runs[2].Air; !a.Known || a.How.Minutes != 300 || a.DoubtFt < 3*runs[1].Air.DoubtFt {
		t.Errorf("five hours after the last reading the air is %+v, want it carried and wide", a)
	}
	if a := runs[3].Air; a.Known || a.How.Kind != weather.NotNear || a.DoubtFt < 1.5*runs[2].Air.DoubtFt {
		t.Errorf("a day after the readings the air is %+v, want it a guess", a)
	}
}
