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
	for i, p := range crosses {
		taken = e.draw.write(c, e.of, e.series.Points[i].Y, p, taken)
	}
}

// write writes a figure beside a place where there is room, and tells what is taken then.
func (d *drawing) write(c draw.Canvas, of *page.Panel, v float64, p vg.Point, taken []vg.Point) []vg.Point {
	style := lettered(lettering, false)
	style.YAlign = draw.YCenter
	words := d.figure(&of.Y, of.Y.In(d.Units, v))
	long := style.Rectangle(words).Size().X
	for _, from := range []vg.Length{p.X + inset, p.X - inset - long} {
		if from >= c.Min.X && from+long <= c.Max.X && !crowded(taken, from, from+long, p.Y) {
			c.FillText(style, vg.Point{X: from, Y: p.Y}, words)
			return append(taken, vg.Point{X: from, Y: p.Y}, vg.Point{X: from + long, Y: p.Y})
		}
	}
	return taken
}

// clipped draws ranges that may go beyond the frame: there they have an arrow, and their figure
// beside it, clear of the crosses at the edge.
type clipped struct {
	*bars
	c  draw.Canvas
	at func(x, y float64) vg.Point
}

func (b clipped) onto(p page.Spot) {
	x := b.draw.X.In(b.draw.Units, p.X)
	place := func(v float64) vg.Point { return b.at(x, b.of.Y.In(b.draw.Units, v)) }
	low, high := place(p.Low.Value()), place(p.High.Value())
	var taken []vg.Point
	for _, s := range b.of.Series {
		for _, spot := range s.Points {
			if s.Shape != page.Whiskers {
				taken = append(taken, b.at(b.draw.X.In(b.draw.Units, spot.X), b.of.Y.In(b.draw.Units, spot.Y)))
			}
		}
	}
	const clear = 20
	arrow := func(end vg.Point, way vg.Length, v float64) {
		for _, side := range []vg.Length{-4, 4} {
			b.c.StrokeLine2(stroke(b.style.Color, thin), end.X, end.Y, end.X+side, end.Y-6*way)
		}
		taken = b.draw.write(b.c, b.of, v, vg.Point{X: end.X, Y: end.Y - clear*way}, taken)
	}
	if low.Y < b.c.Min.Y {
		low.Y = b.c.Min.Y + 2
		arrow(low, -1, p.Low.Value())
	}
	if high.Y > b.c.Max.Y {
		high.Y = b.c.Max.Y - 2
		arrow(high, 1, p.High.Value())
	}
	b.c.StrokeLine2(b.style, low.X, low.Y, high.X, high.Y)
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
