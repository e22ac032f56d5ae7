package main

import (
	"cmp"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

// drawn is what is read back from an SVG: lettering and paths, in the positions that an
// SVG viewer gives them (SVG 1.1, 7.6: nested transforms).
type drawn struct {
	texts []drawnText
	paths []drawnPath
}

type drawnText struct {
	x, y float64 // of the middle, by the length that the element states
	text string
}

type drawnPath struct {
	style      string
	points     [][2]float64
	arcs       int
	minX, maxX float64
	minY, maxY float64
}

// matrix is a transform: x' = a x + c, y' = d y + f, for no picture is turned.
type matrix struct{ a, c, d, f float64 }

var (
	transforms = regexp.MustCompile(`(scale|translate)\(([-\d.]+),\s*([-\d.]+)\)`)
	pathPiece  = regexp.MustCompile(`([MLAZ])([^MLAZ]*)`)
)

func (m matrix) then(text string) matrix {
	for _, t := range transforms.FindAllStringSubmatch(text, -1) {
		x, _ := strconv.ParseFloat(t[2], 64)
		y, _ := strconv.ParseFloat(t[3], 64)
		if t[1] == "scale" {
			m.a, m.d = m.a*x, m.d*y
		} else {
			m.c, m.f = m.c+m.a*x, m.f+m.d*y
		}
	}
	return m
}

func readSVG(t *testing.T, path string) (d drawn) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	stack := []matrix{{1, 0, 1, 0}}
	var text *drawnText
	for in := xml.NewDecoder(f); ; {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return d
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			m := stack[len(stack)-1].then(at["transform"])
			stack = append(stack, m)
			switch e.Name.Local {
			case "path":
				d.paths = append(d.paths, pathOf(m, at["d"], at["style"]))
			case "text":
				number := func(name string) float64 { v, _ := strconv.ParseFloat(at[name], 64); return v }
				d.texts = append(d.texts, drawnText{m.a*(number("x")+number("textLength")/2) + m.c, m.d*number("y") + m.f, ""})
				text = &d.texts[len(d.texts)-1]
			}
		case xml.EndElement:
			stack = stack[:len(stack)-1]
			text = nil
		case xml.CharData:
			if text != nil {
				text.text += string(e)
			}
		}
	}
}

func pathOf(m matrix, d, style string) drawnPath {
	p := drawnPath{style: style, minX: math.Inf(1), minY: math.Inf(1), maxX: math.Inf(-1), maxY: math.Inf(-1)}
	for _, piece := range pathPiece.FindAllStringSubmatch(d, -1) {
		if piece[1] == "Z" {
			continue
		}
		if piece[1] == "A" {
			p.arcs++
		}
		numbers := strings.FieldsFunc(piece[2], func(r rune) bool { return r == ',' || r == ' ' })
		x, _ := strconv.ParseFloat(numbers[len(numbers)-2], 64)
		y, _ := strconv.ParseFloat(numbers[len(numbers)-1], 64)
		x, y = m.a*x+m.c, m.d*y+m.f
		p.points = append(p.points, [2]float64{x, y})
		p.minX, p.maxX = math.Min(p.minX, x), math.Max(p.maxX, x)
		p.minY, p.maxY = math.Min(p.minY, y), math.Max(p.maxY, y)
	}
	return p
}

// scale is a position over a value, by two ticks.
type scale struct{ at, per float64 }

func (s scale) value(position float64) float64 { return (position - s.at) / s.per }

