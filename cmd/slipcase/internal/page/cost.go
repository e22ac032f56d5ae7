package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Cost says what 1,000 ft of density altitude cost a vehicle at a distance, in metric
// what 300 m do, by heat as a day brings it; JSON has the height of another track too.
func (p *Page) Cost(v crew.Vehicle, c crew.ThousandFt, m crew.Mark) string {
	of, share := "1,000 ft", 1.
	if p.Units != units.US {
		const metres = 300
		of, share = fmt.Sprintf("%d m", metres), metres/units.Length.In(p.Units, 1000)
	}
	s := func(ft float64) string { return short(share*ft, 2) }
	return fmt.Sprintf("%s costs %s %s; formula %s", of, v.Name(), s(c.Heat.Own[m].Likely), s(c.Heat.Formula[m]))
}

// costJSON is what 1,000 ft of density altitude cost at a distance.
type costJSON struct {
	Ft            float64 `json:"distance_ft"`
	Heat          float64 `json:"heat_s"`
	HeatLow       float64 `json:"heat_low80_s"`
	HeatHigh      float64 `json:"heat_high80_s"`
	HeatFormula   float64 `json:"heat_formula_s"`
	Height        float64 `json:"height_s"`
	HeightLow     float64 `json:"height_low80_s"`
	HeightHigh    float64 `json:"height_high80_s"`
	HeightFormula float64 `json:"height_formula_s"`
}

// newCostsJSON are the costs at some distances.
func newCostsJSON(c crew.ThousandFt, at []crew.Mark) []costJSON {
	out := []costJSON{}
	s := func(v float64) float64 { return rounded(v, ToS) }
	for _, m := range at {
		heat, height := c.Heat.Own[m], c.Height.Own[m]
		out = append(out, costJSON{
			m.Ft(), s(heat.Likely), s(heat.Low), s(heat.High), s(c.Heat.Formula[m]),
			s(height.Likely), s(height.Low), s(height.High), s(c.Height.Formula[m]),
		})
	}
	return out
}

// asFarAs are the distances as far as one.
func asFarAs(far crew.Mark) (marks []crew.Mark) {
	for m := crew.At60; m <= far; m++ {
		marks = append(marks, m)
	}
	return marks
}
