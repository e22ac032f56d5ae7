package picture

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// edge draws points that lie beyond the scale of their panel: at its edge, the figure
// beside it where there is room.
type edge struct {
	draw   *drawing
	of     *page.Panel
	series *page.Series
}

// inset is how far from the edge they stand.
const inset = 6

func (e edge) onto(c draw.Canvas, at func(x, y float64) vg.Point) {
	glyph := draw.GlyphStyle{Color: hues[e.series.Color], Radius: radius, Shape: crossGlyph{}}
	place := func(spot page.Spot) vg.Point {
		return at(e.draw.X.In(e.draw.Units, spot.X), e.of.Y.In(e.draw.Units, spot.Y))
	}
	crosses := make([]vg.Point, len(e.series.Points))
	for i, spot := range e.series.Points {
		p := place(spot)
		if p.Y > c.Center().Y {
			p.Y = c.Max.Y - inset
		} else {
			p.Y = c.Min.Y + inset
		}
		crosses[i] = p
		c.DrawGlyph(glyph, p)
	}
	taken := crosses
	for _, s := range e.of.Series {
		if s.Shape != page.Edge {
			for _, spot := range s.Points {
				taken = append(taken, place(spot))
			}
		}
	}
	style := lettered(lettering, false)
	style.YAlign = draw.YCenter
	for i, p := range crosses {
		words := e.draw.figure(&e.of.Y, e.of.Y.In(e.draw.Units, e.series.Points[i].Y))
		long := style.Rectangle(words).Size().X
		for _, from := range []vg.Length{p.X + inset, p.X - inset - long} {
			if from < c.Min.X || from+long > c.Max.X || crowded(taken, from, from+long, p.Y) {
				continue
			}
			c.FillText(style, vg.Point{X: from, Y: p.Y}, words)
			taken = append(taken, vg.Point{X: from, Y: p.Y}, vg.Point{X: from + long, Y: p.Y})
			break
		}
	}
}

// crowded reports a mark where a figure would stand.
func crowded(taken []vg.Point, from, to, y vg.Length) bool {
	const tall = 8
	return slices.ContainsFunc(taken, func(p vg.Point) bool {
		return p.X > from-radius && p.X < to+radius && p.Y > y-tall && p.Y < y+tall
	})
}

func (e edge) mark(c draw.Canvas) {
	c.DrawGlyph(draw.GlyphStyle{Color: hues[e.series.Color], Radius: radius, Shape: crossGlyph{}}, c.Center())
	c.StrokeLine2(stroke(ink, 0.8), c.Min.X+4, c.Max.Y, c.Max.X-4, c.Max.Y)
}

// figure is a value as it stands in a picture.
func (d *drawing) figure(a *page.Axis, v float64) string {
	words := fmt.Sprintf("%.2f", v)
	if a.Signed {
		words = fmt.Sprintf("%+.2f", v)
	}
	return strings.Replace(words, "-", "−", 1)
}

// ties join each second point with the one after it, each drawn so far beside its place.
type ties struct {
	style  draw.LineStyle
	points []xy
	beside float64
}

func (t ties) onto(c draw.Canvas, at func(x, y float64) vg.Point) {
	for i := 0; i+1 < len(t.points); i += 2 {
		from := at(t.points[i].x-2*t.beside, t.points[i].y)
		to := at(t.points[i+1].x, t.points[i+1].y)
		c.StrokeLine2(t.style, from.X, from.Y, to.X, to.Y)
	}
}

func (t ties) mark(c draw.Canvas) { c.StrokeLine2(t.style, c.Min.X, c.Min.Y, c.Max.X, c.Max.Y) }
