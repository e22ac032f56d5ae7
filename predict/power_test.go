package predict

import (
	"math"
	"slices"
	"testing"

	"slipcase/weather"
)

// A standard's reference air is the air in which its own factor is 1: SAE J1349
// (99 kPa dry, 25 °C), SAE J607 (29.92 inHg dry, 60 °F), DIN 70020 (1013 mbar,
// 20 °C). J607 rounds 60 °F, 519.67 °R, to 520.
func TestStandardReferenceHasFactorOne(t *testing.T) {
	for standard, factor := range map[Standard]func(weather.Air) float64{
		SAE: weather.Air.SAEJ1349, StandardJ607: weather.Air.SAEJ607, DIN: weather.Air.DIN70020,
	} {
		near(t, string(standard), factor(must(standard.reference())), 1, 5e-4)
	}
}

// hot is 29.92 inHg, 90 °F, 50 % (half of the 0.699 psi at saturation, ASHRAE
// Handbook Fundamentals 2017 ch. 1, from memory, times 1.0045 for moist air), where
// the factor of J1349 is 1.0154, computed apart from this package.
var hot = weather.Air{TempF: 90, StationInHg: 29.92, VapourInHg: 0.714}

func TestStatedPowerIsCarriedOnce(t *testing.T) {
	p := StatedPower{312, AtWheels, SAE, DefaultLoss(Car, RearDrive)}
	// 15 % is common practice, no source.
	near(t, "at the clutch", must(p.Clutch()), 367, 0.1)
	near(t, "in hot air, SAE", must(p.ClutchIn(Breathing{}, hot)), 312/0.85/1.0154, 0.1)
	// In its own reference air a figure is what it says, whatever feeds the engine.
	for _, asp := range []Aspiration{Natural, Supercharged, Turbocharged} {
		for _, s := range []Standard{SAE, StandardJ607, DIN} {
			p := StatedPower{400, AtClutch, s, 0}
			near(t, string(s), must(p.ClutchIn(Breathing{Aspiration: asp}, must(s.reference()))), 400, 1e-9)
		}
	}
	// J607's reference air is better than J1349's by 4.6 % (J1349's own factor
	// there, 1.18 (99/101.32) √(288.71/298.15) - 0.18 = 0.9546), so the same
	// figure means less power.
	sae := must(p.ClutchIn(Breathing{}, hot))
	p.Standard = StandardJ607
	near(t, "J607 over SAE", must(p.ClutchIn(Breathing{}, hot))/sae, 0.9546, 1e-3)
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
		{StatedPower{312, AtWheels, SAE, 0.15}, true, nil},
		{StatedPower{312, AtWheels, Uncorrected, 0.15}, true, []NoteKind{PowerUncorrected}},
		{StatedPower{312, AtWheels, SAE, 0.15}, false, []NoteKind{PowerAsStated}},
		{StatedPower{312, "", "", 0.15}, true, []NoteKind{PowerPlaceUntold, PowerStandardUntold}},
	} {
		if got := kindsOf(c.p.Assumed(c.known)); !slices.Equal(got, c.want) {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
}

func TestStatedPowerRefuses(t *testing.T) {
	for _, p := range []StatedPower{
		{0, AtClutch, SAE, 0},
		{math.NaN(), AtClutch, SAE, 0},
		{300, "flywheel?", SAE, 0},
		{300, AtWheels, "jis", 0},
		{300, AtWheels, SAE, 1},
		{300, AtWheels, SAE, -0.1},
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
