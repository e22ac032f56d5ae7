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
		fmt.Printf(
			"%s %.2f @ %.1f, give or take %.1f; 11.99 needs %.0f hp at the clutch\n",
			f.Name,
			et,
			mph,
			predict.Doubt*et,
			needs,
		)
	}
	// Output:
	// Huntington 13.27 @ 106.1, give or take 0.8; 11.99 needs 498 hp at the clutch
	// Fox 13.23 @ 109.0, give or take 0.8; 11.99 needs 493 hp at the clutch
	// Hale 12.29 @ 110.9, give or take 0.7; 11.99 needs 396 hp at the clutch
}

// car is 3,450 lb with 312 hp at the wheels.
var car = predict.Machine{
	Kind: predict.Car, Aspiration: predict.Natural, Drive: predict.RearDrive,
	WeightLb: units.Some(3450), PowerHP: units.Some(312), PowerAt: predict.AtWheels, Standard: predict.SAE,
}

// ran is a run with its 60 ft and quarter-mile figures.
func ran(id string, at time.Time, et60, et, mph float64) predict.Pass {
	p := predict.Pass{ID: id, Time: at, Machine: car, Air: weather.Standard, AirKnown: true}
	p.Splits.ETs[predict.At60], p.Splits.ETs[predict.At1320] = units.Some(et60), units.Some(et)
	p.Splits.MPHs[predict.At1320] = units.Some(mph)
	return p
}

// The first runs of a car make its forecast its own.
func ExampleExpect() {
	day := time.Date(2026, 5, 2, 14, 25, 0, 0, time.UTC)
	history := []predict.Pass{
		ran("slip-1", day, 1.912, 13.212, 105.84),
		ran("slip-2", day.Add(50*time.Minute), 1.931, 13.247, 105.61),
	}
	next := predict.Pass{Time: day.Add(2 * time.Hour), Machine: car, Air: weather.Standard, AirKnown: true}
	for n := range 3 {
		f, err := predict.Expect(history[:n], next)
		if err != nil {
			fmt.Println(err)
			return
		}
		b := f.ETs[predict.At1320]
		fmt.Printf(
			"%.2f, eight of ten within %.2f to %.2f: %s, %d\n",
			b.Centre,
			b.Low80,
			b.High80,
			f.Basis.Kind,
			f.Basis.Runs,
		)
	}
	// Output:
	// 12.70, eight of ten within 11.83 to 13.62: formula, 0
	// 13.20, eight of ten within 13.05 to 13.30: runs, 1
	// 13.23, eight of ten within 13.16 to 13.30: runs, 2
}

// A run is held against the forecast made before it.
func ExampleForecast_Judge() {
	day := time.Date(2026, 5, 2, 14, 25, 0, 0, time.UTC)
	history := []predict.Pass{
		ran("slip-1", day, 1.912, 13.212, 105.84),
		ran("slip-2", day.Add(50*time.Minute), 1.931, 13.247, 105.61),
		ran("slip-3", day.Add(100*time.Minute), 1.920, 13.225, 105.70),
	}
	run := ran("slip-4", day.Add(3*time.Hour), 2.010, 13.360, 105.50)
	f, err := predict.Expect(history, run)
	if err != nil {
		fmt.Println(err)
		return
	}
	j, err := f.Judge(run)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%+.3f s at %g ft, quicker than %.1f of 100\n", j.Difference, j.Mark.Ft(), 100-j.Percentile)
	for _, p := range j.Pieces {
		fmt.Printf("%v: %+.3f %s\n", p.Parts, p.Seconds, p.Word)
	}
	// Output:
	// +0.131 s at 1320 ft, quicker than 0.3 of 100
	// [launch]: +0.129 slow
	// [middle top end]: +0.002 ~
}
