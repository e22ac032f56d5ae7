package predict

import (
	"math"
	"slices"
	"testing"

	"slipcase/weather"
)

// hot is 29.92 inHg, 90 °F, 50 % (half of the 0.699 psi at saturation, ASHRAE
// Handbook Fundamentals 2017 ch. 1, from memory, times 1.0045 for moist air), where
// the factor of J1349 is 1.0154, computed apart from this package.
var hot = weather.Air{TempF: 90, StationInHg: 29.92, VapourInHg: 0.714}

func TestStatedPowerIsCarriedOnce(t *testing.T) {
	p := StatedPower{HP: 312, At: AtWheels, Standard: SAE, Loss: DefaultLoss(Car, RearDrive)}
	// 15 % is common practice, no source.
	near(t, "at the clutch", must(p.Clutch()), 367, 0.1)
	near(t, "in hot air, SAE", must(p.ClutchIn(Breathing{}, hot)), 312/0.85/1.0154, 0.1)
	// In SAE's reference air (99 kPa dry, 25 °C, where its factor is 1) its figure is what it
	// says, whatever feeds the engine.
	near(t, "factor of the reference", saeAir.SAEJ1349(), 1, 5e-4)
	for _, asp := range []Aspiration{Natural, Supercharged, Turbocharged} {
		p := StatedPower{HP: 400, At: AtClutch, Standard: SAE}
		near(t, string(asp), must(p.ClutchIn(Breathing{Aspiration: asp}, saeAir)), 400, 1e-9)
	}
	// One conversion: a figure of another standard is what Restate makes of it, by the
	// standards' own formulas in SAE's air: J607 29.92/29.235 √(536.67/520) = 1.0397, DIN
	// 1013/990 √(298.15/293) = 1.0322.
	for standard, factor := range map[Standard]float64{StandardJ607: 1.0397, DIN: 1.0322} {
		to := must(Restate(standard, SAE, DynoDay{}))
		near(t, string(standard), to.Times, 1/factor, 2e-4)
		p := StatedPower{HP: 313.7, At: AtClutch, Standard: standard}
		near(t, string(standard)+" carried", must(p.ClutchIn(Breathing{}, saeAir)), 313.7*to.Times, 1e-9)
	}
	near(t, "313.7 hp by J607 in SAE", 313.7*must(Restate(StandardJ607, SAE, DynoDay{})).Times, 301.7, 0.05)
	// What was measured in the air of the race is what the race has.
	p = StatedPower{HP: 300, At: AtClutch, Standard: Uncorrected, Day: DynoDay{Air: hot, Known: true}}
	for _, asp := range []Aspiration{Natural, Turbocharged} {
		near(t, "as measured", must(p.ClutchIn(Breathing{Aspiration: asp}, hot)), 300, 1e-9)
	}
	near(t, "as measured, in SAE's air", must(p.ClutchIn(Breathing{}, saeAir)), 300*1.0154, 0.1)
}

func kindsOf(notes []Note) (kinds []NoteKind) {
	for _, n := range notes {
		kinds = append(kinds, n.Kind)
	}
	return kinds
}

func TestStatedPowerSaysWhatItAssumes(t *testing.T) {
	for _, c := range []struct {
		p     StatedPower
		known bool
		want  []NoteKind
	}{
		{StatedPower{HP: 312, At: AtWheels, Standard: SAE, Loss: 0.15}, true, nil},
		{StatedPower{HP: 312, At: AtWheels, Standard: Uncorrected, Loss: 0.15}, true, []NoteKind{PowerUncorrected}},
		{StatedPower{HP: 312, At: AtWheels, Standard: SAE, Loss: 0.15}, false, []NoteKind{PowerAsStated}},
		{StatedPower{HP: 312, Loss: 0.15}, true, []NoteKind{PowerPlaceUntold, PowerStandardUntold}},
	} {
		if got := kindsOf(c.p.Assumed(c.known)); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
}

func TestStatedPowerRefuses(t *testing.T) {
	for _, p := range []StatedPower{
		{HP: 0, At: AtClutch, Standard: SAE},
		{HP: math.NaN(), At: AtClutch, Standard: SAE},
		{HP: 300, At: "flywheel?", Standard: SAE},
		{HP: 300, At: AtWheels, Standard: "jis"},
		{HP: 300, At: AtWheels, Standard: SAE, Loss: 1},
		{HP: 300, At: AtWheels, Standard: SAE, Loss: -0.1},
	} {
		if hp, err := p.ClutchIn(Breathing{}, weather.Standard); err == nil {
			t.Errorf("%+v: got %g hp, want an error", p, hp)
		}
	}
}

func TestDrivelineLossGoesBothWays(t *testing.T) {
	near(t, "there and back", ToWheels(ToClutch(312, 0.15), 0.15), 312, 1e-9)
	if !(DefaultLoss(Motorcycle, RearDrive) < DefaultLoss(Car, FrontDrive) && DefaultLoss(Car,
		FrontDrive) < DefaultLoss(Car, AllDrive)) {
		t.Error("a chain should lose least and all driven wheels most")
	}
}

func TestInputDoubtsAndErrors(t *testing.T) {
	for _, c := range []struct {
		check    func(float64) (*Unusual, error)
		v        float64
		doubt    bool
		refusing bool
	}{
		{CheckWeight, 3450, false, false},
		{CheckWeight, 199, true, false},
		{CheckWeight, 8001, true, false},
		{CheckWeight, 0, false, true},
		{CheckWeight, math.NaN(), false, true},
		{CheckPower, 312, false, false},
		{CheckPower, 5001, true, false},
		{CheckPower, math.Inf(1), false, true},
		{CheckPower, -5, false, true},
	} {
		doubt, err := c.check(c.v)
		if (doubt != nil) != c.doubt || (err != nil) != c.refusing {
			t.Errorf("%g: doubt %+v, error %v", c.v, doubt, err)
		}
	}
}

// What a run shows of the power, stated by a standard, makes that power in its air again:
// Stating and ClutchIn undo each other, however the engine breathes.
func TestStatingUndoesClutchIn(t *testing.T) {
	high := weather.Air{TempF: 95, StationInHg: 27.1, VapourInHg: 0.7}
	for _, b := range []Breathing{{}, {Aspiration: Supercharged}, {Aspiration: Turbocharged, Held: HoldsAbsolute}} {
		for _, s := range []Standard{SAE, StandardJ607, DIN, Uncorrected, ""} {
			times, err := s.Stating(b, high)
			stated := StatedPower{HP: 361 * times, At: AtClutch, Standard: s}
			if s == Uncorrected {
				stated.Day = DynoDay{Air: high, Known: true}
			}
			makes, bad := stated.ClutchIn(b, high)
			if err != nil || bad != nil || math.Abs(makes-361) > 1e-9 {
				t.Errorf("%+v %q: %v hp, %v %v", b, s, makes, err, bad)
			}
		}
	}
	if times, err := SAE.Stating(Breathing{}, hot); err != nil || math.Abs(times-1.0154) > 5e-5 {
		t.Errorf("SAE in hot air: times %v, %v; want 1.0154", times, err)
	}
}
