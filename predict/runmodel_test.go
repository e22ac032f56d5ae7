package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

var threeCars = []RunModel{
	{WeightLb: 3450, PowerHP: 312, GripG: 0.5, DragAreaFt2: 7.5, Rolling: 0.015, Inertia: 0.05, RolloutFt: 1},
	{WeightLb: 600, PowerHP: 150, GripG: 0.95, DragAreaFt2: 4.5, Rolling: 0.02, Inertia: 0.03, RolloutFt: 1},
	{WeightLb: 2300, PowerHP: 1100, GripG: 1.9, DragAreaFt2: 6, Rolling: 0.02, Inertia: 0.05, RolloutFt: 1},
}

// ideal has nothing but mass and power.
func ideal(weightLb, powerHP, gripG float64) RunModel {
	return RunModel{WeightLb: weightLb, PowerHP: powerHP, GripG: gripG}
}

// The reference is the equation itself, stepped every microsecond.
func TestRunAgainstMicrosecondSteps(t *testing.T) {
	if testing.Short() {
		t.Skip("integrates 10⁷ steps a car")
	}
	for i, m := range threeCars {
		for _, wind := range []float64{0, 12, -15} {
			if i > 0 && wind != 12 {
				continue
			}
			got, err := m.Run(1.15, wind)
			if err != nil {
				t.Fatal(err)
			}
			want := byMicroseconds(m, 1.15, wind)
			for k := range got.ET {
				if d := math.Abs(got.ET[k] - want.ET[k]); d > 5e-5 {
					t.Errorf("car %d wind %g mark %d: ET %.6f, stepped %.6f", i, wind, k, got.ET[k], want.ET[k])
				}
				if d := math.Abs(got.MPH[k] - want.MPH[k]); d > 2e-3 {
					t.Errorf("car %d wind %g mark %d: mph %.4f, stepped %.4f", i, wind, k, got.MPH[k], want.MPH[k])
				}
			}
		}
	}
}

func byMicroseconds(m RunModel, density, windMPH float64) (out Timing) {
	const h = 1e-6
	mass := m.WeightLb * units.KgPerLb
	inertial := mass * (1 + m.Inertia)
	cda := m.DragAreaFt2 * units.MetrePerFoot * units.MetrePerFoot
	w := windMPH * units.MetrePerSecPerMPH
	var x, v, now, start float64
	var trap [Marks]float64
	rollout, mark := m.RolloutFt*units.MetrePerFoot, At60
	for mark < Marks {
		thrust := math.Min(inertial*m.GripG*gravity, m.PowerHP*units.WattPerHP/math.Max(v, 1e-9))
		a := (thrust - density*cda/2*(v+w)*math.Abs(v+w) - m.Rolling*mass*gravity) / inertial
		last := x
		x += v*h + a*h*h/2
		v += a * h
		now += h
		if last < rollout && x >= rollout {
			start = now
		}
		at := mark.Ft() * units.MetrePerFoot
		if from := at - trapFt*units.MetrePerFoot; last < from && x >= from {
			trap[mark] = now - (x-from)/v
		}
		if x >= at {
			end := now - (x-at)/v
			out.ET[mark] = end - start
			if mark > At60 {
				out.MPH[mark] = trapFt * units.MetrePerFoot / (end - trap[mark]) / units.MetrePerSecPerMPH
			}
			mark++
		}
	}
	return out
}

// Fox (1973): constant power and nothing else, t = (9 m s²/(8P))^⅓; the quarter
// takes 2^⅔ of the eighth.
func TestConstantPowerLimit(t *testing.T) {
	for _, grip := range []float64{math.Inf(1), 1e6} {
		got, err := ideal(3450, 312, grip).Run(0, 0)
		if err != nil {
			t.Fatal(err)
		}
		for m := At60; m < Marks; m++ {
			s := m.Ft() * units.MetrePerFoot
			want := math.Cbrt(9 * 3450 * units.KgPerLb * s * s / (8 * 312 * units.WattPerHP))
			if math.Abs(got.ET[m]/want-1) > 1e-6 {
				t.Errorf("grip %g, %g ft: %.8f, want %.8f", grip, m.Ft(), got.ET[m], want)
			}
		}
		if r := got.ET[At1320] / got.ET[At660]; math.Abs(r-math.Pow(2, 2./3)) > 1e-6 {
			t.Errorf("quarter over eighth %.7f", r)
		}
	}
}

// A university's worked problem ("top fuel", MIT mechanics wiki): 4.5 s from rest
// over a quarter mile at constant power ends at 300 mph, at constant acceleration
// at 400. The trap's mean lies below the end of it.
func TestTopFuelWorkedProblem(t *testing.T) {
	s := 1320 * units.MetrePerFoot
	k := 9 * s * s / (8 * math.Pow(4.5, 3)) // W/kg, from Fox's t
	power := k * 2300 * units.KgPerLb / units.WattPerHP
	for _, c := range []struct {
		name      string
		model     RunModel
		end, trap float64
	}{
		{"constant power", ideal(2300, power, math.Inf(1)), 300, 0.9915},
		{"constant acceleration", ideal(2300, 1e9, 2*s/(4.5*4.5)/gravity), 400, 0.9874},
	} {
		got, err := c.model.Run(0, 0)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.ET[At1320]-4.5) > 1e-5 || math.Abs(got.MPH[At1320]/(c.end*c.trap)-1) > 1e-3 {
			t.Errorf("%s: %.5f s, %.2f mph; want 4.5 s, %g mph at the end", c.name, got.ET[At1320], got.MPH[At1320], c.end)
		}
	}
}

