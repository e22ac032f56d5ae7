package picture

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// drawing is a chart laid out.
type drawing struct {
	*page.Chart
	words   []string // above it: its title and what it says, each line by itself
	titles  int      // so many of them are of the title
	entries []entry
	named   map[string]bool // what the key has
	planes  []*plane
	moved   map[*page.Series][]float64 // how far the marks of the panels laid out stand beside their place
}

// The heights of the pieces of a drawing.
const (
	lineHeight  = 16
	titleHeight = 19
	panelHead   = 23
	axisHeight  = 36
	pad         = 6
)

// layOut makes the planes of a chart; words says that its title and words are drawn too.
func layOut(c *page.Chart, words bool) *drawing {
	d := &drawing{Chart: c, named: map[string]bool{}, moved: map[*page.Series][]float64{}}
	if words {
		d.words = fold(c.Title, width-2*pad, lettered(lettering+2, true))
		d.titles = len(d.words)
		for _, line := range c.Says {
			d.words = append(d.words, fold(line, width-2*pad, lettered(lettering, false))...)
		}
	}
	low, high := d.reach()
	for i := range c.Panels {
		d.planes = append(d.planes, d.panel(&c.Panels[i], i == len(c.Panels)-1, low, high))
	}
	for _, key := range c.Keys {
		d.key(key, nil)
	}
	return d
}

// key adds a line to the key, with the mark that it explains.
func (d *drawing) key(words string, mark func(draw.Canvas)) {
	for i, line := range fold(words, width-2*pad-30, lettered(lettering, false)) {
		if i > 0 {
			mark = nil
		}
		d.entries = append(d.entries, entry{line, mark})
	}
}

// heights are those of one panel, and of all.
func (d *drawing) heights() (panel, all vg.Length) {
	panel = []vg.Length{190, 130, 92}[min(len(d.Panels), 3)-1]
	if named := d.Panels[0].Y; named.Named {
		panel = vg.Length(26*len(named.Ticks) + 10)
	}
	n := vg.Length(len(d.planes))
	return panel, d.top() + n*(panel+panelHead) + axisHeight + pad
}

// top is the height of the words and the key.
func (d *drawing) top() vg.Length {
	h := vg.Length(pad)
	for i := range d.words {
		h += d.wordHeight(i)
	}
	return h + vg.Length(len(d.entries))*lineHeight + 8
}

func (d *drawing) wordHeight(i int) vg.Length {
	if i < d.titles {
		return titleHeight
	}
	return lineHeight
}

// reach is how far the picture goes to the sides, in the units shown.
func (d *drawing) reach() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(x float64) { low, high = math.Min(low, x), math.Max(high, x) }
	for _, p := range d.Panels {
		for _, s := range p.Series {
			for _, at := range s.Points {
				take(d.X.In(d.Units, at.X) + s.Beside)
				if p.Y.Named && at.Low.Known() && at.High.Known() {
					take(d.X.In(d.Units, at.Low.Value()))
					take(d.X.In(d.Units, at.High.Value()))
				}
			}
		}
		for _, r := range p.Rules {
			if r.Upright {
				take(d.X.In(d.Units, r.At))
			}
		}
	}
	if d.X.Named {
		for _, t := range d.X.Ticks {
			take(t.At - 0.5)
			take(t.At + 0.5)
		}
		return low, high
	}
	if d.X.Zone != nil { // days begin before their runs
		for _, t := range d.X.Ticks {
			take(t.At)
		}
	}
	low, high = spread(low, high, least(&d.X))
	if d.Spread {
		return spread(low, high, 0)
	}
	return low, high
}

// least is the least that an axis covers.
func least(a *page.Axis) float64 {
	switch {
	case a.Zone != nil:
		return 3600
	case a.Free:
		return 0
	case a.Bare():
		return 2
	case a.Signed:
		return 0.02
	}
	return 0.1
}

// spread gives a range some air.
func spread(low, high, least float64) (float64, float64) {
	if least == 0 && low == high {
		least = 1
	}
	if room := least - (high - low); room > 0 {
		low, high = low-room/2, high+room/2
	}
	air := 0.04 * (high - low)
	return low - air, high + air
}

