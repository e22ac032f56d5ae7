package crew

import (
	"slipcase/predict"
	"slipcase/weather/units"
)

// Targeted is what a time needs.
type Targeted struct {
	*Prospect
	Target   predict.Target
	Today    Stated // the power that its gains are shares of
	Implied  bool   // that power is what the runs imply
	Cautions ChangeCautions
}

// Reach works out what a time at the finish needs.
func (p *Prospect) Reach(et float64, tyresMPH units.Number) (Targeted, error) {
	need, err := p.car.Reach(p.Finish, et)
	if err != nil {
		return Targeted{}, impossible("target", err)
	}
	u, err := p.car.Try(need.Way)
	if err != nil {
		return Targeted{}, impossible("target", err)
	}
	today, notes := p.Stated()
	return Targeted{p, need, today, notes != nil, p.cautions(need.Way, u.Quick(), tyresMPH)}, nil
}
