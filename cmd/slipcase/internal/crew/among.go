package crew

import (
	"reflect"

	"slipcase/predict"
)

// among is a run among the others of its vehicle.
type among struct {
	car    *car
	run    Run
	pass   predict.Pass
	before []predict.Pass // made before it, without itself as recorded
	others []Slip
	latest bool // none was made after it
}

func (s *Session) among(slip Slip) (*among, error) {
	c, err := s.car(slip.Vehicle)
	if err != nil {
		return nil, err
	}
	m := &among{car: c, run: c.joiner.Run(slip)}
	m.pass = PassOf(m.run)
	m.latest = c.since(slip.Time.Add(1)) == len(c.runs)
	for i, other := range c.runs {
		if other.Slip.ID == slip.ID {
			continue
		}
		m.others = append(m.others, other.Slip)
		if other.Slip.Time.Before(slip.Time.Time) {
			m.before = append(m.before, c.passes[i])
		}
	}
	return m, nil
}

// expectation is the forecast of one run from those before it.
type expectation struct {
	next     predict.Pass // the run, without what it turned out to be
	before   int          // so many of the car's
	forecast Forecast
	err      error
}

// keptExpectations are enough for a slip that is looked at, settled and judged.
const keptExpectations = 4

// expect forecasts the run, once.
func (m *among) expect() (*Forecast, error) {
	e := &expectation{next: m.pass, before: len(m.before)}
	e.next.ID, e.next.Splits = "", Splits{}
	for _, known := range m.car.expected {
		if known.before == e.before && reflect.DeepEqual(known.next, e.next) {
			return &known.forecast, known.err
		}
	}
	e.forecast, e.err = predict.Expect(m.before, e.next)
	m.car.expected = append(m.car.expected, e)
	if n := len(m.car.expected); n > keptExpectations {
		m.car.expected = m.car.expected[n-keptExpectations:]
	}
	return &e.forecast, e.err
}
