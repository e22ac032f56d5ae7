package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

func TestAltimeterSetting(t *testing.T) {
	const source = "MetPy test suite, altimeter_to_station_pressure (Smithsonian tables, 1951, p. 269)"
	for _, c := range []struct{ settingHPa, metres, wantHPa float64 }{
		{29.80 * hPaPerInHg, 500, 950.965},
		{1013, 500, 954.639},
		{1010, 1000, 896.038},
		{1005, 1500, 838.652},
		{1000, 2000, 784.263},
	} {
		got := stationFromAltimeter(c.settingHPa/hPaPerInHg, c.metres/units.MetrePerFoot) * hPaPerInHg
		near(t, "station pressure, hPa", got, c.wantHPa, 0.05, source)
	}
}

func TestAltimeterSettingInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		station := rapid.Float64Range(17, 32).Draw(t, "inHg")
		ft := rapid.Float64Range(minElevationFt, maxElevationFt).Draw(t, "ft")
		back := stationFromAltimeter(altimeterFromStation(station, ft), ft)
		if math.Abs(back-station) > 1e-9 {
			t.Fatalf("%v inHg at %v ft comes back %v", station, ft, back)
		}
	})
}

func TestSeaLevelPressure(t *testing.T) {
	// In the standard atmosphere the reduction must give the standard pressure.
	for _, ft := range []float64{-1000, 0, 1000, 3000, 5000} {
		tempF := fahrenheit(stdTempK - lapse*ft*units.MetrePerFoot)
		got := stationFromSeaLevel(29.92126, ft, tempF, 0)
		near(t, "station pressure, inHg", got, standardInHgAt(ft), 0.004, "ISO 2533")
	}
	cold := stationFromSeaLevel(29.92, 5000, celsiusF(10), 0)
	warm := stationFromSeaLevel(29.92, 5000, celsiusF(20), 0)
	near(t, "hPa for 10 °C at 5,000 ft", (warm-cold)*hPaPerInHg, 5, 0.5, "hydrostatic law, g h Δt / (R T²) p")
}

func celsiusF(c float64) float64 { return c*1.8 + 32 }
