package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// printedTruth is what is truly on a slip of testdata/printed.
type printedTruth struct {
	File  string             `json:"file"`
	Args  []string           `json:"args"`
	Lane  string             `json:"lane"`
	Date  string             `json:"date"`
	Time  string             `json:"time"`
	Own   map[string]float64 `json:"own"`
	Other map[string]float64 `json:"other"`
}

// figures are those that the log has of a slip.
func (w printedTruth) figures() map[string]float64 {
	all := map[string]float64{}
	for key, v := range w.Own {
		all[key] = v
	}
	for key, from := range map[string][]string{
		"opponent_reaction_s": {"reaction_s"}, "opponent_dial_s": {"dial_s"}, "opponent_et_s": {"et_1320_s", "et_660_s"},
		"opponent_mph": {"mph_1320", "mph_660"},
	} {
		if i := slices.IndexFunc(from, func(k string) bool { _, there := w.Other[k]; return there }); i >= 0 {
			all[key] = w.Other[from[i]]
		}
	}
	return all
}

// printedLog is a log of a car with the runs before.
func printedLog(t *testing.T, w printedTruth) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "log")
	perfect := ""
	if strings.HasPrefix(w.File, "apart") {
		perfect = " --perfect-reaction .5"
	}
	ran := ".042 1.912 5.437 8.412@83.77 10.980 13.212@105.84"
	if strings.HasPrefix(w.File, "single") {
		ran = ".042 1.585 4.510 6.980@100.80 9.110 10.960@127.50"
	}
	for _, line := range []string{
		"init",
		"vehicle add heron --kind car",
		"track add saltgrass --elevation 812ft" + perfect,
		"slip add --at 2026-05-02T10:25 " + ran,
	} {
		if status, out := slipcaseLine(t, dir, line); status != 0 {
			t.Fatalf("%s: %s", line, out)
		}
	}
	return dir
}

// TestPrintedSlips reads the 40 texts of testdata/printed without a terminal: of the clean ones
// every figure is recorded, of the others 95 in 100, and of none a wrong one.
func TestPrintedSlips(t *testing.T) {
	leftToFullRun(t) // the reader alone is tried beside it
	var all []printedTruth
	data, err := os.ReadFile("testdata/printed/truth.json")
	if err == nil {
		err = json.Unmarshal(data, &all)
	}
	if err != nil || len(all) < 40 {
		t.Fatalf("%d texts: %v", len(all), err)
	}
	right, of := 0, 0
	for _, w := range all {
		dir := printedLog(t, w)
		status, out := slipcaseWords(dir, append([]string{"slip", "read", filepath.Join("testdata/printed", w.File)}, w.Args...)...)
		s := lastSlip(t, dir)
		if status != 0 || s.Source != "printed" {
			t.Errorf("%s: status %d\n%s", w.File, status, out)
			continue
		}
		if at := s.Time.Format("2006-01-02 15:04"); at != w.Date+" "+w.Time || s.Lane != w.Lane {
			t.Errorf("%s: run at %s, %s", w.File, at, s.Lane)
		}
		clean := strings.HasSuffix(w.File, "-0.txt")
		got := numbersOf(s)
		want := w.figures()
		for key, v := range want {
			n := got[key]
			switch {
			case n.Known() && n.Value() != v:
				t.Errorf("%s: %s %v recorded, %v on the slip", w.File, key, n, v)
			case n.Known() && !clean:
				right++
			case !n.Known() && clean:
				t.Errorf("%s: %s %v is lost\n%s", w.File, key, v, out)
			}
			if !clean {
				of++
			}
		}
		for key, n := range got {
			if _, told := want[key]; !told {
				t.Errorf("%s: %s %v recorded, which the slip has not", w.File, key, n)
			}
		}
	}
	t.Logf("of misread slips %d of %d figures recorded", right, of)
	if right*100 < of*95 {
		t.Errorf("of misread slips %d of %d figures recorded: want 95 in 100", right, of)
	}
}

func lastSlip(t *testing.T, dir string) logbook.Slip {
	t.Helper()
	lb, err := logbook.Open(dir, logbook.Options{Now: func() time.Time { return quietApp(nil).now() }})
	if err != nil {
		t.Fatal(err)
	}
	slips, err := lb.Slips("")
	if err != nil || len(slips) == 0 {
		t.Fatalf("%d slips: %v", len(slips), err)
	}
	return slips[len(slips)-1]
}

// numbersOf are the figures of a record, by their columns.
func numbersOf(rec any) map[string]units.Number {
	got := map[string]units.Number{}
	v := reflect.ValueOf(rec)
	for i := range v.NumField() {
		if n, is := v.Field(i).Interface().(units.Number); is && n.Known() {
			got[v.Type().Field(i).Tag.Get("csv")] = n
		}
	}
	return got
}
