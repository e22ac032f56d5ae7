package predict

import (
	"math"
	"testing"

	"slipcase/weather/units"
)

// What moves a car is what its wheels have: 312 hp there run the same by the formulas
// whatever drives them, and 360 hp at the clutch run by what each drive leaves, quicker
// where it loses less. By hand: 312/0.85 = 367.06; 360 (1 - 0.20)/0.85 = 338.82.
func TestDrivelineLossMakesNoPower(t *testing.T) {
	for _, c := range []struct {
		kind  Kind
		drive Drive
		at    Place
		hp    float64
		want  float64
	}{
		{Car, RearDrive, AtWheels, 312, 367.06},
		{Car, FrontDrive, AtWheels, 312, 367.06},
		{Car, AllDrive, AtWheels, 312, 367.06},
		{Motorcycle, "", AtWheels, 312, 312 / 0.90},
		{Car, RearDrive, AtClutch, 360, 360},
		{Car, FrontDrive, AtClutch, 360, 360 * 0.87 / 0.85},
		{Car, AllDrive, AtClutch, 360, 338.82},
		{Motorcycle, "", AtClutch, 360, 360},
	} {
		s := StatedPower{HP: c.hp, At: c.at, Loss: DefaultLoss(c.kind, c.drive)}
		hp, err := s.Clutch()
		if got := ForFormulas(c.kind, hp, s.Loss); err != nil || math.Abs(got-c.want) > 0.01 {
			t.Errorf("%+v: %.2f hp, %v", c, got, err)
		}
		if _, back := FromFormulas(c.kind, ForFormulas(c.kind, hp, s.Loss), s.Loss); math.Abs(back-hp) > 1e-9 {
			t.Errorf("%+v: %v and back %v", c, hp, back)
		}
	}
	// And so the forecasts of a log do before there are runs.
	var ets []float64
	for _, d := range []Drive{RearDrive, FrontDrive, AllDrive} {
		p := bare(t, Machine{Kind: Car, Drive: d, WeightLb: units.Some(3450), PowerHP: units.Some(312), PowerAt: AtWheels})
		ets = append(ets, p.Before.ETs[At1320].Centre)
	}
	if math.Abs(ets[1]-ets[0]) > 1e-6 || math.Abs(ets[2]-ets[0]) > 1e-6 {
		t.Errorf("312 hp at the wheels run %v", ets)
	}
}
