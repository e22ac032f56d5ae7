package crew

import (
	"reflect"
	"slices"

	"slipcase/predict"
)

// A fit to hundreds of runs takes longer than all else between the last key of a slip and
// its verdict. What was fitted to the runs before the slip when it was looked at serves
// when it is judged; what was fitted for the run to come serves for that in the other lane,
// in other air, and for the next slip of the day.

// expectation is the forecast of a run from those before it.
type expectation struct {
	before   []predict.Pass
	next     predict.Pass
	forecast Forecast
	err      error
}

// keptExpectations are enough for a slip that is looked at, settled and judged, and what is
// asked about the run to come.
const keptExpectations = 4

// expect forecasts a run from those before it, by a fit that there is already where it
// would be the same.
func (c *car) expect(before []predict.Pass, next predict.Pass) (*Forecast, error) {
	before = slices.DeleteFunc(slices.Clone(before), func(p predict.Pass) bool { return !p.Time.Before(next.Time) })
	e := &expectation{before: before, next: next}
	for _, known := range slices.Backward(c.expected) {
		if sameRuns(known.before, before) && reflect.DeepEqual(known.next, next) {
			return &known.forecast, known.err
		}
	}
	e.forecast, e.err = c.forecast(before, next)
	c.expected = append(c.expected, e)
	if n := len(c.expected); n > keptExpectations {
		c.expected = slices.Clone(c.expected[n-keptExpectations:])
	}
	return &e.forecast, e.err
}

func (c *car) forecast(before []predict.Pass, next predict.Pass) (Forecast, error) {
	for _, known := range slices.Backward(c.expected) {
		if known.err != nil || !sameRuns(known.before, before) {
			continue
		}
		if f, ok, err := known.forecast.Again(next); ok {
			return f, err
		}
	}
	return predict.Expect(before, next)
}

// sameRuns reports that two lists of a car's passes are the same ones; one of a batch has its
// place there for its id.
func sameRuns(a, b []predict.Pass) bool {
	return slices.EqualFunc(a, b, func(a, b predict.Pass) bool {
		return a.ID == b.ID && a.Time.Equal(b.Time) && a.Splits == b.Splits
	})
}
