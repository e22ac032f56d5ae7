package picture

import (
	"math"

	"slipcase/cmd/slipcase/internal/page"
)

// besides are how far the marks of a panel stand beside their place, lest one hide another, of
// whatever series: the first on it, others to the right and the left of it in turn.
func (d *drawing) besides(of *page.Panel) map[*page.Series][]float64 {
	if _, done := d.moved[&of.Series[0]]; done {
		return d.moved
	}
	low, high := d.reach()
	bottom, top := d.span(of)
	tall, _ := d.heights()
	const apart, most = 2.1, 5 // of radii; beyond so many marks none has room
	wide, near := apart*float64(radius/(width-60))*(high-low), apart*float64(radius/tall)*(top-bottom)
	type taken struct {
		x, y float64
		slot int
	}
	var before []taken
	for k := range of.Series {
		s := &of.Series[k]
		d.moved[s] = make([]float64, len(s.Points))
		for i, at := range s.Points {
			used := map[int]bool{}
			x, y := d.X.In(d.Units, at.X), of.Y.In(d.Units, at.Y)
			for _, b := range before {
				if b.x == x && math.Abs(b.y-y) < near {
					used[b.slot] = true
				}
			}
			slot := 0
			for used[slot] {
				slot++
			}
			before = append(before, taken{x, y, slot})
			slot %= most
			side := float64((slot + 1) / 2)
			if slot%2 == 0 {
				side = -side
			}
			d.moved[s][i] = side * wide
		}
	}
	return d.moved
}
