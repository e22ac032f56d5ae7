package predict

import "slipcase/weather/units"

// Implied is the power at the clutch that one run shows, in the air it was made
// in, once by its time and once by its speed.
type Implied struct {
	ByET, ByMPH float64 // hp
	pull        float64 // the run's ET x MPH, scaled to the quarter mile
	formula     Formula
}

// ImpliedPower reads the power from the time in s and the speed in mph at a mark.
func ImpliedPower(f Formula, m Mark, weightLb, et, mph float64) (Implied, error) {
	byET, err := f.PowerFromET(m, weightLb, et)
	if err != nil {
		return Implied{}, err
	}
	byMPH, err := f.PowerFromMPH(m, weightLb, mph)
	if err != nil {
		return Implied{}, err
	}
	return Implied{byET, byMPH, pullAt(m, et, mph), f}, nil
}

// Gap is what the two powers of a run apart from each other mean.
type Gap struct {
	Kind    GapKind
	Pull    float64 // ET x MPH of the run, s mph, scaled to the quarter mile
	Usual   float64 // what it is held against: the vehicle's own, or the formula's
	Own     bool    // Usual is the vehicle's
	Formula string  // its name
}

// GapKind is what a gap means.
type GapKind string

// The gaps.
const (
	GapEarly     GapKind = "early"      // traction or gearing was missing, not power
	GapLate      GapKind = "late"       // speed was missing at the end
	GapOfFormula GapKind = "of-formula" // not of the vehicle
	GapUntold    GapKind = "untold"     // without the vehicle's own pulls
	GapHalf      GapKind = "half"       // time and speed of half the distance
	GapShort     GapKind = "short"      // no full pull of any vehicle makes so little: lifted, or misread
)

// Gap tells what the two powers mean. ET x MPH
// alone decides it, since ByET/ByMPH = (AB/(ET x MPH))^3: the formula's constants
// cancel only against a car that has the same product, so the car's own median
// (absent when it has none) is the better judge.
func (i Implied) Gap(ownPull units.Number) Gap {
	g := Gap{Kind: GapUntold, Pull: i.pull, Own: ownPull.Known(), Formula: i.formula.Name}
	g.Usual = ownPull.Or(i.formula.A * i.formula.B)
	switch {
	case 2*g.Pull >= lowPull && 2*g.Pull <= highPull:
		g.Kind = GapHalf
	case g.Pull < lowPull:
		g.Kind = GapShort
	case g.Pull > g.Usual*(1+pullDoubt):
		g.Kind = GapEarly
	case g.Own && g.Pull < g.Usual*(1-pullDoubt):
		g.Kind = GapLate
	case g.Own:
		g.Kind = GapOfFormula
	}
	return g
}
