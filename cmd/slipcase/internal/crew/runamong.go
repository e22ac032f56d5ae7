package crew

import (
	"fmt"
	"slices"

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

// enoughRuns are so many of the latest before a run that more of them would find no other
// typing errors on it (common practice, no source): a batch of slips is read by no more.
const enoughRuns = 80

// amongBatch is among with slips that are to be recorded together with it.
func (s *Session) amongBatch(slip Slip, beside []*Slip) (*among, error) {
	m, err := s.among(slip)
	if err != nil || len(beside) == 0 {
		return m, err
	}
	for i, other := range beside {
		if other.Vehicle != slip.Vehicle {
			continue
		}
		m.others = append(m.others, *other)
		if other.Time.Before(slip.Time.Time) {
			m.before = append(m.before, m.car.besidePass(i, other))
		}
	}
	slices.SortStableFunc(m.others, func(a, b Slip) int { return a.Time.Compare(b.Time.Time) })
	slices.SortStableFunc(m.before, func(a, b predict.Pass) int { return a.Time.Compare(b.Time) })
	m.before = m.before[max(0, len(m.before)-enoughRuns):]
	return m, nil
}

// besidePass is a slip of a batch as the predictor takes it, by its place there.
func (c *car) besidePass(at int, slip *Slip) predict.Pass {
	pass, known := c.beside[slip]
	if !known {
		pass = PassOf(c.joiner.Run(*slip))
		pass.ID = fmt.Sprint("beside ", at)
		if c.beside == nil {
			c.beside = map[*Slip]predict.Pass{}
		}
		c.beside[slip] = pass
	}
	return pass
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

// expect forecasts the run, once.
func (m *among) expect() (*Forecast, error) {
	next := m.pass
	next.ID, next.Splits = "", Splits{}
	return m.car.expect(m.before, next)
}
