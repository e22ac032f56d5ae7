package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/guptarohit/asciigraph"

	"slipcase/cmd/slipcase/internal/table"
)

// plotHeight is of one panel in the terminal, in lines.
const plotHeight = 9

// InTerminal draws the marks of a picture for a person in the terminal, in the order of its runs
// and as wide as the window; nothing in other forms.
func (p *Page) InTerminal(c Chart) {
	if p.Format != table.Text {
		return
	}
	width := 60
	if w := p.Width(); w > 0 {
		width = max(w-14, 20)
	}
	for _, panel := range c.Panels { // a box is a reading of the air, which is no run
		var spots []Spot
		for _, s := range panel.Series {
			if !slices.Contains([]Shape{Line, Dashes, Between, Whiskers, Box, Ties}, s.Shape) {
				spots = append(spots, slices.DeleteFunc(slices.Clone(s.Points), func(at Spot) bool { return at.Of == "" })...)
			}
		}
		if len(spots) < 2 {
			continue
		}
		slices.SortStableFunc(spots, func(a, b Spot) int { return cmp.Compare(a.X, b.X) })
		values := make([]float64, len(spots))
		for i, at := range spots {
			values[i] = panel.Y.In(c.Units, at.Y)
		}
		low, high := slices.Min(values), slices.Max(values)
		decimals := uint(max(0, 2-int(math.Floor(math.Log10(max(high-low, 1e-3))))))
		fmt.Fprintf(p.Out, "\n%s\n", asciigraph.Plot(values, asciigraph.Height(plotHeight), asciigraph.Width(width),
			asciigraph.Precision(min(decimals, 3)), asciigraph.Caption(panel.Y.Label(c.Units)+", runs in order")))
	}
}
