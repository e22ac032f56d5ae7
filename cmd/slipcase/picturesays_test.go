package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"slipcase/cmd/slipcase/internal/page"
)

// pictured is a picture as its JSON has it.
type pictured struct {
	Title  string
	Says   []string
	Panels []struct {
		Y      string `json:"y_is"`
		Series []struct {
			Name   string
			Shape  page.Shape
			Points []struct {
				X         any
				Y         float64
				Low, High float64
				ID        string
			}
		}
	}
}

// said is the whole of what it says.
func (p *pictured) said() string { return strings.Join(p.Says, " ") }

// values are the heights of the points of a shape in a panel, by the name of their place.
func (p *pictured) values(panel int, shape page.Shape) map[any][]float64 {
	out := map[any][]float64{}
	for _, s := range p.Panels[panel].Series {
		for _, at := range s.Points {
			if s.Shape == shape {
				out[at.X] = append(out[at.X], at.Y)
			}
		}
	}
	return out
}

// pictureOf is a picture of the car of the invented season.
func pictureOf(t *testing.T, log string, of ...string) pictured {
	t.Helper()
	line := append([]string{"picture"}, of...)
	_, text, said := runLine(t, append(line, "--vehicle", "heron", "--format", "json", "--logbook", log)...)
	var p pictured
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		t.Fatal(of, err, said)
	}
	return p
}

// medianOf is the median, found here by counting how many lie on either side.
func medianOf(all []float64) float64 {
	var low, high []float64
	for _, v := range all {
		under, over := 0, 0
		for _, w := range all {
			if w < v {
				under++
			}
			if w > v {
				over++
			}
		}
		if 2*under <= len(all) && 2*over <= len(all) {
			low, high = append(low, v), append(high, v)
		}
	}
	return (slices.Min(low) + slices.Max(high)) / 2
}

func thousandths(s float64) string { return strings.TrimPrefix(fmt.Sprintf("%.3f", math.Abs(s)), "0") }

// TestPictureSaysWhatItShows: whoever lays a ruler to a picture of the invented season finds
// the figures that it says.
func TestPictureSaysWhatItShows(t *testing.T) {
	log := demoSeason(t)
	want := func(p pictured, words string) {
		t.Helper()
		if !strings.Contains(p.said(), words) {
			t.Errorf("%s says %q: want %q", p.Title, p.Says, words)
		}
	}

	change := pictureOf(t, log, "change")
	runs, bars := change.values(0, page.Ring), change.values(0, page.Bar)
	for _, setup := range []string{"stock", "bigger-carb"} {
		if m := medianOf(runs[setup]); len(bars[setup]) != 1 || math.Abs(bars[setup][0]-m) > 1e-4 {
			t.Errorf("%s: a bar at %v, the runs' median is %.4f", setup, bars[setup], m)
		}
	}
	want(change, "Medians here "+thousandths(bars["stock"][0]-bars["bigger-carb"][0])+" apart")
	told := regexp.MustCompile(`by (\.\d+) in the same air`).FindStringSubmatch(change.said())
	want(change, "the "+told[1]+" weighs the luck of the days")

	trend := pictureOf(t, log, "trend")
	days, first := trend.values(1, page.Dot), map[string]float64{}
	for at, v := range days {
		first[at.(string)[:len("2026-05-02")]] = v[0]
	}
	step, way := first["2026-06-13"]-first["2026-05-02"], "slower"
	if step < 0 {
		way = "quicker"
	}
	want(trend, "Stock: "+thousandths(step)+" "+way)
	want(trend, "Bigger-carb: one day only, too early to tell.")

	lights := pictureOf(t, log, "reaction")
	for i, lane := range []string{"Left", "Right"} {
		var all []float64
		for _, shape := range []page.Shape{page.Dot, page.Ring} { // rounds, and time trials
			for _, v := range lights.values(i, shape) {
				all = append(all, v...)
			}
		}
		want(lights, fmt.Sprintf("%s lane: half under %s, all in %s to %s.", lane,
			thousandths(medianOf(all)), thousandths(slices.Min(all)), thousandths(slices.Max(all))))
	}
}

