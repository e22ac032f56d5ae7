package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// HeatCost says what 1,000 ft of density altitude cost a vehicle at a distance, in metric
// what 300 m do, by heat as a day at one track brings it.
func (p *Page) HeatCost(v crew.Vehicle, c crew.ThousandFt, m crew.Mark) string {
	of, s := p.thousandFt()
	return fmt.Sprintf("%s costs %s %s by heat; formula %s", of, v.Name(), s(c.Heat.Own[m].Likely), s(c.Heat.Formula[m]))
}

// Cost says beside that what they cost by the height of another track: standard air is of
// another height as well as of another heat.
func (p *Page) Cost(v crew.Vehicle, c crew.ThousandFt, m crew.Mark) string {
	of, s := p.thousandFt()
	return fmt.Sprintf("%s costs %s %s by heat, %s by height; formula %s and %s", of, v.Name(),
		s(c.Heat.Own[m].Likely), s(c.Height.Own[m].Likely), s(c.Heat.Formula[m]), s(c.Height.Formula[m]))
}

// thousandFt is what costs are told of, and how those of 1,000 ft are written then.
func (p *Page) thousandFt() (of string, written func(s float64) string) {
	of, share := "1,000 ft", 1.
	if p.Units != units.US {
		const metres = 300
		of, share = fmt.Sprintf("%d m", metres), metres/units.Length.In(p.Units, 1000)
	}
	return of, func(s float64) string { return short(share*s, 2) }
}

// lineSays says how steep the lines of a picture are that go over the airs of all runs, and
// where they rise otherwise than by heat alone, as over tracks of other heights, that too.
func (p *Page) lineSays(v crew.Vehicle, l crew.AirLine, m crew.Mark) []string {
	of, s := p.thousandFt()
	first, last := l.Points[0], l.Points[len(l.Points)-1]
	per := 1000 / (last.Air.DensityAltitudeFt() - first.Air.DensityAltitudeFt())
	along := [2]string{s(per * (last.Own.Centre - first.Own.Centre)), s(per * (last.Formula - first.Formula))}
	heat := [2]string{s(l.Cost.Heat.Own[m].Likely), s(l.Cost.Heat.Formula[m])}
	if along == heat {
		return []string{sentence(p.HeatCost(v, l.Cost, m))}
	}
	return []string{
		fmt.Sprintf("%s ET, by density altitude: %s costs %s %s; formula %s.",
			bare(p.Units, m.Ft()), of, v.Name(), along[0], along[1]),
		fmt.Sprintf("By heat alone %s, by height alone %s; formula %s and %s. At one track it is heat.",
			heat[0], s(l.Cost.Height.Own[m].Likely), heat[1], s(l.Cost.Height.Formula[m])),
	}
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
