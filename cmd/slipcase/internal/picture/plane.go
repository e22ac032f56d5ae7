package picture

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Axes and key are drawn here, on gonum/plot's canvases: its own plots bring all twelve of
// their fonts into the program, 3.5 MB more than the two that are written with.

// plane is one panel: what it covers, its axes, and what is drawn on it.
type plane struct {
	low, high, bottom, top float64
	across, up             []tick
	rows                   bool // up are names of rows: they have no ticks
	layers                 []layer
}

// tick is a place on an axis, by its name; one without is not labeled.
type tick struct {
	at   float64
	name string
}

// layer draws something on a plane; at is where a point of it lies.
type layer func(c draw.Canvas, at func(x, y float64) vg.Point)

func (p *plane) add(l layer) { p.layers = append(p.layers, l) }

// tickLength is that of ticks, and labelGap is between a label and its tick.
const tickLength, labelGap = 4, 3

// left is the room that the names of the upright axis take.
func (p *plane) left() (wide vg.Length) {
	style := lettered(lettering, false)
	for _, t := range p.up {
		wide = max(wide, style.Rectangle(t.name).Size().X)
	}
	return wide + labelGap + tickLength
}

// right is how far a name of the level axis goes beyond its end; wide is how long that is.
func (p *plane) right(wide vg.Length) (over vg.Length) {
	style := lettered(lettering, false)
	for _, t := range p.across {
		half := style.Rectangle(t.name).Size().X / 2
		over = max(over, half-vg.Length((p.high-t.at)/(p.high-p.low))*wide)
	}
	return over
}

// onto draws the plane: the grid, what is on it, the axes.
func (p *plane) onto(c draw.Canvas) {
	at := func(x, y float64) vg.Point {
		return vg.Point{X: c.X((x - p.low) / (p.high - p.low)), Y: c.Y((y - p.bottom) / (p.top - p.bottom))}
	}
	for _, t := range p.up {
		if y := at(p.low, t.at).Y; c.ContainsY(y) {
			c.StrokeLine2(stroke(faint, 0.7), c.Min.X, y, c.Max.X, y)
		}
	}
	for _, l := range p.layers {
		l(c, at)
	}
	style, line := lettered(lettering, false), stroke(ink, 0.8)
	style.XAlign, style.YAlign = draw.XCenter, draw.YTop
	for _, t := range p.across {
		if x := at(t.at, p.bottom).X; c.ContainsX(x) {
			c.FillText(style, vg.Point{X: x, Y: c.Min.Y - tickLength - 1}, t.name)
			long := vg.Length(tickLength)
			if t.name == "" {
				long /= 2
			}
			c.StrokeLine2(line, x, c.Min.Y-long, x, c.Min.Y)
		}
	}
	c.StrokeLine2(line, c.Min.X, c.Min.Y, c.Max.X, c.Min.Y)
	style.XAlign, style.YAlign = draw.XRight, draw.YCenter
	sink := style.FontExtents().Descent // the middle of figures lies above that of their line
	for _, t := range p.up {
		y := at(p.low, t.at).Y
		if !c.ContainsY(y) {
			continue
		}
		c.FillText(style, vg.Point{X: c.Min.X - tickLength - labelGap, Y: y + sink/2}, t.name)
		if !p.rows {
			c.StrokeLine2(line, c.Min.X-tickLength, y, c.Min.X, y)
		}
	}
	c.StrokeLine2(line, c.Min.X, c.Min.Y, c.Min.X, c.Max.Y)
}

// entry is a line of the key: words, and the mark that they explain, if any.
type entry struct {
	words string
	mark  func(c draw.Canvas)
}

// keyMark is how wide the marks of the key are.
const keyMark = 22

// drawKey draws the lines of the key, the first under a height.
func drawKey(c draw.Canvas, entries []entry, below vg.Length) {
	style := lettered(lettering, false)
	style.YAlign = draw.YBottom
	tall, blank := style.Rectangle("X").Size().Y, style.Rectangle(" ").Size().X
	sink := style.FontExtents().Descent * 0.7 // to the middle of small letters
	x, y := c.Min.X+pad, below-lineHeight
	for _, e := range entries {
		if e.mark != nil {
			e.mark(draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
				Min: vg.Point{X: x, Y: y - sink}, Max: vg.Point{X: x + keyMark, Y: y - sink + tall},
			}})
		}
		c.FillText(style, vg.Point{X: x + keyMark + blank, Y: y}, e.words)
		y -= lineHeight
	}
}