// axes are the places of the panels: their left ends, from the top down, and their scales.
func (d *drawn) axes(
	t *testing.T,
	across func(label string) (float64, bool),
) (x scale, ys []scale, frames []drawnPath) {
	t.Helper()
	for _, p := range d.paths { // the y axes: upright, long, of ink, and the leftmost such
		if p.maxX-p.minX < 0.01 && p.maxY-p.minY > 60 && strings.Contains(p.style, "#1B1B1B") &&
			!strings.Contains(p.style, "dash") {
			frames = append(frames, p)
		}
	}
	for _, f := range frames {
		var places, values []float64
		for _, p := range d.paths {
			if tick := p.maxY-p.minY < 0.01 && math.Abs(p.maxX-p.minX-4) < 0.01 && math.Abs(p.maxX-f.minX) < 0.6; !tick ||
				p.minY < f.minY-0.1 || p.minY > f.maxY+0.1 {
				continue
			}
			label, off := "", 9.
			for _, w := range d.texts {
				if away := math.Abs(w.y - 4 - p.minY); w.x < p.minX && away < off {
					label, off = w.text, away
				}
			}
			v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", ",", "", "+", "").Replace(label), 64)
			if err != nil {
				t.Fatalf("tick at %v is called %q", p.minY, label)
			}
			places, values = append(places, p.minY), append(values, v)
		}
		ys = append(ys, scaleBy(t, places, values))
	}
	var places, values []float64
	bottom := frames[len(frames)-1].maxY
	for _, p := range d.paths {
		if p.maxX-p.minX > 0.01 || math.Abs(p.maxY-p.minY-4) > 0.01 || math.Abs(p.minY-bottom) > 1 {
			continue
		}
		for _, w := range d.texts {
			if v, is := across(w.text); is && math.Abs(w.x-p.minX) < 1 && w.y > bottom {
				places, values = append(places, p.minX), append(values, v)
			}
		}
	}
	return scaleBy(t, places, values), ys, frames
}

func scaleBy(t *testing.T, places, values []float64) scale {
	t.Helper()
	if len(places) < 2 {
		t.Fatalf("an axis with %d ticks", len(places))
	}
	n := len(places) - 1
	s := scale{per: (places[n] - places[0]) / (values[n] - values[0])}
	s.at = places[0] - s.per*values[0]
	for i := range places {
		if math.Abs(s.value(places[i])-values[i])*math.Abs(s.per) > 0.1 {
			t.Errorf("ticks %v at %v are on no even scale", values, places)
		}
	}
	return s
}

// is reports that a path is a mark of a shape: its geometry, and how it is painted.
func (p *drawnPath) is(s page.Shape) bool {
	filled := !strings.Contains(p.style, "fill:none")
	small := p.maxX-p.minX < 9 && p.maxY-p.minY < 9
	switch s {
	case page.Dot:
		return p.arcs > 0 && filled
	case page.Ring:
		return p.arcs > 0 && !filled
	case page.Cross:
		return p.arcs == 0 && len(p.points) == 4 && !filled && small && p.maxX-p.minX > 1
	case page.Up, page.Down:
		return p.arcs == 0 && len(p.points) == 3 && filled && small && (p.points[0][1] == p.minY) == (s == page.Up)
	}
	return false
}

// middle is where a mark is: of a triangle as far from its tip as from its ends.
func (p *drawnPath) middle() (x, y float64) {
	x, y = (p.minX+p.maxX)/2, (p.minY+p.maxY)/2
	if p.arcs == 0 && len(p.points) == 3 {
		y = (p.points[0][1] + p.points[1][1] + p.points[2][1]) / 3
	}
	return x, y
}

type chartRead struct {
	Panels []struct {
		Series []struct {
			Shape  page.Shape
			Points []struct {
				X any
				Y float64
			}
		}
	}
}

