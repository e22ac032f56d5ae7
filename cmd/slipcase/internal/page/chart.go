package page

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Chart is a picture in words and figures, for whoever draws it: what is drawn is what
// its data say.
type Chart struct {
	Kind   string // air
	Title  string
	Says   []string // what is to be seen in it, the answer first
	Keys   []string // what its letters mean
	X      Axis
	Panels []Panel // over one another, with the same X
	SameY  bool    // they share the scale of Y too
	Spread bool    // marks at one place are drawn side by side
	Units  units.System
}

// Axis is what a position means.
type Axis struct {
	Head   string // what a person reads, without the unit
	Name   string // in data, without the unit
	Of     units.Kind
	Signed bool           // a difference
	Zone   *time.Location // it is a moment, in Unix seconds
	Ticks  []Tick         // names in place of figures,
	Named  bool           // in data too
	Free   bool           // figures of a column: none knows their size, the axis covers what they cover
}

// Tick is a place with a name.
type Tick struct {
	At   float64
	Name string
}

// Panel is one of the fields of a picture.
type Panel struct {
	Y      Axis
	Rules  []Rule
	Series []Series
}

// Rule is a line right across.
type Rule struct {
	At      float64
	Upright bool
	Name    string // a letter at its end
	Key     string // what it means, "" where another one says it
}

// Shape is what a mark looks like: never told by color alone.
type Shape string

// The shapes.
const (
	Dot      Shape = "dot"
	Ring     Shape = "ring"
	Box      Shape = "square"
	Up       Shape = "triangle up"
	Down     Shape = "triangle down"
	Hollow   Shape = "hollow triangle down"
	Cross    Shape = "cross"
	Edge     Shape = "cross at the edge" // its place is beyond the scale: its figure stands beside it
	Bar      Shape = "short bar"
	Line     Shape = "line"
	Thick    Shape = "thick line"
	Dashes   Shape = "dashed line"
	Between  Shape = "band"
	Ties     Shape = "line to line" // from each second point to the next
	Stems    Shape = "bars from 0"
	Whiskers Shape = "range"
)

// Color is the part that a series has in a picture.
type Color int

// The colors.
const (
	Own Color = iota
	Other
	Third
	Quiet
)

// Series are points of one kind.
type Series struct {
	Name   string // "" is told by another one
	Shape  Shape
	Color  Color
	Beside float64 // so far beside its place it is drawn, lest one of another series hide it
	Off    bool    // its runs do not count: the others set the scale
	Faint  bool    // a line or band that goes where nothing was run: thin dashes
	Points []Spot
}

// Spot is a point, and its range where it has one.
type Spot struct {
	X, Y      float64
	Low, High units.Number
	Of        string // the run
}

// Bare reports an axis without a unit.
func (a *Axis) Bare() bool { return a.Of.Name == "" || a.Zone != nil || a.Named }

// In is a value as it is shown.
func (a *Axis) In(s units.System, v float64) float64 {
	if a.Bare() {
		return v
	}
	return a.Of.In(s, v)
}

// Label is what stands at an axis, with its unit.
func (a *Axis) Label(s units.System) string {
	if a.Bare() {
		return a.Head
	}
	return a.Head + ", " + a.Of.Symbol(s)
}

// key is the name of an axis in data, with its unit: always that in which it is recorded.
func (a *Axis) key(s units.System) string {
	if a.Bare() {
		return a.Name
	}
	return a.Name + "_" + strings.ToLower(strings.ReplaceAll(strings.ReplaceAll(a.Of.Symbol(s), "/", "_"), "-", "_"))
}

type chartJSON struct {
	Picture string      `json:"picture"`
	Title   string      `json:"title"`
	Says    []string    `json:"says"`
	X       string      `json:"x_is"`
	Panels  []panelJSON `json:"panels"`
}

type panelJSON struct {
	Y      string       `json:"y_is"`
	Series []seriesJSON `json:"series"`
}

type seriesJSON struct {
	Name   string     `json:"name"`
	Shape  string     `json:"shape"`
	Points []spotJSON `json:"points"`
}

type spotJSON struct {
	X    any          `json:"x"`
	Y    float64      `json:"y"`
	Low  units.Number `json:"low,omitzero"`
	High units.Number `json:"high,omitzero"`
	Run  string       `json:"id,omitzero"`
}

