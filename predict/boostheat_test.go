package predict

import (
	"math"
	"testing"

	"slipcase/weather"
	"slipcase/weather/units"
)

// An intercooler that takes the charge from 135 to 82 °F at one pressure is worth what
// SAE J1349 makes of the same two temperatures at its reference pressure: its own factor,
// 1.18 (99/pd) √(T/298.15) - 0.18, read as 1.18 times the indicated power less 0.18 of
// friction, gives 1.18 √(594.67/541.67) - 0.18 = 1.0564 to 1 (°R). A law of density
// would give 1.18 x 594.67/541.67 - 0.18 = 1.115.
func TestHeatCountsOnce(t *testing.T) {
	dry := 99000 / units.PascalPerInHg
	want := weather.Air{TempF: 135, StationInHg: dry}.SAEJ1349() / weather.Air{TempF: 82, StationInHg: dry}.SAEJ1349()
	near(t, "by J1349", want, 1.0564, 0.0025)

	// A turbo in air of 60 °F, its efficiency such that it heats the charge to 135 °F; the
	// intercooler's effectiveness is then (135 - 82)/(135 - 60).
	const ratio = 1.4
	cold := 60 + 459.67
	efficiency := rise(ratio, 1) * cold / (135 - 60)
	power := func(intercooler float64) float64 {
		p, _ := Boost{Blower: Turbo}.power(ratio, efficiency, intercooler, cold/1.8)
		return p
	}
	near(t, "by boost", power((135.-82)/(135-60))/power(0), want, 0.005)
}

// A charge heated by nothing but its compression, at no loss, is an engine in the air of
// that pressure and temperature: PowerRatio of that air.
func TestChargeIsTheEnginesAir(t *testing.T) {
	for _, r := range []float64{1.1, 1.2, 1.3} {
		hot := 77 + (77+459.67)*rise(r, 1)
		ref := weather.Air{TempF: 77, StationInHg: 29.235}
		want := naturalRatio(weather.Air{TempF: hot, StationInHg: 29.235 * r}) / naturalRatio(ref)
		indicated := breathed(r, 1, 0)*(1+frictionShare) - frictionShare
		if math.Abs(indicated/want-1) > 0.03 {
			t.Errorf("ratio %.1f: %.4f, by J1349 %.4f", r, indicated, want)
		}
	}
}
