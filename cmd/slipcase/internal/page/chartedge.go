package page

import (
	"math"

	"slipcase/weather/units"
)

// offName tells runs that do not count.
const offName = "run that does not count: lifted, or off"

// offSeries marks runs that were let go or look wrong.
func offSeries() Series { return Series{Name: offName, Shape: Cross, Color: Quiet, Off: true} }

// beyond is how far a run that does not count may widen a scale, by what the others take.
const beyond = 0.4

// toEdge puts runs that do not count, where they lie far from all others, to the edge of
// their panel: they would press the others into a line.
func (c *Chart) toEdge() {
	spans := make([][2]float64, len(c.Panels))
	for i := range c.Panels {
		spans[i] = c.Panels[i].span()
	}
	if c.SameY {
		all := [2]float64{math.Inf(1), math.Inf(-1)}
		for _, s := range spans {
			all = [2]float64{math.Min(all[0], s[0]), math.Max(all[1], s[1])}
		}
		for i := range spans {
			spans[i] = all
		}
	}
	for i := range c.Panels {
		if low, high := spans[i][0], spans[i][1]; low <= high {
			room := beyond * math.Max(high-low, leastSpanS)
			c.Panels[i].parted(low-room, high+room)
		}
	}
}

// leastSpanS is what runs are taken to spread over at least.
const leastSpanS = 0.1

// span is what all but the runs that do not count reach over.
func (p *Panel) span() [2]float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range p.Series {
		if s.Off {
			continue
		}
		for _, at := range s.Points {
			for _, v := range []units.Number{units.Some(at.Y), at.Low, at.High} {
				if v.Known() {
					low, high = math.Min(low, v.Value()), math.Max(high, v.Value())
				}
			}
		}
	}
	return [2]float64{low, high}
}

// parted makes a series of its own of what does not count and lies beyond.
func (p *Panel) parted(low, high float64) {
	edge := Series{Name: "the same beyond the scale, its figure beside", Shape: Edge, Color: Quiet, Off: true}
	for i := range p.Series {
		s := &p.Series[i]
		if !s.Off {
			continue
		}
		var kept []Spot
		for _, at := range s.Points {
			if at.Y < low || at.Y > high {
				edge.Points = append(edge.Points, at)
			} else {
				kept = append(kept, at)
			}
		}
		s.Points = kept
		if len(kept) == 0 {
			edge.Name = s.Name + ": beyond the scale, its figure beside"
		}
	}
	p.Series = some(append(p.Series, edge)...)
}