// TestPictureShowsItsFigures reads pictures back: each mark of the data is there, where its
// axes say, and there are no others.
func TestPictureShowsItsFigures(t *testing.T) {
	leftToFullRun(t)
	t.Chdir(t.TempDir())
	log := demoSeason(t)
	day := func(label string) (float64, bool) {
		at, err := time.Parse("Jan 2, 2006", label+", 2026")
		return float64(at.Unix() + 5*3600), err == nil // midnight at the track, in summer time
	}
	order := map[string]float64{"May 2": 1, "Jun 13": 6, "Aug 8": 13} // after the first run, which has no forecast
	for kind, across := range map[string]func(string) (float64, bool){
		"air": func(label string) (float64, bool) {
			v, err := strconv.ParseFloat(strings.ReplaceAll(label, ",", ""), 64)
			return v, err == nil
		},
		"forecasts": func(label string) (float64, bool) { v, is := order[label]; return v, is },
		"trend":     day,
	} {
		t.Run(kind, func(t *testing.T) {
			line := []string{"picture", kind, "--vehicle", "heron", "--logbook", log}
			if status, _, said := runLine(t, line...); status != exitDone {
				t.Fatal(said)
			}
			_, text, _ := runLine(t, append(line, "--format", "json")...)
			var told chartRead
			if err := json.Unmarshal([]byte(text), &told); err != nil {
				t.Fatal(err)
			}
			svg := readSVG(t, kind+".svg")
			x, ys, frames := svg.axes(t, across)
			if len(ys) != len(told.Panels) {
				t.Fatalf("%d panels are drawn, of %d", len(ys), len(told.Panels))
			}
			for i, panel := range told.Panels {
				for _, shape := range []page.Shape{page.Dot, page.Ring, page.Cross, page.Up, page.Down} {
					var want [][2]float64
					for _, s := range panel.Series {
						if s.Shape == shape {
							for _, p := range s.Points {
								want = append(want, [2]float64{placeOf(t, p.X), p.Y})
							}
						}
						if s.Shape == page.Edge && shape == page.Cross { // drawn as one at the edge, whatever its height
							for _, p := range s.Points {
								want = append(want, [2]float64{placeOf(t, p.X), math.NaN()})
							}
						}
					}
					holdMarks(t, fmt.Sprintf("panel %d, %s", i, shape), svg.marks(shape, frames[i]), want, x, ys[i])
				}
			}
		})
	}
}

// marks are those of a shape in a panel.
func (d *drawn) marks(shape page.Shape, frame drawnPath) (all []drawnPath) {
	for _, p := range d.paths {
		if x, y := p.middle(); p.is(shape) && x > frame.minX && y > frame.minY-5 && y < frame.maxY+5 {
			all = append(all, p)
		}
	}
	return all
}

func holdMarks(t *testing.T, what string, marks []drawnPath, want [][2]float64, x, y scale) {
	t.Helper()
	if len(marks) != len(want) {
		t.Errorf("%s: %d marks, %d in the data", what, len(marks), len(want))
		return
	}
	for i, w := range want { // drawn in the order of the data
		px, py := marks[i].middle()
		if math.IsNaN(w[1]) {
			w[1] = y.value(py)
		}
		if dx, dy := (x.value(px)-w[0])*x.per, (y.value(py)-w[1])*y.per; math.Hypot(dx, dy) > 0.5 {
			t.Errorf("%s, mark %d reads %.4f, %.4f: want %.4f, %.4f", what, i, x.value(px), y.value(py), w[0], w[1])
		}
	}
}

// placeOf is a place along an axis: a moment in Unix seconds.
func placeOf(t *testing.T, v any) float64 {
	t.Helper()
	if text, is := v.(string); is {
		at, err := time.Parse(time.RFC3339, text)
		if err != nil {
			t.Fatal(err)
		}
		return float64(at.Unix())
	}
	return v.(float64)
}

// demoSeason is a copy of the invented season, which is typed in once for all tests of the full run.
func demoSeason(t testing.TB) string {
	t.Helper()
	leftToFullRun(t)
	dir := filepath.Join(t.TempDir(), "season")
	typed, err := demoTyped()
	if err == nil {
		err = os.CopyFS(dir, typed)
	}
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

var demoTyped = sync.OnceValues(func() (fs.FS, error) {
	dir, err := os.MkdirTemp("", "slipcase-demo-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir) // it is held in memory
	var said strings.Builder
	a := &app{in: strings.NewReader(""), out: io.Discard, errOut: &said, now: time.Now, newID: logbook.NewID}
	if status := a.run(context.Background(), []string{"demo", "--logbook", filepath.Join(dir, "log")}); status != exitDone {
		return nil, errors.New(said.String())
	}
	held := fstest.MapFS{}
	files, err := filepath.Glob(filepath.Join(dir, "log", "*"))
	for _, path := range files {
		data, readErr := os.ReadFile(path)
		err = cmp.Or(err, readErr)
		held[filepath.Base(path)] = &fstest.MapFile{Data: data, Mode: 0o600}
	}
	return held, err
})
