package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
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

// corpusWant is what is truly in a notebook of testdata/notebooks, as make.py there wrote
// it: the runs were invented before the notebook was written out.
type corpusWant struct {
	File   string           `json:"file"`
	Args   []string         `json:"args"`
	Asks   string           `json:"asks"`
	Helped []string         `json:"helped"`
	Runs   []map[string]any `json:"runs"`
}

// quietApp is the program with its clock held after all runs of the notebooks.
func quietApp(out *bytes.Buffer) *app {
	n := 0
	return &app{
		in: strings.NewReader(""), out: out, errOut: out,
		now: func() time.Time { return time.Date(2026, 5, 2, 18, 0, 0, 0, time.UTC) },
		newID: func(kind byte) string {
			n++
			return fmt.Sprintf("%c%09d", kind, n)
		},
	}
}

// notebookLog makes a log with the vehicles and tracks of the corpus.
func notebookLog(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "log")
	for _, line := range []string{
		"init",
		"vehicle add heron --kind car",
		"vehicle add plover --kind motorcycle",
		"track add saltgrass --elevation 812ft --time-zone America/Chicago",
		"track add highmesa --title \"High Mesa\" --elevation 5120ft --time-zone America/Denver",
	} {
		if status, out := slipcaseLine(t, dir, line); status != 0 {
			t.Fatalf("%s: %s", line, out)
		}
	}
	return dir
}

func slipcaseLine(t *testing.T, dir, line string) (int, string) {
	t.Helper()
	words, err := splitWords(line)
	if err != nil {
		t.Fatal(err)
	}
	return slipcaseWords(dir, words...)
}

func slipcaseWords(dir string, words ...string) (int, string) {
	var out bytes.Buffer
	status := quietApp(&out).run(context.Background(), append(words, "--logbook", dir))
	return status, out.String()
}

// TestNotebooks: of 25 notebooks all are read without a wrong figure, and but for two,
// which ask, without help.
func TestNotebooks(t *testing.T) {
	paths, err := filepath.Glob("testdata/notebooks/*.json")
	if err != nil || len(paths) < 25 {
		t.Fatalf("%d notebooks: %v", len(paths), err)
	}
	helped := 0
	for i, path := range paths {
		if testing.Short() && i%6 != 0 {
			continue
		}
		var w corpusWant
		data, err := os.ReadFile(path)
		if err == nil {
			err = json.Unmarshal(data, &w)
		}
		if err != nil {
			t.Fatal(err)
		}
		if w.Asks != "" {
			helped++
		}
		if len(w.Helped) > len([]string{"--column", "C=et_1320"}) {
			t.Errorf("%s: %v: want one column told at most", w.File, w.Helped)
		}
		t.Run(w.File, func(t *testing.T) { readsNotebook(t, w) })
	}
	if helped > 3 {
		t.Errorf("%d notebooks need help: want 3 at most", helped)
	}
}

func readsNotebook(t *testing.T, w corpusWant) {
	dir := notebookLog(t)
	file := filepath.Join("testdata/notebooks", w.File)
	words := slices.Concat([]string{"import", file, "--go"}, w.Args)
	left := leftName(file)
	t.Cleanup(func() { os.Remove(left) })
	if w.Asks != "" {
		if status, out := slipcaseWords(dir, words...); status != exitUsage || slipCount(t, dir) != 0 {
			t.Errorf("without help: status %d, want the question: %s", status, out)
		}
	}
	status, out := slipcaseWords(dir, append(words, w.Helped...)...)
	if status != 0 {
		t.Fatalf("status %d: %s", status, out)
	}
	slips, readings := recordedIn(t, dir)
	if len(slips) != len(w.Runs) {
		t.Errorf("%d slips, want %d:\n%s", len(slips), len(w.Runs), out)
	}
	for _, want := range w.Runs {
		i := slices.IndexFunc(slips, func(s logbook.Slip) bool { return isRun(s, want) })
		if i < 0 {
			t.Errorf("no slip of %v\n%s", want, out)
			return
		}
		holdFigures(t, slips[i], readings, want)
		slips = slices.Delete(slips, i, i+1)
	}
	if again, out := slipcaseWords(dir, slices.Concat(words, w.Helped)...); again != 0 ||
		slipCount(t, dir) != len(w.Runs) {
		t.Errorf("the same file again: status %d, %d slips\n%s", again, slipCount(t, dir), out)
	}
}

func slipCount(t *testing.T, dir string) int {
	t.Helper()
	lb, err := logbook.Open(dir, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	slips, err := lb.Slips("")
	if err != nil {
		t.Fatal(err)
	}
	return len(slips)
}

// isRun tells a run by its 60 ft and 660 ft time, which no two have in common.
func isRun(s logbook.Slip, want map[string]any) bool {
	same := func(n units.Number, key string) bool {
		v, told := want[key].(float64)
		return !told || n.Known() && math.Abs(n.Value()-v) < 1e-9
	}
	return s.Vehicle == want["vehicle"] && same(s.ET60S, "et_60_s") && same(s.ET660S, "et_660_s")
}

// holdFigures wants every figure that is there, right, and no other.
func holdFigures(t *testing.T, s logbook.Slip, readings []logbook.Reading, want map[string]any) {
	t.Helper()
	var r logbook.Reading
	if i := slices.IndexFunc(readings, func(r logbook.Reading) bool {
		return r.Time.Equal(s.Time.Time) && r.Track == s.Track
	}); i >= 0 {
		r = readings[i]
	}
	got := map[string]units.Number{}
	for _, rec := range []any{s, r.Reading} {
		v := reflect.ValueOf(rec)
		for i := range v.NumField() {
			if n, is := v.Field(i).Interface().(units.Number); is && n.Known() {
				got[v.Type().Field(i).Tag.Get("csv")] = n
			}
		}
	}
	delete(got, "tree")
	for key, n := range got {
		v, told := want[key].(float64)
		within := 0.00051 // the digits that a notebook has
		if strings.HasSuffix(key, "_inhg") || strings.Contains(key, "mph") {
			within = 0.0051
		}
		switch extra := key == "dial_s" || key == "tyre_psi" || key == "launch_rpm" || key == "density_altitude_ft"; {
		case !told && !extra:
			t.Errorf("%s %v is recorded, but not in the notebook: %v", key, n, want)
		case told && math.Abs(n.Value()-v) > within:
			t.Errorf("%s %v recorded, %v in the notebook", key, n, v)
		}
	}
	for key, v := range want {
		if _, number := v.(float64); number && !got[key].Known() {
			t.Errorf("%s %v is lost: %v", key, v, want)
		}
	}
	if day := s.Time.Format(time.DateOnly); day != want["date"] {
		t.Errorf("run on %s, want %v", day, want["date"])
	}
	for key, text := range map[string]string{
		"track": s.Track, "lane": s.Lane, "round": s.Round,
		"time": s.Time.Format("15:04"),
	} {
		if v, told := want[key]; told && v != text {
			t.Errorf("%s %q, want %v", key, text, v)
		}
	}
}

// recordedIn are the slips and readings of a log.
func recordedIn(t *testing.T, dir string) ([]logbook.Slip, []logbook.Reading) {
	t.Helper()
	lb, err := logbook.Open(dir, logbook.Options{Now: quietApp(nil).now})
	if err != nil {
		t.Fatal(err)
	}
	slips, err := lb.Slips("")
	if err != nil {
		t.Fatal(err)
	}
	readings, err := lb.Readings("")
	if err != nil {
		t.Fatal(err)
	}
	return slips, readings
}
