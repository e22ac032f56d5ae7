package main

import (
	"slipcase/predict"
	"slipcase/weather/units"
)

// expectation is what the screens show until they know the forecast's bands.
type expectation struct {
	Splits  predict.Splits
	Basis   string
	Runs    int
	LeftOut []predict.LeftOut
	Remarks []string
}

func expect(history []predict.Pass, next predict.Pass) (expectation, error) {
	f, err := predict.Expect(history, next)
	if err != nil {
		return expectation{}, err
	}
	return expectation{f.Centre(), f.Basis, f.RunsUsed, f.LeftOut, f.Warnings}, nil
}

// difference is how one figure of a run differs from what was expected: a time
// in s or, where Speed, a speed in mph.
type difference struct {
	Mark                   predict.Mark
	Speed                  bool
	Actual, Expected, Diff float64 // Diff is Actual - Expected
}

// Against compares the figures that both the slip and the expectation have.
func (e expectation) Against(actual predict.Splits) []difference {
	var diffs []difference
	compare := func(m predict.Mark, speed bool, a, x units.Number) {
		if a.Known() && x.Known() {
			diffs = append(diffs, difference{m, speed, a.Value(), x.Value(), a.Value() - x.Value()})
		}
	}
	for m := range predict.Marks {
		compare(m, false, actual.ETs[m], e.Splits.ETs[m])
		compare(m, true, actual.MPHs[m], e.Splits.MPHs[m])
	}
	return diffs
}