// Constant acceleration, t = √(2s/a); from the rollout r on, √(2s/a) - √(2r/a).
func TestConstantAccelerationLimit(t *testing.T) {
	m := ideal(3000, 1e9, 0.8)
	m.RolloutFt = 1
	got, err := m.Run(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	a := 0.8 * gravity / units.MetrePerFoot
	for k := At60; k < Marks; k++ {
		want := math.Sqrt(2*k.Ft()/a) - math.Sqrt(2/a)
		if math.Abs(got.ET[k]/want-1) > 1e-9 {
			t.Errorf("%g ft: %.9f, want %.9f", k.Ft(), got.ET[k], want)
		}
	}
}

// A brick ends at the speed where drag takes all the power, (2P/(ρ CdA))^⅓.
func TestTerminalSpeed(t *testing.T) {
	m := RunModel{WeightLb: 200, PowerHP: 20, GripG: 3, DragAreaFt2: 100}
	got, err := m.Run(1.2, 0)
	if err != nil {
		t.Fatal(err)
	}
	cda := 100 * units.MetrePerFoot * units.MetrePerFoot
	want := math.Cbrt(2*20*units.WattPerHP/(1.2*cda)) / units.MetrePerSecPerMPH
	if math.Abs(got.MPH[At1320]/want-1) > 1e-6 {
		t.Errorf("terminal %.5f mph, want %.5f", got.MPH[At1320], want)
	}
}

// Grip limit a then power k = P/m, no drag: the closed form
// d ln T/d ln P = (k/T)(1/(2a²) - v²/(2k²) + (s - k²/(2a³))/(kv)), derived from
// T = k/(2a²) + v²/(2k) with v³ = 3ks - k³/(2a³).
func TestPowerElasticityClosedForm(t *testing.T) {
	for _, c := range []struct{ w, p, grip, want, tol float64 }{
		{3450, 312, 0.5, -0.108, 0.001},
		{2300, 1100, 1.9, math.NaN(), 0},
		{600, 150, 0.95, math.NaN(), 0},
	} {
		s := 1320 * units.MetrePerFoot
		k, a := c.p*units.WattPerHP/(c.w*units.KgPerLb), c.grip*gravity
		v := math.Cbrt(3*k*s - k*k*k/(2*a*a*a))
		total := k/(2*a*a) + v*v/(2*k)
		closed := k / total * (1/(2*a*a) - v*v/(2*k*k) + (s-k*k/(2*a*a*a))/(k*v))
		if !math.IsNaN(c.want) && math.Abs(closed-c.want) > c.tol {
			t.Errorf("closed form %.4f, want %.3f", closed, c.want)
		}
		const e = 1e-4
		up, _ := ideal(c.w, c.p*math.Exp(e), c.grip).Run(0, 0)
		down, _ := ideal(c.w, c.p*math.Exp(-e), c.grip).Run(0, 0)
		got := math.Log(up.ET[At1320]/down.ET[At1320]) / (2 * e)
		if math.Abs(got-closed) > 1e-5 {
			t.Errorf("%g lb %g hp %g g: model %.6f, closed form %.6f", c.w, c.p, c.grip, got, closed)
		}
	}
}

func TestRunRefusesTheImpossible(t *testing.T) {
	for name, m := range map[string]RunModel{
		"no weight":     ideal(0, 300, 1),
		"no power":      ideal(3000, 0, 1),
		"not a number":  ideal(3000, math.NaN(), 1),
		"negative drag": {WeightLb: 3000, PowerHP: 300, GripG: 1, DragAreaFt2: -1},
		"stuck":         {WeightLb: 3000, PowerHP: 300, GripG: 0.1, Rolling: 0.5},
	} {
		if _, err := m.Run(1.2, 0); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func BenchmarkRun(b *testing.B) {
	for b.Loop() {
		if _, err := threeCars[0].Run(1.2, 3); err != nil {
			b.Fatal(err)
		}
	}
}

// Without a rollout the clock starts with the car: constant acceleration a takes
// sqrt(2 s/a) to 60 ft.
func TestRunWithoutRollout(t *testing.T) {
	m := RunModel{WeightLb: 3450, PowerHP: 1e6, GripG: 0.8}
	got, err := m.Run(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Sqrt(2 * 60 * units.MetrePerFoot / (0.8 * gravity)); math.Abs(got.ET[At60]-want) > 1e-6 {
		t.Errorf("60 ft in %v s, want %v", got.ET[At60], want)
	}
}
