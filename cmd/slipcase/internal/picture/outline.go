package picture

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/bidi"
	vgfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// outlined is a canvas on which lettering is drawn as outlines, from right to left where
// it reads so: gonum/plot's PDF knows the letters of western Europe alone, and no bold ones,
// and neither it nor its PNG knows directions.
type outlined struct{ vg.CanvasSizer }

// FillString draws a line of lettering.
func (c outlined) FillString(f vgfont.Face, at vg.Point, words string) {
	const unitsPerEm = 1000
	size := fixed.I(unitsPerEm)
	scale := f.Font.Size / unitsPerEm
	var buffer sfnt.Buffer
	x := at.X
	for _, r := range visual(words) {
		glyph, err := f.Face.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		segments, err := f.Face.LoadGlyph(&buffer, glyph, size, nil)
		if err != nil {
			continue
		}
		point := func(p fixed.Point26_6) vg.Point {
			return vg.Point{X: x + scale*vg.Length(p.X)/64, Y: at.Y - scale*vg.Length(p.Y)/64}
		}
		var path vg.Path
		for _, s := range segments {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				path.Move(point(s.Args[0]))
			case sfnt.SegmentOpLineTo:
				path.Line(point(s.Args[0]))
			case sfnt.SegmentOpQuadTo:
				path.QuadTo(point(s.Args[0]), point(s.Args[1]))
			case sfnt.SegmentOpCubeTo:
				path.CubeTo(point(s.Args[0]), point(s.Args[1]), point(s.Args[2]))
			}
		}
		if len(path) > 0 {
			path.Close()
			c.Fill(path)
		}
		if wide, err := f.Face.GlyphAdvance(&buffer, glyph, size, font.HintingNone); err == nil {
			x += scale * vg.Length(wide) / 64
		}
	}
}

// visual is a line in the order in which it is seen, from the left (Unicode Annex 9).
func visual(words string) string {
	var p bidi.Paragraph
	if _, err := p.SetString(words, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		return words
	}
	order, err := p.Order()
	if err != nil {
		return words
	}
	seen := ""
	for i := range order.NumRuns() {
		run := order.Run(i)
		text := run.String()
		if run.Direction() == bidi.RightToLeft {
			text = bidi.ReverseString(text)
		}
		seen += text
	}
	return seen
}
