package weather

import (
	"slices"
	"testing"

	"slipcase/weather/units"
)

func TestCorrectionFactors(t *testing.T) {
	air := func(tempF, rh, inHg float64) Air { return moist(t, inHg*units.PascalPerInHg, celsius(tempF), rh) }
	dry := func(celsius, kPa float64) Air { return moist(t, kPa*1000, celsius, 0) }
	const note = "worked example of a dynamometer maker's technical note"
	for _, c := range []struct {
		name      string
		got       float64
		want      float64
		tolerance float64
		source    string
	}{
		{"J1349 at 29.92 inHg, 90 °F, 50 %", air(90, 50, 29.92).SAEJ1349(), 1.0154, 5e-5, "SAE J1349 formula computed apart"},
		{"J607 at 29.92 inHg, 90 °F, 50 %", air(90, 50, 29.92).SAEJ607(), 1.0533, 5e-5, "SAE J607 formula computed apart"},
		{"J607 at 28.85 inHg, 85 °F, 85 %", air(85, 85, 28.85).SAEJ607(), 1.1005, 1e-3, note},
		{"J607 at 30.10 inHg, 55 °F, 35 %", air(55, 35, 30.10).SAEJ607(), 0.994, 1e-3, note},
		{"J1349 in its own air", dry(25, 99).SAEJ1349(), 1, 1e-9, "SAE J1349: 99 kPa dry, 25 °C"},
		{"ISO 1585 in its own air", dry(25, 99).ISO1585(), 1, 4e-4, "ISO 1585: 99 kPa dry, 298 K (from memory)"},
		{"DIN 70020 in its own air", dry(20, 101.3).DIN70020(), 1, 4e-4, "DIN 70020: 1013 mbar, 20 °C"},
		{"J607 in its own air", dry(celsius(60), 29.92*units.PascalPerInHg/1000).SAEJ607(), 1, 4e-4, "SAE J607: 29.92 inHg dry, 60 °F"},
		{"DIN 70020 counts no water", air(90, 50, 29.92).DIN70020(), air(90, 0, 29.92).DIN70020(), 1e-12, "DIN 70020 (from memory)"},
	} {
		near(t, c.name, c.got, c.want, c.tolerance, c.source)
	}
}

// Limits: 0.93 to 1.07, 15 to 35 °C, 90 to 105 kPa (from memory).
func TestCorrectionLimits(t *testing.T) {
	type of struct {
		standard string
		quantity Quantity
	}
	for _, c := range []struct {
		name         string
		celsius, kPa float64
		want         []of
	}{
		{"its own air", 25, 99, nil},
		{"hot", 36, 99, []of{{"SAE J1349", Temperature}}},
		{"cold", 14, 99, []of{{"SAE J1349", Temperature}}},
		{"high", 25, 85, []of{{"SAE J1349", ""}, {"ISO 1585", ""}, {"SAE J1349", DryPressure}}},
	} {
		var got []of
		for _, b := range moist(t, c.kPa*1000, c.celsius, 0).CorrectionLimits() {
			got = append(got, of{b.Standard, b.Quantity})
			if b.Value >= b.Low && b.Value <= b.High {
				t.Errorf("%s: %+v is inside", c.name, b)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
