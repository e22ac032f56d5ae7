package picture

import (
	"strings"
	"unicode"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// series adds points of one kind to a plot, and their name to the legend.
func (d *drawing) series(p *plot.Plot, of *page.Panel, s *page.Series) error {
	add := func(q plot.Plotter, mark plot.Thumbnailer) {
		p.Add(q)
		if s.Name != "" && !d.named[s.Name] {
			d.named[s.Name] = true
			d.key(s.Name, mark)
		}
	}
	hue := hues[s.Color]
	xys := make(plotter.XYs, len(s.Points))
	for i, at := range s.Points {
		xys[i].X, xys[i].Y = d.aside(s, i)+d.X.In(d.Units, at.X), of.Y.In(d.Units, at.Y)
	}
	switch s.Shape {
	case page.Line, page.Dashes:
		line, err := plotter.NewLine(xys)
		if err != nil {
			return err
		}
		if line.LineStyle = stroke(hue, 1.8); s.Shape == page.Dashes {
			line.Dashes = []vg.Length{5, 3}
		}
		add(line, line)
	case page.Between:
		area, err := plotter.NewPolygon(d.outline(of, s))
		if err != nil {
			return err
		}
		area.Color, area.LineStyle = band, stroke(band, 0)
		add(area, area)
	case page.Stems, page.Whiskers:
		bars := &bars{draw: d, of: of, series: s, style: stroke(hue, d.barWidth(of, s)), along: of.Y.Named}
		add(bars, bars)
	default:
		marks, err := plotter.NewScatter(xys)
		if err != nil {
			return err
		}
		marks.GlyphStyle = draw.GlyphStyle{Color: hue, Radius: radius, Shape: glyphs[s.Shape]}
		add(marks, marks)
	}
	return nil
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
func (d *drawing) outline(of *page.Panel, s *page.Series) plotter.XYs {
	n := len(s.Points)
	out := make(plotter.XYs, 2*n)
	for i, at := range s.Points {
		x := d.X.In(d.Units, at.X)
		out[i] = plotter.XY{X: x, Y: of.Y.In(d.Units, at.High.Value())}
		out[2*n-1-i] = plotter.XY{X: x, Y: of.Y.In(d.Units, at.Low.Value())}
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

// Plot draws them.
func (b *bars) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	for _, at := range b.series.Points {
		x, y := b.draw.X.In(b.draw.Units, at.X), b.of.Y.In(b.draw.Units, at.Y)
		switch {
		case b.along:
			low, high := b.draw.X.In(b.draw.Units, at.Low.Value()), b.draw.X.In(b.draw.Units, at.High.Value())
			c.StrokeLine2(b.style, toX(low), toY(y), toX(high), toY(y))
		case b.series.Shape == page.Stems:
			c.StrokeLine2(b.style, toX(x), toY(0), toX(x), toY(y))
		default:
			low, high := b.of.Y.In(b.draw.Units, at.Low.Value()), b.of.Y.In(b.draw.Units, at.High.Value())
			c.StrokeLine2(b.style, toX(x), toY(low), toX(x), toY(high))
		}
	}
}

// Thumbnail is what stands for them in the legend.
func (b *bars) Thumbnail(c *draw.Canvas) {
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
