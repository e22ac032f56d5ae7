package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipcase/cmd/slipcase/internal/page"
)

// TestPictureJoinsNoTwoTracks: no line of the trend goes from a day to one at another track, each
// day's track is named, and what two such days show is not told as no wear.
func TestPictureJoinsNoTwoTracks(t *testing.T) {
	log := demoSeason(t)
	p := pictureOf(t, log, "trend")
	for _, panel := range p.Panels {
		for _, s := range panel.Series {
			if s.Shape == page.Line {
				t.Errorf("a line joins %v", s.Points)
			}
		}
	}
	if !strings.HasPrefix(p.Says[0], "Cannot tell yet: ") {
		t.Errorf("it says %q", p.Says[0])
	}
	t.Chdir(t.TempDir())
	runLine(t, "picture", "trend", "--vehicle", "heron", "--logbook", log)
	var all string
	for _, w := range readSVG(t, "trend.svg").texts {
		all += w.text + " "
	}
	for _, words := range []string{"May 2 Saltgrass", "Jun 13 High Mesa", "Aug 8 Saltgrass"} {
		if !strings.Contains(all, words) {
			t.Errorf("%q does not stand in it", words)
		}
	}
}

// TestPictureOfAirSaysHowTheDayLay: the median of how far the last day's runs lie off the line is
// what the words say.
func TestPictureOfAirSaysHowTheDayLay(t *testing.T) {
	p := pictureOf(t, demoSeason(t), "air")
	type at struct{ x, y float64 }
	var line, dots []at
	for _, s := range p.Panels[0].Series {
		for _, spot := range s.Points {
			switch s.Shape {
			case page.Line:
				line = append(line, at{spot.X.(float64), spot.Y})
			case page.Dot: // all of one day
				dots = append(dots, at{spot.X.(float64), spot.Y})
			}
		}
	}
	var off []float64
	for _, d := range dots {
		for i, b := range line[1:] {
			if a := line[i]; (d.x-a.x)*(d.x-b.x) <= 0 {
				off = append(off, d.y-a.y-(b.y-a.y)*(d.x-a.x)/(b.x-a.x))
				break
			}
		}
	}
	want := fmt.Sprintf("Aug 8 ran %s quicker than it", thousandths(medianOf(off)))
	if medianOf(off) >= 0 || !strings.Contains(p.said(), want) {
		t.Errorf("it says %q: want %q of %v", p.Says, want, off)
	}
}