// Chart tells the figures of a picture.
func (p *Page) Chart(c Chart) error {
	out := chartJSON{c.Kind, c.Title, append([]string{}, c.Says...), c.X.key(units.US), []panelJSON{}}
	for _, panel := range c.Panels {
		one := panelJSON{panel.Y.key(units.US), []seriesJSON{}}
		for _, s := range panel.Series {
			if s.Shape == Ties { // it joins points of others
				continue
			}
			told := seriesJSON{s.Name, string(s.Shape), []spotJSON{}}
			for _, at := range s.Points {
				told.Points = append(told.Points, spotJSON{
					c.X.value(at.X), rounded(at.Y, ToMeanS), roundedNumber(at.Low, ToMeanS), roundedNumber(at.High, ToMeanS), at.Of,
				})
			}
			one.Series = append(one.Series, told)
		}
		out.Panels = append(out.Panels, one)
	}
	p.Aside(c.Says)
	return p.Answer(out, c.Table(), func(w io.Writer) {
		for _, line := range c.Says {
			p.Wrap(w, table.Clean(line))
		}
	})
}

// value is a place along an axis as data have it.
func (a *Axis) value(v float64) any {
	switch {
	case a.Zone != nil:
		return time.Unix(int64(v), 0).In(a.Zone).Format(time.RFC3339)
	case a.Named:
		if i := slices.IndexFunc(a.Ticks, func(t Tick) bool { return t.At == v }); i >= 0 {
			return a.Ticks[i].Name
		}
	}
	return rounded(v, ToMeanS)
}

// Table has the figures of a picture, a row a point.
func (c *Chart) Table() table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "what", Key: "series"},
		{Head: c.X.Label(c.Units), Key: c.X.key(c.Units), Right: true},
	}}
	first := len(t.Columns)
	for _, panel := range c.Panels {
		key := panel.Y.key(c.Units)
		t.Columns = append(t.Columns, table.Column{Head: panel.Y.Label(c.Units), Key: key, Right: true})
		if panel.Y.Named {
			key = c.X.key(c.Units)
		}
		if panel.ranged() {
			t.Columns = append(t.Columns, table.Column{Head: "from", Key: "low_" + key, Right: true},
				table.Column{Head: "to", Key: "high_" + key, Right: true})
		}
	}
	t.Columns = append(t.Columns, table.Column{Head: "run", Key: "id"})
	at := first
	for _, panel := range c.Panels {
		for _, s := range panel.Series {
			if s.Shape == Ties {
				continue
			}
			for _, spot := range s.Points {
				row := make([]string, len(t.Columns))
				row[0], row[1], row[len(row)-1] = s.Name, c.X.text(c.Units, spot.X), spot.Of
				row[at] = panel.Y.text(c.Units, spot.Y)
				if spot.Low.Known() && spot.High.Known() {
					row[at+1], row[at+2] = panel.Y.text(c.Units, spot.Low.Value()), panel.Y.text(c.Units, spot.High.Value())
				}
				t.Rows = append(t.Rows, row)
			}
		}
		if at++; panel.ranged() {
			at += 2
		}
	}
	return t
}

// ranged reports that some of the points have a range.
func (p *Panel) ranged() bool {
	return slices.ContainsFunc(p.Series, func(s Series) bool {
		return slices.ContainsFunc(s.Points, func(at Spot) bool { return at.Low.Known() && at.High.Known() })
	})
}

func (a *Axis) text(s units.System, v float64) string {
	if a.Zone != nil || a.Named {
		return fmt.Sprint(a.value(v))
	}
	decimals := ToMeanS
	if !a.Bare() && a.Of.Name == units.Length.Name {
		decimals = ToFt
	}
	return strconv.FormatFloat(rounded(a.In(s, v), decimals), 'f', -1, 64)
}

// brief shortens a name of the racer's own to what a picture has room for.
func brief(name string, letters int) string {
	runes := []rune(table.Clean(name))
	if len(runes) <= letters {
		return string(runes)
	}
	return strings.TrimRight(string(runes[:letters-1]), " ") + "…"
}

// Drawn tells where a picture was drawn, and what is to be seen in it.
func (p *Page) Drawn(file string, c Chart) error {
	return p.Answer(nil, c.Table(), func(w io.Writer) {
		p.Wrap(w, table.Clean("drawn  "+file))
		for _, line := range c.Says {
			p.Wrap(w, table.Clean(line))
		}
	})
}
