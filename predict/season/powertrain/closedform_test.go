package powertrain

import (
	"math"
	"testing"
)

// bare is a vehicle without losses: no drag, no rolling resistance, nothing that
// turns with it, tires that hardly slip, one gear and a clutch that holds at once.
// Its torque is the same at all speeds below TorquePeak.
func bare() Vehicle {
	return Vehicle{
		Engine: Engine{
			PeakW: 200e3, PeakRate: 2000, TorquePeak: 0.9, Limit: 1e6, Inertia: 1e-6,
			Breathing: Breathing{PressureLaw: 1, TemperatureE: 0.5},
		},
		Clutch:  &Clutch{LaunchRate: 1, Capacity: 1},
		Gearbox: Gearbox{Ratios: []float64{4}, Efficiency: 1, ShiftRate: 1e6},
		Tires:   Tires{Radius: 0.3, Grip: 100, Stiffness: 1e9, Hold: 1},
		Chassis: Chassis{Mass: 1000, Wheelbase: 2.5, Ahead: 1.25, Height: 0.5, Bar: true, Balance: 1},
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.7g, want %.7g ± %.2g", what, got, want, tolerance)
	}
}

// steadily holds a run against a steady acceleration: t = √(2 s/a), the clock started
// by the rollout, and a trap speed that is the mean over its length.
func steadily(t *testing.T, what string, v Vehicle, a float64) {
	t.Helper()
	at := func(s float64) float64 { return math.Sqrt(2 * s / a) }
	run := v.Run(Standard, Luck{})
	for m, s := range markM {
		near(t, what, run.ET[m], at(s)-at(rollout), 2e-4)
		if m > 0 {
			near(t, what+", speed", run.Speed[m], trap/(at(s)-at(s-trap)), 2e-3)
		}
	}
}

// Torque through a locked first gear, inertia by gear: a = T n η/r / (m + Iw/r² +
// Ie n² η/r²), Gillespie eq. 2-9 with the engine's part behind the driveline's losses.
func TestSteadyTorque(t *testing.T) {
	v := bare()
	v.Gearbox.Efficiency = 0.9
	v.Tires.Inertia, v.Engine.Inertia = 4, 0.2
	torque := v.Engine.torque(10, 1, 1)
	r := v.Tires.Radius
	a := torque * 4 * 0.9 / r / (1000 + 4/(r*r) + 0.2*16*0.9/(r*r))
	steadily(t, "locked first gear", v, a)

	v = bare()
	v.Clutch.LaunchRate, v.Clutch.Capacity = 1500, 0.8 // slips to the end
	torque = 0.8 * v.Engine.torque(1500, 1, 1)
	steadily(t, "slipping clutch", v, torque*4/r/1000)
}

// Tires and front wheel: Gillespie eq. 2-15 and 2-17 with the load transfer solved
// for; all wheels, μ g; the front lifts at a = g b/h (moments about the rear axle).
func TestSteadyLimits(t *testing.T) {
	for what, c := range map[string]struct {
		drive Drive
		g     float64
	}{
		"rear":  {Rear, 0.8 * 0.5 / (1 - 0.8*0.5/2.5)},
		"front": {Front, 0.8 * 0.5 / (1 + 0.8*0.5/2.5)},
		"all":   {All, 0.8},
	} {
		v := bare()
		v.Engine.PeakW *= 20
		v.Chassis.Drive, v.Tires.Grip = c.drive, 0.8
		steadily(t, what, v, c.g*gravity)
	}
	v := bare()
	v.Engine.PeakW *= 20
	v.Chassis.Bar = false
	steadily(t, "wheelie", v, gravity*1.25/0.5)
}

// A tire that loses grip with its load solves F = μ(N) N, N = N₀ + F h/L: put back in.
func TestTractionOfLoadedTires(t *testing.T) {
	v := bare()
	v.Tires.Sensitivity = 0.1
	for _, drive := range []Drive{Rear, Front, All} {
		v.Chassis.Drive = drive
		n0, k := v.Chassis.standing()
		f := v.traction(0.9)
		n := n0 + k*f
		near(t, "traction", f, 0.9*(1-0.1*(n/n0-1))*n, 1e-6)
	}
}