// TestPictureTellsWhatElseChanged: an own column that changed with the setup, or with the lane, is
// named; one with a value in common is not. Ranges are of 8 in 10.
func TestPictureTellsWhatElseChanged(t *testing.T) {
	log := demoSeason(t)
	lines := [][]string{{"column", "add", "jets", "--kind", "number"}, {"column", "add", "plug", "--kind", "number"}}
	for i, run := range pictureOf(t, log, "change").Panels[0].Series[0].Points {
		own := "jets=70; plug=7"
		if run.X == "bigger-carb" {
			own = fmt.Sprintf("jets=%d; plug=%d", 74+2*(i%2), 7+i%2)
		}
		lines = append(lines, []string{"slip", "amend", run.ID, "--own", own, "--force"})
	}
	for _, line := range lines {
		if status, _, said := runLine(t, append(line, "--logbook", log)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	p := pictureOf(t, log, "change")
	if said := p.said(); !strings.Contains(said, "jets 70, then 74, 76") || strings.Contains(said, "plug") ||
		!strings.Contains(said, "8 of 10 in ") || strings.Contains(said, "95") {
		t.Errorf("it says %q", said)
	}
}

// TestPictureOfSplitsAddsUpToTheSlip: the crosses of a run that was let go add up to what the
// picture of forecasts has it late by.
func TestPictureOfSplitsAddsUpToTheSlip(t *testing.T) {
	log := demoSeason(t)
	sums, held := map[string]float64{}, 0
	p := pictureOf(t, log, "splits")
	for _, panel := range p.Panels {
		for _, s := range panel.Series {
			for _, at := range s.Points {
				if s.Shape == page.Cross || s.Shape == page.Edge {
					sums[at.ID] += at.Y
				}
			}
		}
	}
	for _, s := range pictureOf(t, log, "forecasts").Panels[0].Series {
		for _, at := range s.Points {
			if s.Shape == page.Cross || s.Shape == page.Edge {
				if held++; math.Abs(sums[at.ID]-at.Y) > 0.002 {
					t.Errorf("%s: its parts add up to %+.3f, its slip is %+.3f", at.ID, sums[at.ID], at.Y)
				}
			}
		}
	}
	if held != 3 {
		t.Errorf("%d runs that do not count", held)
	}
}

// TestPictureOfTwoTurnsWhereItTurns: what is said of before and after adds up, and the place is
// the one farthest from the end; the usual scatter stands beside it.
func TestPictureOfTwoTurnsWhereItTurns(t *testing.T) {
	p := pictureOf(t, demoSeason(t), "two", "last", "last-2")
	at := map[float64]float64{}
	for _, shape := range []page.Shape{page.Dot, page.Up} {
		for x, v := range p.values(0, shape) {
			at[x.(float64)] = v[0]
		}
	}
	turn, most := 0., -1.
	for ft, v := range at {
		if far := math.Abs(v - at[1320]); far > most {
			turn, most = ft, far
		}
	}
	want := fmt.Sprintf("%s quicker by %.0f ft, %s slower from there on.", thousandths(at[turn]), turn, thousandths(most))
	if !strings.HasSuffix(p.Says[0], want) || !strings.Contains(p.said(), "Usual scatter: half of its runs lie more than .0") {
		t.Errorf("it says %q: want %q", p.Says, want)
	}
}

// TestPictureOfLightsTellsPracticeByShape: hollow marks are those of time trials alone, and the
// spread of a lane is that of its marks.
func TestPictureOfLightsTellsPracticeByShape(t *testing.T) {
	log := demoSeason(t)
	p := pictureOf(t, log, "reaction")
	_, text, _ := runLine(t, "slip", "list", "--vehicle", "heron", "--last", "0", "--format", "json", "--logbook", log)
	var list []struct{ Slip struct{ ID, Round string } }
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		t.Fatal(err, text)
	}
	round := map[string]string{}
	for _, run := range list {
		round[run.Slip.ID] = run.Slip.Round
	}
	var spans []string
	for i, panel := range p.Panels {
		var all []float64
		for _, s := range panel.Series {
			for _, at := range s.Points {
				all = append(all, at.Y)
				if raced := strings.HasPrefix(round[at.ID], "E"); raced == (s.Shape == page.Ring) {
					t.Errorf("%s, %q, is a %s", at.ID, round[at.ID], s.Shape)
				}
			}
		}
		slices.Sort(all)
		n := len(all)
		lane := []string{"left", "right"}[i]
		spans = append(spans, fmt.Sprintf("%s %s to %s", lane, thousandths(all[n/4]), thousandths(all[n-1-n/4])))
	}
	if want := "The middle half of them: " + strings.Join(spans, ", ") + "."; !strings.Contains(p.said(), want) {
		t.Errorf("it says %q: want %q", p.Says, want)
	}
}

// TestPictureHidesNoEqualMarks: marks at one place of a column are drawn side by side.
func TestPictureHidesNoEqualMarks(t *testing.T) {
	log := demoSeason(t)
	runs := pictureOf(t, log, "change").Panels[0].Series[0].Points
	lines := [][]string{{"column", "add", "jets", "--kind", "number"}}
	for i, run := range runs {
		lines = append(lines, []string{"slip", "amend", run.ID, "--own", fmt.Sprint("jets=", 70+2*(i/9)), "--force"})
	}
	for _, line := range lines {
		if status, _, said := runLine(t, append(line, "--logbook", log)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	t.Chdir(t.TempDir())
	if status, _, said := runLine(t, "picture", "against", "jets", "--vehicle", "heron", "--logbook", log); status != exitDone {
		t.Fatal(said)
	}
	svg := readSVG(t, "against.svg")
	_, _, frames := svg.axes(t, func(label string) (float64, bool) {
		v, err := strconv.ParseFloat(label, 64)
		return v, err == nil
	})
	marks := append(svg.marks(page.Dot, frames[0]), svg.marks(page.Ring, frames[0])...)
	if len(marks) != len(runs) {
		t.Errorf("%d marks, of %d runs", len(marks), len(runs))
	}
	for i, a := range marks {
		for _, b := range marks[:i] {
			x, y := a.middle()
			v, w := b.middle()
			if math.Hypot(x-v, y-w) < 3 {
				t.Errorf("a mark at %.0f, %.0f lies over one at %.0f, %.0f", x, y, v, w)
			}
		}
	}
}

// TestReportCostsWhatTheAirShows: what 1,000 ft cost is said in the same words in both.
func TestReportCostsWhatTheAirShows(t *testing.T) {
	log, file := demoSeason(t), filepath.Join(t.TempDir(), "report.html")
	if status, _, said := runLine(t, "report", "--vehicle", "heron", "-o", file, "--logbook", log); status != exitDone {
		t.Fatal(said)
	}
	written, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, words := range pictureOf(t, log, "air").Says[:2] {
		if !strings.Contains(string(written), `<p class="say">`+words) {
			t.Errorf("the report does not say %q", words)
		}
	}
}
