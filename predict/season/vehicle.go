package season

import (
	"math"

	"slipcase/predict"
	"slipcase/weather/units"
)

// vehicle is what a season is run with, by either simulator.
type vehicle interface {
	run(air state, e effects) timing
	facts() facts
	// with is the vehicle with its power times, its mass and its grip times something.
	with(power, kg, grip float64) vehicle
}

// facts are what a racer's scales and sheets would say of a vehicle without error.
type facts struct {
	machine predict.Machine // all but setup, weight and power
	kg      float64
	watts   float64 // where machine says, in its standard's reference air
}

// entered is the machine as the racer enters it, a dyno sheet's error in its power.
func (f facts) entered(setup string, sheet bool, sheetError float64) predict.Machine {
	m := f.machine
	m.Setup = setup
	m.WeightLb = units.Some(math.Round(f.kg / units.KgPerLb))
	if sheet {
		m.PowerHP = units.Some(math.Round(f.watts / units.WattPerHP * math.Exp(sheetError)))
	} else {
		m.PowerAt, m.Standard = "", ""
	}
	return m
}

func (m *machine) facts() facts {
	return facts{
		machine: predict.Machine{
			Kind: m.kind, Aspiration: m.aspiration, Drive: m.drive,
			PowerAt: predict.AtWheels, Standard: predict.StandardJ607,
		},
		kg: m.mass, watts: m.peak,
	}
}

func (m *machine) with(power, kg, grip float64) vehicle {
	n := *m
	n.peak *= power
	n.mass += kg
	n.grip *= grip
	return &n
}
