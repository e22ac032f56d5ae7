package powertrain

import (
	"math"
	"math/rand/v2"
	"testing"
)

// powers are where the engine's power goes at an instant, W; summed over time, J.
type powers struct {
	gave     float64 // by the engine, as far as the driver lets it
	could    float64 // with the throttle open
	fluid    float64 // lost in converter or clutch
	gears    float64
	tread    float64
	resisted float64
}

func (p *powers) add(q powers, by float64) {
	p.gave += by * q.gave
	p.could += by * q.could
	p.fluid += by * q.fluid
	p.gears += by * q.gears
	p.tread += by * q.tread
	p.resisted += by * q.resisted
}

func (r *run) powers(s state, m moment) powers {
	v := r.vehicle
	p := powers{tread: m.thrust * s.v * s.slip, resisted: m.resistance * s.v}
	if r.shifting {
		return p
	}
	shaft := s.v * r.shaft() * (1 + s.slip)
	through, engine := m.through, v.Engine.Inertia*m.engineAccel
	switch {
	case v.Converter != nil:
		taken, _ := v.Converter.torques(s.engine, shaft)
		p.gave = (taken + engine) * s.engine
		p.fluid = taken*s.engine - through*shaft
	case r.slipping:
		p.gave = (through + engine) * s.engine
		p.fluid = through * (s.engine - shaft)
	default:
		p.gave = through * s.engine
		through -= v.Engine.Inertia * r.shaft() * (1 + s.slip) * m.accel
	}
	p.could = m.torque * s.engine
	p.gears = through * shaft * (1 - v.Gearbox.Efficiency)
	return p
}

// moving is the energy of all that moves, J.
func (v *Vehicle) moving(s state) float64 {
	wheel := s.v * (1 + s.slip) / v.Tires.Radius
	return (v.Chassis.Mass*s.v*s.v + v.Tires.Inertia*wheel*wheel + v.Engine.Inertia*s.engine*s.engine) / 2
}

// TestEnergyBalance follows the engine's work to where it went: every joule the engine
// gives is in the moving vehicle or was lost in converter, clutch, gears, tread, air
// and road, within 1 % of it. The slip's own change is left out of the equations,
// and the sums here are of the trapezoidal rule. It never gives more than it has.
func TestEnergyBalance(t *testing.T) {
	worst := 0.
	for l := TireLimit; l <= ConverterLimit; l++ {
		for seed := range uint64(20) {
			v := Draw(rand.New(rand.NewPCG(seed, 7)), l, seed%2 == 1)
			var sum powers
			var jumped, start float64
			var last *state
			v.timed(Standard, Luck{}, 4, func(r *run, from state, m moment, to state) {
				if last == nil {
					start = v.moving(from)
				} else {
					// Between two steps speeds jump only where the throttle is shut or a gear
					// engaged.
					jumped += v.moving(from) - v.moving(*last)
				}
				h := (to.t - from.t) / 2
				sum.add(r.powers(from, m), h)
				sum.add(r.powers(to, r.moment(to)), h)
				last = &to
			})
			kept := v.moving(*last) - start - jumped
			spent := sum.fluid + sum.gears + sum.tread + sum.resisted + kept
			if math.Abs(spent/sum.gave-1) > 0.01 {
				t.Errorf(
					"limit %d, vehicle %d: the engine gave %.0f kJ, %.0f kJ are accounted for",
					l,
					seed,
					sum.gave/1e3,
					spent/1e3,
				)
			}
			if sum.gave > 1.002*sum.could {
				t.Errorf("limit %d, vehicle %d: the engine gave %.0f kJ of %.0f", l, seed, sum.gave/1e3, sum.could/1e3)
			}
			worst = max(worst, math.Abs(spent/sum.gave-1))
		}
	}
	t.Logf("at most %.2f %% unaccounted for", 100*worst)
}
