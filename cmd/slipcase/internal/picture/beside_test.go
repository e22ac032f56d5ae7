package picture

import (
	"bytes"
	"testing"

	"slipcase/cmd/slipcase/internal/page"
)

// TestBesideInEveryPanel: marks at one place stand side by side in each of the panels of a
// picture, by what that panel has there, and not in the first alone.
func TestBesideInEveryPanel(t *testing.T) {
	two := func() page.Series {
		return page.Series{Shape: page.Dot, Points: []page.Spot{{X: 1, Y: 5}, {X: 1, Y: 5}, {X: 2, Y: 6}}}
	}
	c := page.Chart{Spread: true, X: page.Axis{Head: "jets", Free: true}, Panels: []page.Panel{
		{Series: []page.Series{two()}}, {Series: []page.Series{two()}},
	}}
	d := layOut(&c, true)
	for i := range c.Panels {
		moved := d.besides(&c.Panels[i])[&c.Panels[i].Series[0]]
		if len(moved) != 3 || moved[0] != 0 || moved[1] == 0 || moved[2] != 0 {
			t.Errorf("panel %d: the marks stand %v beside their place: want the second alone off it", i, moved)
		}
	}
	if err := Write(&bytes.Buffer{}, &c, ".svg"); err != nil {
		t.Error(err)
	}
}