// panel makes one of the planes.
func (d *drawing) panel(of *page.Panel, last bool, low, high float64) *plane {
	bottom, top := d.span(of)
	p := &plane{low: low, high: high, bottom: bottom, top: top, rows: of.Y.Named}
	most := 7
	if len(d.Panels) > 2 {
		most = 5
	}
	p.across, p.up = apart(ticks(&d.X, low, high, 5), low, high, width-60), ticks(&of.Y, bottom, top, most)
	if !last {
		for i := range p.across {
			p.across[i].name = ""
		}
	}
	for i := range of.Rules {
		d.rule(p, &of.Rules[i])
	}
	for i := range of.Series {
		d.series(p, of, &of.Series[i])
	}
	return p
}

// span is how far a panel goes up and down, in the units shown.
func (d *drawing) span(of *page.Panel) (low, high float64) {
	if of.Y.Named {
		return 0.4, float64(len(of.Y.Ticks)) + 0.6
	}
	low, high = math.Inf(1), math.Inf(-1)
	panels := []page.Panel{*of}
	if d.SameY {
		panels = d.Panels
	}
	for i := range panels {
		l, h := d.spanOf(&panels[i])
		low, high = math.Min(low, l), math.Max(high, h)
	}
	return spread(low, high, least(&of.Y))
}

// spanOf is what a panel has to show.
func (d *drawing) spanOf(of *page.Panel) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(y float64) {
		y = of.Y.In(d.Units, y)
		low, high = math.Min(low, y), math.Max(high, y)
	}
	for _, s := range of.Series {
		if s.Shape == page.Edge {
			continue
		}
		for _, at := range s.Points {
			take(at.Y)
			if at.Low.Known() && at.High.Known() && !s.Off {
				take(at.Low.Value())
				take(at.High.Value())
			}
			if s.Shape == page.Stems {
				take(0)
			}
		}
	}
	for _, r := range of.Rules {
		if !r.Upright {
			take(r.At)
		}
	}
	return low, high
}

// rule draws a line right across, and its name at its end.
func (d *drawing) rule(p *plane, r *page.Rule) {
	from, to, line := xy{p.low, r.At}, xy{p.high, r.At}, stroke(ink, 0.8)
	if r.Upright {
		x := d.X.In(d.Units, r.At)
		from, to, line = xy{x, p.bottom}, xy{x, p.top}, stroke(ink, 0.8, 2, 2)
	}
	if r.Key != "" && !d.named[r.Key] {
		d.named[r.Key] = true
		d.key(r.Key, func(c draw.Canvas) { c.StrokeLine2(line, c.Center().X, c.Min.Y, c.Center().X, c.Max.Y) })
	}
	p.add(func(c draw.Canvas, at func(x, y float64) vg.Point) {
		end := at(to.x, to.y)
		c.StrokeLines(line, []vg.Point{at(from.x, from.y), end})
		name := lettered(lettering, true)
		c.FillText(name, vg.Point{X: end.X + 3, Y: end.Y - 1}, r.Name)
	})
}

// onto draws a drawing on a canvas of its size.
func (d *drawing) onto(c draw.Canvas) {
	c.SetColor(paper)
	c.Fill(c.Rectangle.Path())
	y := c.Max.Y - pad
	for i, line := range d.words {
		style := lettered(lettering, false)
		if i < d.titles {
			style = lettered(lettering+2, true)
		}
		c.FillText(style, vg.Point{X: c.Min.X + pad, Y: y}, line)
		y -= d.wordHeight(i)
	}
	drawKey(c, d.entries, y-2)
	panel, _ := d.heights()
	left, right := vg.Length(0), vg.Length(0)
	for _, p := range d.planes {
		left, right = max(left, p.left()), max(right, p.right(width-60))
	}
	heading := lettered(lettering, true)
	heading.YAlign = draw.YBottom
	y = c.Max.Y - d.top() - panelHead
	for i, p := range d.planes {
		c.FillText(heading, vg.Point{X: c.Min.X + pad, Y: y + 8}, d.Panels[i].Y.Label(d.Units))
		p.onto(draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
			Min: vg.Point{X: c.Min.X + pad + left, Y: y - panel}, Max: vg.Point{X: c.Max.X - pad - 6 - right, Y: y},
		}})
		y -= panel + panelHead
	}
	foot := lettered(lettering, true)
	foot.XAlign, foot.YAlign = draw.XRight, draw.YBottom
	c.FillText(foot, vg.Point{X: c.Max.X - pad - 6, Y: c.Min.Y + pad}, d.X.Label(d.Units))
}