// TestPictureOfForecastsHasLiftedRunsAsTheirSlips: a run that was let go stands as late as its slip
// is over the forecast at the finish.
func TestPictureOfForecastsHasLiftedRunsAsTheirSlips(t *testing.T) {
	log := demoSeason(t)
	_, text, _ := runLine(t, "slip", "list", "--vehicle", "heron", "--last", "0", "--format", "json", "--logbook", log)
	type finish struct {
		ID   string
		Full string  `json:"full_power"`
		ET   float64 `json:"et_1320_s"`
	}
	var list []struct{ Slip finish }
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		t.Fatal(err, text)
	}
	p, lifted := pictureOf(t, log, "forecasts"), 0
	crosses := map[string]float64{}
	for _, series := range p.Panels[0].Series {
		for _, at := range series.Points {
			if series.Shape == page.Cross {
				crosses[at.ID] = at.Y
			}
		}
	}
	for _, run := range list {
		late, drawn := crosses[run.Slip.ID]
		if !drawn || run.Slip.Full != "lifted" {
			continue
		}
		_, text, _ := runLine(t, "slip", "show", run.Slip.ID, "--format", "json", "--logbook", log)
		var shown struct{ Forecast finish }
		if err := json.Unmarshal([]byte(text), &shown); err != nil {
			t.Fatal(err, text)
		}
		if lifted++; math.Abs(late-(run.Slip.ET-shown.Forecast.ET)) > 0.0011 {
			t.Errorf("%s stands at %+.3f: its slip is %.3f, its forecast %.3f", run.Slip.ID, late, run.Slip.ET, shown.Forecast.ET)
		}
	}
	if lifted == 0 {
		t.Error("no lifted run is drawn")
	}
}

// TestPictureOfTwoNamesTheSign: the run named first in the title is the one that the curve is
// of, above 0 where it was the later one at that distance.
func TestPictureOfTwoNamesTheSign(t *testing.T) {
	log := demoSeason(t)
	et := func(ref string) (s struct {
		Round string
		ET    float64 `json:"et_1320_s"`
	},
	) {
		_, text, _ := runLine(t, "slip", "show", ref, "--format", "json", "--logbook", log)
		var shown struct{ Slip json.RawMessage }
		if json.Unmarshal([]byte(text), &shown); shown.Slip == nil {
			shown.Slip = json.RawMessage(text)
		}
		if err := json.Unmarshal(shown.Slip, &s); err != nil || s.ET == 0 {
			t.Fatal(err, text)
		}
		return s
	}
	a, b := et("last"), et("last-2")
	p := pictureOf(t, log, "two", "last", "last-2")
	for i, words := range []string{b.Round, a.Round} {
		if at := strings.Index(p.Title, " "+words); at < 0 || i == 0 && at > strings.Index(p.Title, "against") {
			t.Errorf("the title is %q: want %s against %s", p.Title, b.Round, a.Round)
		}
	}
	way := "slower"
	if b.ET < a.ET {
		way = "quicker"
	}
	want := fmt.Sprintf("%s is %s %s at 1320 ft", b.Round, thousandths(b.ET-a.ET), way)
	if !strings.HasPrefix(p.Says[0], want) {
		t.Errorf("it says %q: want %q", p.Says[0], want)
	}
	shape := page.Up
	if b.ET < a.ET {
		shape = page.Dot
	}
	if at := p.values(0, shape)[1320.]; len(at) != 1 || math.Abs(at[0]-(b.ET-a.ET)) > 1e-9 {
		t.Errorf("at 1320 ft it shows %v: want %.3f", at, b.ET-a.ET)
	}
}

// TestPictureOfPlanTellsThePrice: a tenth costs what the ranking says it costs.
func TestPictureOfPlanTellsThePrice(t *testing.T) {
	log := demoSeason(t)
	_, text, _ := runLine(t, "plan", "rank", "--vehicle", "heron", "--track", "saltgrass", "--format", "json", "--logbook", log)
	var ranking struct {
		Ranked []struct {
			Name     string
			PerTenth *struct{ Likely float64 } `json:"cost_per_tenth"`
		}
	}
	if err := json.Unmarshal([]byte(text), &ranking); err != nil || len(ranking.Ranked) < 3 {
		t.Fatal(err, text)
	}
	slices.SortFunc(ranking.Ranked, func(a, b struct {
		Name     string
		PerTenth *struct{ Likely float64 } `json:"cost_per_tenth"`
	},
	) int {
		return cmp.Compare(a.PerTenth.Likely, b.PerTenth.Likely)
	})
	p := pictureOf(t, log, "plan")
	from := 0
	for _, w := range ranking.Ranked {
		dollars := fmt.Sprintf("%s $%.0f", w.Name, w.PerTenth.Likely)
		if w.PerTenth.Likely == 0 {
			dollars = w.Name + " free (."
		}
		said := strings.ReplaceAll(p.Says[1], ",", "")
		at := strings.Index(said, dollars)
		if at < from {
			t.Errorf("it says %q: want %q, the least first", p.Says[1], dollars)
		}
		from = at
	}
}