// Many gears without a pause hold the engine at its peak: constant power, for which
// G. T. Fox (Am. J. Phys. 41 (1973) 311) has t = (9 m s²/(8 P))^⅓, v = (3 P s/m)^⅓.
func TestConstantPower(t *testing.T) {
	v := bare()
	v.Engine.PeakRate, v.Engine.Limit, v.Gearbox.ShiftRate = 500, 1e6, 502.5
	v.Clutch.LaunchRate = 497
	v.Gearbox.Ratios = nil
	for speed := 0.5; speed < 90; speed *= 1.01 {
		v.Gearbox.Ratios = append(v.Gearbox.Ratios, 502.5*v.Tires.Radius/speed)
	}
	run := v.Run(Standard, Luck{})
	ideal := func(s float64) float64 { return math.Cbrt(9 * 1000 * s * s / (8 * 200e3)) }
	for m, s := range markM {
		near(t, "time", run.ET[m], ideal(s)-ideal(rollout), 0.004*ideal(s))
		if m > 0 {
			near(t, "speed", run.Speed[m], trap/(ideal(s)-ideal(s-trap)), 0.1)
		}
	}
}

// Lifted, with drag alone: v falls as exp(-ρ CdA x/(2 m)), from m dv/dt = -½ ρ CdA v².
func TestCoasting(t *testing.T) {
	v := bare()
	v.Chassis.DragArea = 3
	run := v.Run(Standard, Luck{LiftM: 590 * foot})
	k := Standard.Density() * 3 / 2 / 1000
	// Mean speed over a trap: its length over ∫ dx/v.
	mean := func(s float64) float64 {
		return k * trap / (math.Exp(k*s) - math.Exp(k*(s-trap)))
	}
	for _, m := range []int{3, 4} {
		near(t, "speed kept", run.Speed[m]/run.Speed[2], mean(markM[m])/mean(markM[2]), 1e-4)
	}
}

// A converter at stall: the engine's torque is the pump's, the thrust multiplied; its
// efficiency is torque ratio times speed ratio.
func TestConverter(t *testing.T) {
	v := bare()
	c := &Converter{K: 20, StallRatio: 2, Coupling: 0.9, Early: 0.3}
	stall := c.stall(&v.Engine, 1)
	near(t, "stall", stall, 20*math.Sqrt(v.Engine.torque(stall, 1, 1)), 1e-6)
	taken, given := c.torques(400, 200)
	near(t, "torque ratio", given/taken, 2-0.5/0.9, 1e-12)
	near(t, "capacity", taken, 400*(1-0.3*math.Pow(0.5, 4)-0.7*math.Pow(0.5, 8)), 1e-9)
	taken, _ = c.torques(500, 500*c.coupled(500, 300))
	near(t, "coupled", taken, 300, 1e-9)
	_, given = c.torques(450, 100)
	near(t, "pump speed for a torque", c.pumpFor(given, 100, 600), 450, 1e-3)

	v.Clutch, v.Converter, v.Engine.Inertia = nil, c, 0.2
	v.Gearbox.Ratios[0] = 0.1 // hardly turns it
	f := v.Engine.torque(stall, 1, 1) * 2 * 0.1 / v.Tires.Radius
	run := v.Run(Standard, Luck{})
	near(t, "stalled launch", run.ET[0], math.Sqrt(2*markM[0]*1000/f)-math.Sqrt(2*rollout*1000/f), 2e-3*run.ET[0])
}

// The brush model: its stiffness where slip is small, all of μN at κ = 3μ/C (put back
// into F = μN (1 - (1 - Cκ/3μ)³)).
func TestSlip(t *testing.T) {
	tire := Tires{Stiffness: 20}
	near(t, "small slip", tire.slip(1, 5000, 1.2)*20*5000, 1, 1e-3)
	for _, f := range []float64{1000, 3000, 5500} {
		k := tire.slip(f, 5000, 1.2)
		near(t, "force", 6000*(1-math.Pow(1-20*k/3.6, 3)), f, 1e-6)
	}
}
