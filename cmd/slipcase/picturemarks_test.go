package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/picture"
)

// manyOf is what else a kind of picture is of in TestPictureOfManyRuns.
var manyOf = map[string][]string{
	"two": {"last", "last-1"}, "against": {"et_60_s"}, "dyno": {"pull"}, "day": {"2024-03-01"},
}

// TestPictureOfManyRuns: a picture of 1,000 runs, of 3,000 at full size, has at most 300 marks,
// whatever its kind, and is drawn.
func TestPictureOfManyRuns(t *testing.T) {
	leftToFullRun(t)
	dir := t.TempDir()
	log, sheet := filepath.Join(dir, "log"), filepath.Join(dir, "pull.csv")
	runs, second := 1000, "2024-10-20" // the second setup is that of the newest
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		runs, second = 3000, "2026-03-01"
	}
	manyRuns(t, log, runs)
	rows := "rpm,power hp\n"
	for rpm := 2500; rpm < 6500; rpm += 5 {
		rows += fmt.Sprintf("%d,%d\n", rpm, 100+rpm/25)
	}
	if err := os.WriteFile(sheet, []byte(rows), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, line := range [][]string{
		{
			"setup", "add", "--from", second, "--name", "second", "--weight", "3400", "--power", "330",
			"--power-at", "wheels", "--standard", "sae",
		},
		{"power", "add", "pull", "--sheet", sheet, "--power-at", "wheels", "--standard", "sae"},
		{"plan", "add", "headers", "--gain", "8/12/18hp", "--cost", "450"},
	} {
		if status, _, said := runLine(t, append(line, "--logbook", log)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	for _, kind := range picture.Kinds {
		line := append([]string{"picture", kind.Name}, manyOf[kind.Name]...)
		line = append(line, "--logbook", log, "-o", filepath.Join(dir, kind.Name+".svg"))
		status, _, said := runLine(t, line...)
		if status != exitDone {
			t.Errorf("%s: %s", kind.Name, said)
			continue
		}
		if _, err := os.Stat(filepath.Join(dir, kind.Name+".svg")); err != nil {
			t.Errorf("%s is not drawn: %v", kind.Name, err)
		}
		_, text, _ := runLine(t, append(line, "--format", "json")...)
		var told chartRead
		if err := json.Unmarshal([]byte(text), &told); err != nil {
			t.Fatal(err)
		}
		marks := 0
		for _, p := range told.Panels {
			for _, s := range p.Series {
				if !strings.Contains(string(s.Shape), "line") && s.Shape != page.Between {
					marks += len(s.Points)
				}
			}
		}
		t.Logf("%s: %d marks", kind.Name, marks)
		if marks == 0 && kind.Name != "dyno" || marks > page.MostMarks {
			t.Errorf("%s has %d marks: want 1 to %d", kind.Name, marks, page.MostMarks)
		}
	}
}

// TestAirPictureSaysItsLines: whoever lays a ruler along the lines of the picture of the air
// finds the figures that it says, over tracks of two heights too.
func TestAirPictureSaysItsLines(t *testing.T) {
	leftToFullRun(t)
	_, text, said := runLine(t, "picture", "air", "--vehicle", "heron", "--format", "json", "--logbook", demoSeason(t))
	var told struct {
		Says   []string
		Panels []struct {
			Series []struct {
				Shape  page.Shape
				Points []struct{ X, Y float64 }
			}
		}
	}
	if err := json.Unmarshal([]byte(text), &told); err != nil {
		t.Fatal(err, said)
	}
	steep := map[page.Shape]string{}
	for _, s := range told.Panels[0].Series {
		a, b := s.Points[0], s.Points[len(s.Points)-1]
		steep[s.Shape] = strings.TrimPrefix(fmt.Sprintf("%.2f", 1000*(b.Y-a.Y)/(b.X-a.X)), "0")
	}
	want := fmt.Sprintf("1,000 ft costs Heron %s; formula %s.", steep[page.Line], steep[page.Dashes])
	if !strings.HasSuffix(told.Says[0], want) || !strings.HasPrefix(told.Says[1], "By heat alone .") {
		t.Errorf("the picture says %q, its lines: %s", told.Says, want)
	}
}

// TestEveryPictureInBrowser looks at every kind of picture as it is written to a file: a page of
// them in all widths, and no label over another.
func TestEveryPictureInBrowser(t *testing.T) {
	leftToFullRun(t)
	dir, log := t.TempDir(), demoSeason(t)
	rows := "rpm,power hp\n"
	for rpm := 3000; rpm < 6300; rpm += 200 {
		rows += fmt.Sprintf("%d,%d\n", rpm, 100+rpm/25)
	}
	sheet := filepath.Join(dir, "pull.csv")
	if err := os.WriteFile(sheet, []byte(rows), 0o600); err != nil {
		t.Fatal(err)
	}
	power := []string{"--power-at", "wheels", "--standard", "sae", "--vehicle", "heron"}
	lines := [][]string{
		{"column", "add", "jets", "--kind", "number"},
		append([]string{"power", "add", "pull", "--sheet", sheet}, power...),
		append([]string{"power", "add", "peak", "--peak", "330hp@5900rpm"}, power...),
	}
	for i, dial := range []string{"12.50", "12.60", "12.57", "12.56"} {
		lines = append(lines, []string{
			"slip", "amend", fmt.Sprintf("last-%d", 2*i), "--own", fmt.Sprint("jets=", 70+i), "--dial", dial, "--force",
			"--opponent-dial", "11.10", "--opponent-et", []string{"11.12", "11.08"}[i%2], "--opponent-reaction", ".04",
		})
	}
	for _, line := range lines {
		if status, _, said := runLine(t, append(line, "--logbook", log)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	of := map[string][]string{"two": {"last", "last-4"}, "against": {"jets"}, "dyno": {"pull", "peak"}}
	html := `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>Pictures</title>` +
		`<meta name="viewport" content="width=device-width, initial-scale=1">` +
		`<style>body{margin:8px}svg{max-width:100%;height:auto}</style></head><body><main><h1>Pictures</h1>`
	for _, kind := range picture.Kinds {
		file := filepath.Join(dir, kind.Name+".svg")
		line := append([]string{"picture", kind.Name}, of[kind.Name]...)
		line = append(line, "--vehicle", "heron", "-o", file, "--logbook", log)
		if status, _, said := runLine(t, line...); status != exitDone {
			t.Fatal(line, said)
		}
		svg, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("%s is not drawn: %v", kind.Name, err)
		}
		html += string(svg)
	}
	file := filepath.Join(dir, "pictures.html")
	if err := os.WriteFile(file, []byte(html+"</main></body></html>"), 0o600); err != nil {
		t.Fatal(err)
	}
	lookAt(t, file)
}

// TestMarksStandInTheirFrame: both lanes of the first and of the last round are drawn within
// the frame, however few rounds there are; and figures that lie close together are spread over it.
func TestMarksStandInTheirFrame(t *testing.T) {
	log := demoSeason(t)
	t.Chdir(t.TempDir())
	_, list, _ := runLine(t, "slip", "list", "--vehicle", "heron", "--last", "0", "--format", "csv", "--logbook", log)
	var ids []string
	for _, row := range strings.Split(strings.TrimSpace(list), "\n")[1:] {
		id, _, _ := strings.Cut(row, ",")
		ids = append(ids, id)
	}
	n := len(ids)
	for id, dial := range map[string]string{ids[3]: "12.80", ids[4]: "12.80", ids[n-2]: "12.56", ids[n-1]: "12.56"} {
		status, _, said := runLine(t, "slip", "amend", id, "--dial", dial, "--opponent-dial", "11.10", "--opponent-et", "11.12",
			"--opponent-reaction", ".04", "--force", "--logbook", log)
		if status != exitDone {
			t.Fatal(said)
		}
	}
	drawnAs := func(across map[string]float64, of ...string) (d drawn, frames []drawnPath) {
		t.Helper()
		line := append([]string{"picture"}, of...)
		if status, _, said := runLine(t, append(line, "--vehicle", "heron", "--logbook", log)...); status != exitDone {
			t.Fatal(said)
		}
		d = readSVG(t, of[0]+".svg")
		_, _, frames = d.axes(t, func(label string) (float64, bool) {
			if v, err := strconv.ParseFloat(label, 64); err == nil {
				return v, true
			}
			v, is := across[label]
			return v, is
		})
		return d, frames
	}
	const right = 340 // of a drawing
	d, frames := drawnAs(map[string]float64{"May 2": 1, "Aug 8": 3}, "rounds")
	for i, f := range frames {
		marks := 0
		for _, shape := range []page.Shape{page.Dot, page.Ring, page.Up, page.Down, page.Cross} {
			for _, p := range d.marks(shape, f) {
				if x, _ := p.middle(); x < right {
					marks++
				}
			}
		}
		for _, p := range d.paths { // squares
			if n := len(p.points); n == 4 && p.maxX-p.minX < 7 && p.maxY-p.minY < 7 && p.minX > f.minX && p.maxX < right &&
				p.minY > f.minY-5 && p.maxY < f.maxY+5 && !strings.Contains(p.style, "fill:none") {
				marks++
			}
		}
		if marks != 8 {
			t.Errorf("panel %d of rounds: %d marks stand in the frame, of 8", i, marks)
		}
	}
	for i, jet := range []string{".1", ".2", ".1", ".2"} {
		if i == 0 {
			runLine(t, "column", "add", "jets", "--kind", "number", "--logbook", log)
		}
		if status, _, said := runLine(t, "slip", "amend", ids[n-1-i], "--own", "jets="+jet, "--force", "--logbook", log); status != exitDone {
			t.Fatal(said)
		}
	}
	for _, column := range []string{"et_60_s", "jets"} { // of many values, and of few small ones
		d, frames = drawnAs(nil, "against", column)
		least, most := math.Inf(1), math.Inf(-1)
		for _, shape := range []page.Shape{page.Dot, page.Ring} {
			for _, p := range d.marks(shape, frames[0]) {
				x, _ := p.middle()
				least, most = math.Min(least, x), math.Max(most, x)
			}
		}
		if wide := right - frames[0].minX; most-least < 0.7*wide {
			t.Errorf("%s is drawn over %.0f of %.0f", column, most-least, wide)
		}
		os.Remove("against.svg")
	}
}
