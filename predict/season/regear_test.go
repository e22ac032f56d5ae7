package season_test

import (
	"errors"
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season/powertrain"
	"slipcase/weather/units"
)

// pullOf is a pull of one on rollers, 250 rpm apart, up to its limiter.
func pullOf(v *powertrain.Vehicle) (c predict.Curve) {
	for rpm := 0.3 * v.Engine.Limit / perRPM; rpm <= v.Engine.Limit/perRPM; rpm += 250 {
		hp := v.Engine.Power(rpm*perRPM, powertrain.Air{Kelvin: 298.15, DryPa: 99000}) / perHP * v.Gearbox.Efficiency
		c = append(c, predict.DynoPoint{RPM: rpm, HP: hp})
	}
	return c
}

// What another final drive, tire, shift or stall brings, by the sheet and the gearing on file,
// against two runs of the second simulator (season/powertrain), without luck. The finish is
// crossed in a gear of 1:1, as the three-speeds of such cars do, so that the whole ratio of
// the last gear is the final drive.
func TestRegear(t *testing.T) {
	for _, c := range []struct {
		vehicle             string
		final, shift, stall float64 // so many times
		within              float64 // s at 1320 ft
	}{
		{"bracket", 0.9, 1, 1, 0.035},
		{"bracket", 0.95, 1, 1, 0.025},
		{"bracket", 1.04, 1, 1, 0.025},
		{"600 cc", 0.95, 1, 1, 0.04},
		{"600 cc", 1.05, 1, 1, 0.04},
		{"600 cc", 1.1, 1, 1, 0.07},
		{"bracket", 1, 0.92, 1, 0.06},
		{"bracket", 1, 1.04, 1, 0.025},
		{"economy", 1, 0.92, 1, 0.11},
		{"economy", 1, 0.96, 1, 0.05},
		{"all-wheel turbo", 1, 0.92, 1, 0.08},
		{"600 cc", 1, 0.92, 1, 0.05},
		{"blown", 1, 0.96, 1, 0.02},
		{"bracket", 1, 1, 1.1, 0.03},
		{"bracket", 1, 1, 0.9, 0.03},
	} {
		v := named[c.vehicle]
		base := v.Run(airOf(namedAir), powertrain.Luck{})
		with := v
		with.Gearbox.Ratios = nil
		for _, r := range v.Gearbox.Ratios {
			with.Gearbox.Ratios = append(with.Gearbox.Ratios, r*c.final)
		}
		with.Gearbox.ShiftRate *= c.shift
		if c.stall != 1 {
			k := *v.Converter
			k.K *= c.stall
			with.Converter = &k
		}
		finish := powertrain.Marks - 1
		truth := with.Run(airOf(namedAir), powertrain.Luck{}).ET[finish] - base.ET[finish]
		runs, next := logOf(c.vehicle, v)
		p, err := predict.NewProspect(runs, next)
		if err != nil {
			t.Fatal(err)
		}
		now := predict.Drivetrain{
			Final:    units.Some(v.Gearbox.Ratios[len(v.Gearbox.Ratios)-1]),
			TyreIn:   units.Some(2 * v.Tires.Radius / 0.0254),
			ShiftRPM: units.Some(v.Gearbox.ShiftRate / perRPM), StallRPM: units.Some(4200),
		}
		var then predict.Drivetrain
		switch {
		case c.final != 1:
			then.Final = units.Some(now.Final.Value() * c.final)
		case c.shift != 1:
			then.ShiftRPM = units.Some(now.ShiftRPM.Value() * c.shift)
		default:
			then.StallRPM = units.Some(now.StallRPM.Value() * c.stall)
		}
		r, err := p.Regear(pullOf(&v), now, then)
		if err != nil {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		u, err := p.Try(r.Change)
		if err != nil {
			t.Fatal(err)
		}
		said := u.ETGain[predict.At1320]
		t.Logf("%+v: truly %+.3f, said %+.3f (%+.3f to %+.3f)", c, truth, said.Likely, said.Low, said.High)
		if math.Abs(said.Likely-truth) > c.within {
			t.Errorf("%+v: %+.3f truly, %+.3f said", c, truth, said.Likely)
		}
	}
}

// What is not known is said, and nothing made up.
func TestRegearCannotTell(t *testing.T) {
	v := named["bracket"]
	runs, next := logOf("bracket", v)
	p, err := predict.NewProspect(runs, next)
	if err != nil {
		t.Fatal(err)
	}
	now := predict.Drivetrain{Final: units.Some(4.3), TyreIn: units.Some(27.5)}
	for what, c := range map[string]struct {
		curve     predict.Curve
		now, then predict.Drivetrain
	}{
		"no curve":           {nil, now, predict.Drivetrain{Final: units.Some(4.56)}},
		"no tire on file":    {pullOf(&v), predict.Drivetrain{Final: units.Some(4.3)}, predict.Drivetrain{Final: units.Some(4.56)}},
		"past the last row":  {pullOf(&v), now, predict.Drivetrain{Final: units.Some(5.6)}},
		"no shift on file":   {pullOf(&v), now, predict.Drivetrain{ShiftRPM: units.Some(6200)}},
		"no stall on file":   {pullOf(&v), now, predict.Drivetrain{StallRPM: units.Some(4600)}},
		"before its first":   {pullOf(&v), predict.Drivetrain{StallRPM: units.Some(3000)}, predict.Drivetrain{StallRPM: units.Some(1500)}},
		"shift past the end": {pullOf(&v), predict.Drivetrain{ShiftRPM: units.Some(6400)}, predict.Drivetrain{ShiftRPM: units.Some(8000)}},
	} {
		if r, err := p.Regear(c.curve, c.now, c.then); !errors.Is(err, predict.ErrCannotTell) {
			t.Errorf("%s: %+v, %v", what, r, err)
		}
	}
}
