package predict

import "math"

// Range is a figure as low, likely and high: the ends of 80 %.
type Range struct {
	Low    float64 `json:"low80"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high80"`
}

// Exactly is a figure without doubt.
func Exactly(v float64) Range { return Range{v, v, v} }

func (r Range) plus(s Range) Range {
	likely := r.Likely + s.Likely
	return Range{
		likely - math.Hypot(r.Likely-r.Low, s.Likely-s.Low), likely,
		likely + math.Hypot(r.High-r.Likely, s.High-s.Likely),
	}
}
