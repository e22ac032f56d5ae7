package crew

import (
	"slipcase/predict"
	"slipcase/weather/units"
)

// ImpliedAsk is a run of which the power is asked.
type ImpliedAsk struct {
	WeightLb float64
	ET, MPH  units.Number // at the quarter mile
	Loss     float64
}

// ImpliedPower is the power that moved a run.
type ImpliedPower struct {
	Ask      ImpliedAsk
	Formulas []Implied
	Says     string // of the gap between time and speed, by Fox's; "" without both
}

// Implied is the power that one formula gives, by the time and by the speed, hp.
type Implied struct {
	Name                                             string
	ClutchByET, WheelsByET, ClutchByMPH, WheelsByMPH units.Number
}

// Implies goes from a time or a speed back to power, by each formula.
func Implies(ask ImpliedAsk) (ImpliedPower, error) {
	out := ImpliedPower{Ask: ask}
	for _, f := range predict.Formulas {
		one, err := ask.by(f)
		if err != nil {
			return out, impossible("", err)
		}
		out.Formulas = append(out.Formulas, one)
	}
	if ask.ET.Known() && ask.MPH.Known() {
		i, err := predict.ImpliedPower(predict.Fox, At1320, ask.WeightLb, ask.ET.Value(), ask.MPH.Value())
		if err != nil {
			return out, impossible("", err)
		}
		out.Says = i.Says(units.Number{})
	}
	return out, nil
}

func (ask ImpliedAsk) by(f predict.Formula) (Implied, error) {
	out := Implied{Name: f.Name}
	for _, from := range []struct {
		figure         units.Number
		power          func(m Mark, weightLb, figure float64) (float64, error)
		clutch, wheels *units.Number
	}{
		{ask.ET, f.PowerFromET, &out.ClutchByET, &out.WheelsByET},
		{ask.MPH, f.PowerFromMPH, &out.ClutchByMPH, &out.WheelsByMPH},
	} {
		if !from.figure.Known() {
			continue
		}
		hp, err := from.power(At1320, ask.WeightLb, from.figure.Value())
		if err != nil {
			return out, err
		}
		*from.clutch, *from.wheels = units.Some(hp), units.Some(predict.ToWheels(hp, ask.Loss))
	}
	return out, nil
}
