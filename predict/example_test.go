package predict_test

import (
	"fmt"
	"time"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// What 3,450 lb and 312 hp at the wheels should run, and what 11.99 needs.
func ExampleFormula() {
	clutch := predict.ToClutch(312, predict.DefaultLoss(predict.Car, predict.RearDrive))
	for _, f := range predict.Formulas {
		et, err := f.ET(predict.At1320, 3450, clutch)
		if err != nil {
			fmt.Println(err)
			return
		}
		mph, err := f.MPH(predict.At1320, 3450, clutch)
		if err != nil {
			fmt.Println(err)
			return
		}
		needs, err := f.PowerFromET(predict.At1320, 3450, 11.99)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s %.2f @ %.1f, give or take %.1f; 11.99 needs %.0f hp at the clutch\n", f.Name, et, mph, predict.Doubt*et, needs)
	}
	// Output:
	// Huntington 13.27 @ 106.1, give or take 0.8; 11.99 needs 498 hp at the clutch
	// Fox 13.23 @ 109.0, give or take 0.8; 11.99 needs 493 hp at the clutch
	// Hale 12.29 @ 110.9, give or take 0.7; 11.99 needs 396 hp at the clutch
}

// The first run of a car makes its second forecast its own.
func ExampleExpect() {
	car := predict.Machine{
		Kind: predict.Car, Aspiration: predict.Natural, Drive: predict.RearDrive,
		WeightLb: units.Some(3450), PowerHP: units.Some(312), PowerAt: predict.AtWheels, Standard: predict.SAE,
	}
	day := time.Date(2026, 5, 2, 14, 25, 0, 0, time.UTC)
	run := predict.Pass{ID: "slip-1", Time: day, Machine: car, Air: weather.Standard, AirKnown: true}
	run.Splits.ETs[predict.At1320] = units.Some(13.212)
	next := predict.Pass{Time: day.Add(time.Hour), Machine: car, Air: weather.Standard, AirKnown: true}
	e, err := predict.Expect([]predict.Pass{run}, next)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f: %s\n", e.Splits.ETs[predict.At1320].Value(), e.Basis)
	// Output:
	// 13.212: Fox's formula x 1.015, the median of 1 full-power run
}
