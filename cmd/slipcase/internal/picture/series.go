package picture

import (
	"strings"
	"unicode"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// series adds points of one kind to a plane, and their name to the key.
func (d *drawing) series(p *plane, of *page.Panel, s *page.Series) {
	on, mark := d.shown(of, s)
	p.add(on)
	if s.Name != "" && !d.named[s.Name] {
		d.named[s.Name] = true
		d.key(s.Name, mark)
	}
}

// shown is how a series is drawn, and the mark that stands for it in the key.
func (d *drawing) shown(of *page.Panel, s *page.Series) (on layer, mark func(draw.Canvas)) {
	hue := hues[s.Color]
	points := make([]xy, len(s.Points))
	for i, at := range s.Points {
		points[i] = xy{s.Beside + d.aside(s, i) + d.X.In(d.Units, at.X), of.Y.In(d.Units, at.Y)}
	}
	switch s.Shape {
	case page.Line, page.Thick, page.Dashes:
		style := stroke(hue, 1.8)
		if s.Shape == page.Thick {
			style.Width = 4
		}
		if s.Shape == page.Dashes {
			style.Dashes = []vg.Length{5, 3}
		}
		return func(c draw.Canvas, at func(x, y float64) vg.Point) {
				c.StrokeLines(style, c.ClipLinesXY(placed(points, at))...)
			}, func(c draw.Canvas) {
				c.StrokeLine2(style, c.Min.X, c.Center().Y, c.Max.X, c.Center().Y)
			}
	case page.Between:
		round := d.outline(of, s)
		return func(c draw.Canvas, at func(x, y float64) vg.Point) {
				c.FillPolygon(band, placed(round, at))
			}, func(c draw.Canvas) {
				c.FillPolygon(band, []vg.Point{c.Min, {X: c.Min.X, Y: c.Max.Y}, c.Max, {X: c.Max.X, Y: c.Min.Y}})
			}
	case page.Stems, page.Whiskers:
		bars := &bars{draw: d, of: of, series: s, style: stroke(hue, d.barWidth(of, s)), along: of.Y.Named}
		return bars.onto, bars.mark
	}
	switch s.Shape {
	case page.Edge:
		e := edge{d, of, s}
		return e.onto, e.mark
	case page.Ties:
		t := ties{stroke(hue, 0.8), points, s.Beside}
		return t.onto, t.mark
	}
	glyph := draw.GlyphStyle{Color: hue, Radius: radius, Shape: glyphs[s.Shape]}
	return func(c draw.Canvas, at func(x, y float64) vg.Point) {
		for _, p := range placed(points, at) {
			c.DrawGlyph(glyph, p)
		}
	}, func(c draw.Canvas) { c.DrawGlyph(glyph, c.Center()) }
}

// xy is a point in the units shown.
type xy struct{ x, y float64 }

func placed(points []xy, at func(x, y float64) vg.Point) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, p := range points {
		out[i] = at(p.x, p.y)
	}
	return out
}

// aside spreads the points that share a place with a name over its width, so that none
// hides another.
func (d *drawing) aside(s *page.Series, i int) float64 {
	if !d.X.Named {
		return 0
	}
	before, all := 0, 0
	for j, at := range s.Points {
		if at.X == s.Points[i].X {
			if all++; j < i {
				before++
			}
		}
	}
	return 0.6 * ((float64(before)+0.5)/float64(all) - 0.5)
}

// outline goes along the high ends of a band and back along the low ones.
func (d *drawing) outline(of *page.Panel, s *page.Series) []xy {
	n := len(s.Points)
	out := make([]xy, 2*n)
	for i, at := range s.Points {
		x := d.X.In(d.Units, at.X)
		out[i] = xy{x, of.Y.In(d.Units, at.High.Value())}
		out[2*n-1-i] = xy{x, of.Y.In(d.Units, at.Low.Value())}
	}
	return out
}

// barWidth is as wide as the bars of a series have room for.
func (d *drawing) barWidth(of *page.Panel, s *page.Series) vg.Length {
	if of.Y.Named {
		return 3
	}
	most := vg.Length(7)
	if s.Shape == page.Whiskers {
		most = 3.5
	}
	if !d.X.Bare() {
		return min(most, 2.5)
	}
	low, high := d.reach()
	return max(1, min(most, vg.Length(0.55*(width-60)/(high-low))))
}

// bars are straight bars, from 0 or over a range; along the picture where its rows have
// names.
type bars struct {
	draw   *drawing
	of     *page.Panel
	series *page.Series
	style  draw.LineStyle
	along  bool
}

func (b *bars) onto(c draw.Canvas, at func(x, y float64) vg.Point) {
	line := func(x1, y1, x2, y2 float64) {
		from, to := at(x1, y1), at(x2, y2)
		c.StrokeLine2(b.style, from.X, from.Y, to.X, to.Y)
	}
	for _, p := range b.series.Points {
		x, y := b.draw.X.In(b.draw.Units, p.X), b.of.Y.In(b.draw.Units, p.Y)
		switch {
		case b.along:
			line(b.draw.X.In(b.draw.Units, p.Low.Value()), y, b.draw.X.In(b.draw.Units, p.High.Value()), y)
		case b.series.Shape == page.Stems:
			line(x, 0, x, y)
		default:
			line(x, b.of.Y.In(b.draw.Units, p.Low.Value()), x, b.of.Y.In(b.draw.Units, p.High.Value()))
		}
	}
}

// mark is what stands for them in the key.
func (b *bars) mark(c draw.Canvas) {
	style := b.style
	style.Width = max(style.Width, 3)
	if b.along {
		c.StrokeLine2(style, c.Min.X, c.Center().Y, c.Max.X, c.Center().Y)
		return
	}
	c.StrokeLine2(style, c.Center().X, c.Min.Y, c.Center().X, c.Max.Y)
}

// fold breaks words into lines that a width holds.
func fold(words string, wide vg.Length, style text.Style) (lines []string) {
	line := ""
	const tied = '\u00a0' // a figure and its percent mark stay together
	apart := func(r rune) bool { return unicode.IsSpace(r) && r != tied }
	for _, word := range strings.FieldsFunc(strings.ReplaceAll(words, " %", string(tied)+"%"), apart) {
		for style.Rectangle(word).Size().X > wide { // of the racer's own, without a blank
			runes := []rune(word)
			lines, line, word = append(lines, string(runes[:len(runes)/2])), "", string(runes[len(runes)/2:])
		}
		longer := strings.TrimSpace(line + " " + word)
		if style.Rectangle(longer).Size().X > wide && line != "" {
			lines, longer = append(lines, line), word
		}
		line = longer
	}
	return append(lines, line)
}
