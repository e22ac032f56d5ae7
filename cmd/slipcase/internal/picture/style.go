package picture

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// Okabe and Ito's blue, vermillion and bluish green, and greys; none of them twice, so that
// each becomes a variable of its own.
var (
	paper = color.RGBA{0xff, 0xff, 0xff, 0xff}
	ink   = color.RGBA{0x1b, 0x1b, 0x1b, 0xff}
	faint = color.RGBA{0xd5, 0xd8, 0xdb, 0xff}
	band  = color.RGBA{0xc7, 0xdf, 0xef, 0xff}
	hues  = []color.RGBA{
		page.Own:   {0x00, 0x72, 0xb2, 0xff},
		page.Other: {0xd5, 0x5e, 0x00, 0xff},
		page.Third: {0x00, 0x9e, 0x73, 0xff},
		page.Quiet: {0x6b, 0x72, 0x78, 0xff},
	}
)

// variables are the names by which a page sets the colors.
var variables = []struct {
	of   color.RGBA
	name string
}{
	{paper, "--paper"},
	{ink, "--ink"},
	{faint, "--faint"},
	{band, "--band"},
	{hues[page.Own], "--own"},
	{hues[page.Other], "--other"},
	{hues[page.Third], "--third"},
	{hues[page.Quiet], "--quiet"},
}

const (
	width     = 340 // of a drawing, in its units
	lettering = 12
)

// lettered is how words are written.
func lettered(size vg.Length, bold bool) text.Style {
	f := sans(bold)
	f.Size = size
	return text.Style{
		Color:   ink,
		Font:    f,
		Handler: plain(),
		XAlign:  draw.XLeft,
		YAlign:  draw.YTop,
	}
}

var radius = vg.Length(3.4)

// glyphs draw the shapes of marks.
var glyphs = map[page.Shape]draw.GlyphDrawer{
	page.Dot: draw.CircleGlyph{}, page.Ring: ringGlyph{}, page.Box: draw.BoxGlyph{},
	page.Up: draw.PyramidGlyph{}, page.Down: downGlyph{}, page.Hollow: downGlyph{hollow: true}, page.Cross: crossGlyph{},
	page.Bar: barGlyph{},
}

// downGlyph is a triangle on its tip.
type downGlyph struct{ hollow bool }

// DrawGlyph draws it as large as the pyramid of gonum/plot.
func (g downGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetColor(s.Color)
	const sin, cos = 0.5, 0.8660254037844386
	r := s.Radius + (s.Radius-s.Radius*sin)/2
	var p vg.Path
	p.Move(vg.Point{X: at.X, Y: at.Y - r})
	p.Line(vg.Point{X: at.X - r*cos, Y: at.Y + r*sin})
	p.Line(vg.Point{X: at.X + r*cos, Y: at.Y + r*sin})
	p.Close()
	if g.hollow {
		c.SetLineStyle(stroke(s.Color, thin))
		c.Stroke(p)
		return
	}
	c.Fill(p)
}

// thin is the stroke of marks that are not filled.
const thin = 1.2

// ringGlyph is a circle that is not filled.
type ringGlyph struct{}

// DrawGlyph draws it.
func (ringGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(stroke(s.Color, thin))
	var p vg.Path
	p.Move(vg.Point{X: at.X + s.Radius, Y: at.Y})
	p.Arc(at, s.Radius, 0, 2*math.Pi)
	p.Close()
	c.Stroke(p)
}

// crossGlyph is a cross that lies.
type crossGlyph struct{}

// DrawGlyph draws it.
func (crossGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(stroke(s.Color, 1.3*thin))
	r := 0.8 * s.Radius
	var p vg.Path
	p.Move(vg.Point{X: at.X - r, Y: at.Y - r})
	p.Line(vg.Point{X: at.X + r, Y: at.Y + r})
	p.Move(vg.Point{X: at.X - r, Y: at.Y + r})
	p.Line(vg.Point{X: at.X + r, Y: at.Y - r})
	c.Stroke(p)
}

// barGlyph is a level bar.
type barGlyph struct{}

// DrawGlyph draws it.
func (barGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.StrokeLine2(stroke(s.Color, 2.4), at.X-3*s.Radius, at.Y, at.X+3*s.Radius, at.Y)
}

func stroke(of color.Color, wide vg.Length, dashes ...vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: of, Width: wide, Dashes: dashes}
}
