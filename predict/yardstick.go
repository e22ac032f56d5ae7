package predict

import (
	"errors"
	"fmt"

	"slipcase/weather"
	"slipcase/weather/units"
)

// yardstick is what the runs of a car are measured by before they are compared:
// Fox's formula or, without weight or power, the air law within one setup.
type yardstick struct {
	formula  bool
	setup    string
	power    StatedPower
	air      weather.Air
	airKnown bool
}

func newYardstick(next Pass) yardstick {
	m := next.Machine
	return yardstick{
		formula: m.WeightLb.Known() && m.PowerHP.Known(),
		setup:   m.Setup,
		power:   m.StatedPower(),
		air:     next.Air, airKnown: next.AirKnown,
	}
}

// read gives what the yardstick says of the run from 660 ft on. Without the
// formula the unit is arbitrary, and only the effect of the air is in it.
func (y yardstick) read(p Pass) (Splits, error) {
	m := p.Machine
	switch {
	case !y.formula && m.Setup != y.setup:
		return Splits{}, errors.New("another setup, and weight or power is not known")
	case !y.formula:
		power := 1.
		if y.airKnown {
			power = PowerRatio(m.Aspiration, y.airOf(p))
		}
		return Formula{A: 1, B: 1}.splits(1, power)
	case !m.WeightLb.Known() || !m.PowerHP.Known():
		return Splits{}, errors.New("its weight or power is not known")
	}
	clutch := m.StatedPower().Clutch
	if y.airKnown {
		clutch = func() (float64, error) { return m.StatedPower().ClutchIn(m.Aspiration, y.airOf(p)) }
	}
	power, err := clutch()
	if err != nil {
		return Splits{}, err
	}
	return Fox.splits(m.WeightLb.Value(), power)
}

// airOf is the run's air or, where that is not known, the next run's.
func (y yardstick) airOf(p Pass) weather.Air {
	if p.AirKnown {
		return p.Air
	}
	return y.air
}

// remarks says what had to be assumed; airless is how many earlier runs have no
// known air.
func (y yardstick) remarks(airless int) []string {
	var remarks []string
	if y.formula {
		remarks = y.power.Remarks(y.airKnown)
	} else if !y.airKnown {
		remarks = append(remarks, "no air known: earlier runs are taken as in the same air")
	}
	if y.airKnown && airless > 0 {
		remarks = append(remarks, fmt.Sprintf("%d of the earlier runs have no known air: taken as in this air", airless))
	}
	return remarks
}

// splits gives the formula's time and speed at every mark it tells.
func (f Formula) splits(weightLb, clutchHP float64) (Splits, error) {
	var s Splits
	for m := At660; m < Marks; m++ {
		et, err := f.ET(m, weightLb, clutchHP)
		if err != nil {
			return Splits{}, err
		}
		mph, err := f.MPH(m, weightLb, clutchHP)
		if err != nil {
			return Splits{}, err
		}
		s.ETs[m], s.MPHs[m] = units.Some(et), units.Some(mph)
	}
	return s, nil
}
