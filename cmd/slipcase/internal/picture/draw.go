package picture

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"slipcase/cmd/slipcase/internal/page"
)

// drawing is a chart laid out.
type drawing struct {
	*page.Chart
	words  []string // above it: its title and what it says, each line by itself
	titles int      // so many of them are of the title
	legend plot.Legend
	rows   int             // of the legend
	named  map[string]bool // what it has
	plots  []*plot.Plot
}

// The heights of the pieces of a drawing.
const (
	lineHeight  = 16
	titleHeight = 19
	panelHead   = 20
	axisHeight  = 36
	pad         = 6
)

// layOut makes the plots of a chart; words says that its title and words are drawn too.
func layOut(c *page.Chart, words bool) (*drawing, error) {
	d := &drawing{Chart: c, legend: plot.NewLegend(), named: map[string]bool{}}
	if words {
		d.words = fold(c.Title, width-2*pad, lettered(lettering+2, true))
		d.titles = len(d.words)
		for _, line := range c.Says {
			d.words = append(d.words, fold(line, width-2*pad, lettered(lettering, false))...)
		}
	}
	d.legend.TextStyle, d.legend.Left, d.legend.Top = lettered(lettering, false), true, true
	d.legend.TextStyle.YAlign = draw.YBottom
	d.legend.ThumbnailWidth, d.legend.Padding = 22, 4
	low, high := d.reach()
	for i := range c.Panels {
		p, err := d.panel(&c.Panels[i], i == len(c.Panels)-1, low, high)
		if err != nil {
			return nil, err
		}
		d.plots = append(d.plots, p)
	}
	for _, key := range c.Keys {
		d.key(key)
	}
	return d, nil
}

// key adds a line to the legend.
func (d *drawing) key(words string, marks ...plot.Thumbnailer) {
	for i, line := range fold(words, width-2*pad-30, lettered(lettering, false)) {
		if i > 0 {
			marks = nil
		}
		d.legend.Add(line, marks...)
		d.rows++
	}
}

// heights are those of one panel, and of all.
func (d *drawing) heights() (panel, all vg.Length) {
	panel = []vg.Length{190, 130, 92}[min(len(d.plots), 3)-1]
	if named := d.Panels[0].Y; named.Named {
		panel = vg.Length(26*len(named.Ticks) + 10)
	}
	n := vg.Length(len(d.plots))
	return panel, d.top() + n*(panel+panelHead) + axisHeight + pad
}

// top is the height of the words and the legend.
func (d *drawing) top() vg.Length {
	h := vg.Length(pad)
	for i := range d.words {
		h += d.wordHeight(i)
	}
	return h + vg.Length(d.rows)*lineHeight + 8
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
				take(d.X.In(d.Units, at.X))
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
	return spread(low, high, least(&d.X))
}

// least is the least that an axis covers.
func least(a *page.Axis) float64 {
	switch {
	case a.Zone != nil:
		return 3600
	case a.Bare():
		return 2
	case a.Signed:
		return 0.02
	}
	return 0.1
}

// spread gives a range some air.
func spread(low, high, least float64) (float64, float64) {
	if room := least - (high - low); room > 0 {
		low, high = low-room/2, high+room/2
	}
	air := 0.04 * (high - low)
	return low - air, high + air
}

// panel makes one of the plots.
func (d *drawing) panel(of *page.Panel, last bool, low, high float64) (*plot.Plot, error) {
	p := plot.New()
	p.BackgroundColor = nil
	p.X.Min, p.X.Max = low, high
	bottom, top := d.span(of)
	p.Y.Min, p.Y.Max = bottom, top
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.LineStyle, a.Tick.LineStyle = stroke(ink, 0.8), stroke(ink, 0.8)
		a.Tick.Label = lettered(lettering, false)
		a.Tick.Length, a.Padding = 4, 0
		a.Label.Text = ""
	}
	p.X.Tick.Label.XAlign, p.X.Tick.Label.YAlign = draw.XCenter, draw.YTop
	p.Y.Tick.Label.XAlign, p.Y.Tick.Label.YAlign = draw.XRight, draw.YCenter
	across := apart(ticks(&d.X, low, high, 5), low, high, width-60)
	if !last {
		for i := range across {
			across[i].Label = ""
		}
	}
	p.X.Tick.Marker = plot.ConstantTicks(across)
	p.Y.Tick.Marker = plot.ConstantTicks(ticks(&of.Y, bottom, top, 5))
	if of.Y.Named {
		p.Y.Tick.Length = 0
	}
	grid := plotter.NewGrid()
	grid.Horizontal, grid.Vertical = stroke(faint, 0.7), stroke(faint, 0)
	p.Add(grid)
	for i := range of.Rules {
		if err := d.rule(p, &of.Rules[i]); err != nil {
			return nil, err
		}
	}
	for i := range of.Series {
		if err := d.series(p, of, &of.Series[i]); err != nil {
			return nil, err
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = low, high, bottom, top
	return p, nil
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
		for _, at := range s.Points {
			take(at.Y)
			if at.Low.Known() && at.High.Known() {
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
func (d *drawing) rule(p *plot.Plot, r *page.Rule) error {
	ends := plotter.XYs{{X: p.X.Min, Y: r.At}, {X: p.X.Max, Y: r.At}}
	if r.Upright {
		ends = plotter.XYs{{X: d.X.In(d.Units, r.At), Y: p.Y.Min}, {X: d.X.In(d.Units, r.At), Y: p.Y.Max}}
	}
	line, err := plotter.NewLine(ends)
	if err != nil {
		return err
	}
	line.LineStyle = stroke(ink, 0.8)
	if r.Upright {
		line.Dashes = []vg.Length{2, 2}
	}
	p.Add(line)
	if r.Name == "" {
		return nil
	}
	name, err := plotter.NewLabels(plotter.XYLabels{XYs: ends[1:], Labels: []string{r.Name}})
	if err != nil {
		return err
	}
	name.TextStyle[0] = lettered(lettering, true)
	name.TextStyle[0].XAlign, name.TextStyle[0].YAlign = draw.XLeft, draw.YTop
	name.Offset = vg.Point{X: 3, Y: -1}
	p.Add(name)
	return nil
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
	d.legend.Draw(draw.Crop(c, pad, -pad, 0, y-4-c.Max.Y))
	rows := make([][]*plot.Plot, len(d.plots))
	for i, p := range d.plots {
		rows[i] = []*plot.Plot{p}
	}
	tiles := draw.Tiles{
		Rows: len(rows), Cols: 1, PadTop: d.top() + panelHead, PadY: panelHead,
		PadLeft: pad, PadRight: pad + 6, PadBottom: lineHeight + pad,
	}
	canvases := plot.Align(rows, tiles, c)
	heading := lettered(lettering, true)
	heading.YAlign = draw.YBottom
	for i := range d.plots {
		at := canvases[i][0]
		d.plots[i].Draw(at)
		c.FillText(heading, vg.Point{X: c.Min.X + pad, Y: at.Max.Y + 5}, d.Panels[i].Y.Label(d.Units))
	}
	foot := lettered(lettering, true)
	foot.XAlign, foot.YAlign = draw.XRight, draw.YBottom
	c.FillText(foot, vg.Point{X: c.Max.X - pad - 6, Y: c.Min.Y + pad}, d.X.Label(d.Units))
}