// TestPictureOfDayForecastsWhatIsToCome: what is forecast lies after all that was read and run,
// its air is drawn too, and a run that does not count stands at the edge with its figure.
func TestPictureOfDayForecastsWhatIsToCome(t *testing.T) {
	log := demoSeason(t)
	p := pictureOf(t, log, "day")
	latest, ahead := "", map[int][]string{}
	for i, panel := range p.Panels {
		for _, s := range panel.Series {
			for _, at := range s.Points {
				if s.Shape == page.Ring {
					ahead[i] = append(ahead[i], at.X.(string))
				} else if s.Shape != page.Whiskers {
					latest = max(latest, at.X.(string))
				}
			}
		}
	}
	if len(ahead[0]) != 3 || !slices.Equal(ahead[0], ahead[1]) || slices.Min(ahead[1]) < latest {
		t.Errorf("forecast at %v, the air at %v: want three after %s", ahead[1], ahead[0], latest)
	}
	edge := p.values(1, page.Edge)
	if len(edge) != 1 {
		t.Fatalf("at the edge: %v", edge)
	}
	dots := p.values(1, page.Dot)
	for at, v := range edge {
		for _, run := range dots {
			if v[0] < run[0] {
				t.Errorf("%v at the edge is no slower than %v", v, run)
			}
		}
		t.Chdir(t.TempDir())
		runLine(t, "picture", "day", "--vehicle", "heron", "--logbook", log)
		svg := readSVG(t, "day.svg")
		hour := func(label string) (float64, bool) {
			clock, err := time.Parse("15:04", label)
			return float64(clock.Hour()*3600 + clock.Minute()*60), err == nil
		}
		x, _, frames := svg.axes(t, hour)
		when, err := time.Parse(time.RFC3339, at.(string))
		if err != nil {
			t.Fatal(err)
		}
		crosses := svg.marks(page.Cross, frames[1])
		if len(crosses) != 1 {
			t.Fatalf("%d crosses", len(crosses))
		}
		px, py := crosses[0].middle()
		if math.Abs(x.value(px)-float64(when.Hour()*3600+when.Minute()*60))*x.per > 0.5 || py > frames[1].minY+10 {
			t.Errorf("the cross stands at %.0f s, %.1f: want it at %v under the top, %.1f", x.value(px), py, at, frames[1].minY)
		}
		if !slices.ContainsFunc(svg.texts, func(w drawnText) bool {
			figure, err := strconv.ParseFloat(w.text, 64)
			return err == nil && math.Abs(figure-v[0]) < 0.0051 && math.Abs(w.y-4-py) < 3 && w.x > px && w.x-px < 40
		}) {
			t.Errorf("no %.2f stands beside it", v[0])
		}
	}
}

// TestPictureOfAirMarksWhereTheSetupRan: the thick piece lies on the line and over the runs with
// the setup of now, no farther.
func TestPictureOfAirMarksWhereTheSetupRan(t *testing.T) {
	p := pictureOf(t, demoSeason(t), "air")
	var line, thick [][2]float64
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range p.Panels[0].Series {
		for _, at := range s.Points {
			switch x := at.X.(float64); s.Shape {
			case page.Line:
				line = append(line, [2]float64{x, at.Y})
			case page.Thick:
				thick = append(thick, [2]float64{x, at.Y})
			case page.Dot:
				low, high = math.Min(low, x), math.Max(high, x)
			}
		}
	}
	if n := len(thick); n < 2 || math.Abs(thick[0][0]-low) > 1 || math.Abs(thick[n-1][0]-high) > 1 {
		t.Fatalf("thick from %v to %v: want %.0f to %.0f", thick[0], thick[n-1], low, high)
	}
	for _, at := range thick {
		i := slices.IndexFunc(line, func(p [2]float64) bool { return p[0] > at[0] })
		a, b := line[i-1], line[i]
		if y := a[1] + (at[0]-a[0])*(b[1]-a[1])/(b[0]-a[0]); math.Abs(y-at[1]) > 2e-4 {
			t.Errorf("at %.0f ft the piece is at %.4f, the line at %.4f", at[0], at[1], y)
		}
	}
}

// TestReportSaysWhatTheDayShows: the report's first sentence is of the run that the picture of
// the last day forecasts.
func TestReportSaysWhatTheDayShows(t *testing.T) {
	log, file := demoSeason(t), filepath.Join(t.TempDir(), "report.html")
	if status, _, said := runLine(t, "report", "--vehicle", "heron", "-o", file, "--logbook", log); status != exitDone {
		t.Fatal(said)
	}
	written, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	first := regexp.MustCompile(`<p class="say">([^<]*)`).FindSubmatch(written)
	day := pictureOf(t, log, "day")
	next := regexp.MustCompile(`(1\d\.\d\d).*(8 of 10 in [-.\d]+\d)`).FindStringSubmatch(day.Says[1])
	at := regexp.MustCompile(`\d\d:\d\d`).FindString(day.Says[1])
	for _, words := range []string{next[1], next[2], at, "dead on " + next[1]} {
		if !strings.Contains(string(first[1]), words) {
			t.Errorf("the report says %q, the picture %q: want %q", first[1], day.Says[1], words)
		}
	}
}
