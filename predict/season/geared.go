package season

import (
	"math/rand/v2"

	"slipcase/predict"
	"slipcase/predict/season/powertrain"
	"slipcase/weather/units"
)

// geared is a vehicle of the second simulator, with what its power sheets state.
type geared struct {
	powertrain.Vehicle
	at       predict.Place
	standard predict.Standard
}

// newGeared draws one that the given limit holds back.
func newGeared(r *rand.Rand, limit Limit, kind predict.Kind) *geared {
	g := &geared{at: predict.AtWheels, standard: predict.StandardJ607}
	if r.Float64() < 0.25 {
		g.at = predict.AtClutch
	}
	if r.Float64() < 0.5 {
		g.standard = predict.SAE
	}
	g.Vehicle = powertrain.Draw(r, powertrain.Limit(limit), kind == predict.Motorcycle)
	return g
}

func (g *geared) run(air state, e effects) timing {
	t := g.Run(
		powertrain.Air{Kelvin: air.kelvin, DryPa: air.dryKPa * 1000, VapourPa: air.vapourKPa * 1000},
		powertrain.Luck{
			Launch: e.launch, Power: e.power, Grip: e.grip, ShiftS: e.shiftS, MissS: e.missS,
			Spin: e.spin, SpinM: e.spinFt * units.MetrePerFoot,
			LiftM: e.liftFt * units.MetrePerFoot, Left: e.left, Brake: e.brake,
			Stop: powertrain.Stop{On: e.stop.OnS, Off: e.stop.OffS, Share: e.stop.Share},
		},
	)
	out := timing{et: t.ET}
	for m, v := range t.Speed {
		out.mph[m] = v / units.MetrePerSecPerMPH
	}
	return out
}

// The standards' reference airs: SAE J1349 77 °F, 99 kPa dry; SAE J607 60 °F, 29.92 inHg.
var referenceAir = map[predict.Standard]powertrain.Air{
	predict.SAE:          {Kelvin: 298.15, DryPa: 99000},
	predict.StandardJ607: {Kelvin: 288.71, DryPa: 101321},
}

func (g *geared) facts() facts {
	f := facts{machine: predict.Machine{Kind: predict.Car, PowerAt: g.at, Standard: g.standard}, kg: g.Chassis.Mass}
	if g.Chassis.Motorcycle {
		f.machine.Kind = predict.Motorcycle
	}
	f.machine.Drive = [...]predict.Drive{predict.RearDrive, predict.FrontDrive, predict.AllDrive}[g.Chassis.Drive]
	f.machine.Aspiration = [...]predict.Aspiration{
		predict.Natural, predict.Supercharged, predict.Turbocharged, predict.Turbocharged,
	}[g.Engine.Breathing.Hold]
	air := referenceAir[g.standard]
	f.watts = g.WheelW(air)
	if g.at == predict.AtClutch {
		f.watts = g.CrankW(air)
	}
	return f
}

func (g *geared) with(power, kg, grip float64) vehicle {
	n := *g
	n.Vehicle = g.With(power-1, kg, grip-1)
	return &n
}
