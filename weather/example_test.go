package weather_test

import (
	"fmt"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// What the instruments said becomes the state of the air.
func ExampleReading_Air() {
	r := weather.Reading{TempF: units.Some(90), RHPct: units.Some(50), StationInHg: units.Some(29.92)}
	air, remarks, err := r.Air(units.Some(0))
	fmt.Printf(
		"%.0f ft, %.0f grains, J1349 %.4f %v %v\n",
		air.DensityAltitudeFt(),
		air.GrainsPerLb(),
		air.SAEJ1349(),
		remarks,
		err,
	)
	// Output: 2266 ft, 107 grains, J1349 1.0154 [] <nil>
}

// A sea-level barometer typed as station pressure is the classic error.
func ExampleReading_Doubts() {
	r := weather.Reading{TempF: units.Some(88), RHPct: units.Some(42), StationInHg: units.Some(29.92)}
	for _, doubt := range r.Doubts(units.Some(5000)) {
		fmt.Printf(
			"%s %.2f, usual there %.2f to %.2f; an altimeter setting: %t\n",
			doubt.Quantity,
			doubt.Value,
			doubt.Low,
			doubt.High,
			doubt.AsSetting,
		)
	}
	// Output: station pressure 29.92, usual there 23.85 to 25.57; an altimeter setting: true
}

// The air of a run lies between the readings around it.
func ExampleAt() {
	at := func(hour, minute int) time.Time { return time.Date(2026, 5, 2, hour, minute, 0, 0, time.UTC) }
	read := func(tempF float64) weather.Reading {
		return weather.Reading{TempF: units.Some(tempF), DewPointF: units.Some(61), StationInHg: units.Some(28.94)}
	}
	day := []weather.Timed{
		{ID: "a1", Time: at(13, 50), Reading: read(84)},
		{ID: "a2", Time: at(14, 40), Reading: read(88)},
	}
	e := weather.At(day, at(14, 15), units.Some(812))
	fmt.Printf("%s: %.1f F, %.0f ft give or take %.0f\n", e.How.Kind, e.Air.TempF, e.Air.DensityAltitudeFt(), e.DoubtFt)
	// Output: between: 85.9 F, 3068 ft give or take 45
}

func ExampleParseMETAR() {
	r, err := weather.ParseMETAR("METAR XXAA 021851Z 24006KT 10SM CLR 31/17 A2992 RMK AO2 T03110172")
	fmt.Printf(
		"%s %.2f F, altimeter %v inHg, wind %.1f mph %v\n",
		r.Station,
		r.Reading.TempF.Value(),
		r.Reading.AltimeterInHg,
		r.Reading.WindMPH.Value(),
		err,
	)
	// Output: XXAA 87.98 F, altimeter 29.92 inHg, wind 6.9 mph <nil>
}
