package logbook

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// A season with one of each thing that can be wrong, every one on its own line.
func TestCheckNamesEachWrong(t *testing.T) {
	lb := start(t)
	day := time.Date(2026, 5, 2, 9, 0, 0, 0, time.UTC)
	must(t, lb.AddSetup(&Setup{Vehicle: "heron", From: Time{day}}))
	must(t, lb.AddReading(&Reading{
		Time: Time{day.Add(5 * time.Hour)}, Track: "saltgrass",
		Reading: weather.Reading{TempF: units.Some(80), RHPct: units.Some(40), StationInHg: units.Some(29)},
	}))
	must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: "kestrel"}, Kind: "motorcycle", Aspiration: "natural"}))
	must(t, lb.AddSetup(&Setup{Vehicle: "kestrel", From: Time{day}, Name: "kestrels"}))
	must(t, lb.AddSlips(slipAt(14, 0, 13.5), slipAt(14, 10, 13.4), slipAt(14, 20, 13.3)))
	noneGrave(t, lb)
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	lines := strings.SplitAfter(string(data), "\n")
	lines[1] = strings.Replace(lines[1], "13.5", "13.50", 1) // as a spreadsheet writes numbers
	lines[2] = strings.Replace(lines[2], "13.4", "13.45", 1)
	lines[3] = strings.Replace(lines[3], "13.3", "13.z", 1)
	head := strings.Split(strings.TrimSpace(lines[0]), ",")
	row := func(cells ...string) string {
		out := make([]string, len(head))
		for i := 0; i < len(cells); i += 2 {
			for at, name := range head {
				if name == cells[i] {
					out[at] = cells[i+1]
				}
			}
		}
		return strings.Join(out, ",") + "\n"
	}
	at := func(hhmm string) string { return "2026-05-02T" + hhmm + ":00Z" }
	mine := func(id, time string, more ...string) string {
		return row(
			append(
				[]string{
					"id",
					id,
					"rev",
					"1",
					"status",
					"fact",
					"time",
					time,
					"vehicle",
					"heron",
					"track",
					"saltgrass",
					"et_1320_s",
					"13.2",
				},
				more...)...)
	}
	lines = append(lines[:4],
		mine("sfive", at("14:30"), "vehicle", "heronn"),
		mine("ssix", at("14:31"), "setup", "u999"),
		mine("sseven", at("14:32"), "setup", "u000000003"), // the kestrel's
		mine("seight", at("14:33"), "track", "nowhere"),
		mine("snine", at("14:34"), "air", "a999"),
		mine("sten", "2026-05-01T14:00:00Z"),
		mine("seleven", at("14:36"), "et_60_s", "1.9", "et_330_s", "1.8"),
		mine("stwelve", at("14:36")),
		mine("sten", "2026-05-01T14:00:00Z", "et_1320_s", "13.9"),
		row("id", "s14", "rev", "x"),
		mine("s15", at("15:00"))[:30],
	)
	must(t, os.WriteFile(lb.path(slips.file), []byte(strings.Join(lines, "")), 0o600))
	found, err := lb.Check()
	must(t, err)
	var got []string
	for _, f := range found {
		got = append(got, fmt.Sprintf("%d %s %v %s", f.Line, f.Kind, f.Grave, f.What))
	}
	for _, want := range []string{
		"0 lost true revision 1, recorded",
		`3 changed false et_1320_s was recorded as "13.4" and is "13.45"`,
		`4 unreadable true column et_1320_s: "13.z" is not a plain number`,
		`5 unknown true vehicle "heronn" is not in the logbook`,
		"5 no setup false",
		`6 unknown true setup "u999" is not in the logbook`,
		"7 unknown true setup u000000003 is of the vehicle kestrel",
		`8 unknown true track "nowhere" is not in the logbook`,
		"8 no air false",
		`9 unknown true air "a999" is not in the logbook`,
		"11 impossible true 330 ft 1.8 is not later than 60 ft 1.9",
		"12 twice true heron ran at 2026-05-02 14:36:00 on line 11 already",
		"13 conflict true revision 1 is on line 10 too and differs in et_1320_s",
		"14 unreadable true column rev",
		"15 torn true",
	} {
		n := 0
		for _, g := range got {
			if strings.HasPrefix(g, want) {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%q is there %d times", want, n)
		}
	}
	for _, g := range got {
		if strings.HasPrefix(g, "2 ") {
			t.Errorf("13.50 for 13.5 is no change: %s", g)
		}
	}
	if t.Failed() {
		t.Log(strings.Join(got, "\n"))
	}
	// The repair brings back the row with a cell that cannot be read, and leaves
	// what only the racer can settle.
	repair(t, lb)
	if s, err := lb.Slip("s000000006"); err != nil || s.ET1320S != units.Some(13.3) {
		t.Errorf("repaired slip: %v, %v", s.ET1320S, err)
	}
	for _, f := range grave(t, lb) {
		if f.Kind == Lost || f.Kind == Torn {
			t.Errorf("after the repair: %s", f)
		}
	}
	if again := repair(t, lb); len(again) != 0 {
		t.Errorf("a second repair does %v", again)
	}
}

func TestStrictStopsAtTheFirst(t *testing.T) {
	lb := start(t)
	must(t, lb.AddSlips(slipAt(14, 0, 13.5), slipAt(14, 10, 13.4)))
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	must(t, os.WriteFile(lb.path(slips.file), []byte(strings.Replace(string(data), "13.5", "13.x", 1)), 0o600))
	if got, err := lb.Slips(""); err != nil || len(got) != 1 {
		t.Errorf("not strict: %d slips, %v", len(got), err)
	}
	strict, err := Open(lb.Dir(), Options{Strict: true})
	must(t, err)
	if _, err := strict.Slips(""); err == nil || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("strict: %v, want the line", err)
	}
}

// A damaged line counts against its entry until a row makes it good that cannot be
// older than it.
func TestWhatMakesADamagedLineGood(t *testing.T) {
	const head = "id,rev,status,recorded_at,forced,vehicle,time,et_1320_s,notes\n"
	good := func(rev int) string {
		return fmt.Sprintf("s1,%d,fact,,,heron,2026-05-02T14:25:00Z,13.%d,\n", rev, rev)
	}
	bad := func(rev string) string { return "s1," + rev + ",fact,,,heron,2026-05-02T14:25:00Z,13.5,\x00\n" }
	for _, tc := range []struct {
		rows  string
		shown int // the revision shown, 0 for none
	}{
		{good(1) + bad("2"), 0},
		{good(1) + bad("2") + good(2), 2},
		{good(1) + bad("2") + good(3), 3},
		{good(2) + bad("1"), 2},
		{good(1) + bad("2") + good(1), 0},
		{good(1) + bad("x"), 0},
		{good(1) + bad("x") + good(1), 0},
		{good(1) + bad("x") + good(2), 2},
		{bad("x") + good(1), 1},
	} {
		lb := start(t)
		must(t, os.WriteFile(lb.path(slips.file), []byte(head+tc.rows+"s2,1,fact,,,heron,2026-05-02T14:00:00Z,13,\n"), 0o600))
		all, err := lb.Slips("")
		must(t, err)
		shown := 0
		for _, s := range all {
			if s.ID == "s1" {
				shown = s.Rev
			}
		}
		if shown != tc.shown {
			t.Errorf("%q: revision %d is shown, want %d", tc.rows, shown, tc.shown)
		}
	}
}
