package crew

import (
	"maps"
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
)

// Session is a log opened once and held, with its slips joined and what was fitted
// to them. What other programs record meanwhile it sees on Refresh.
type Session struct {
	*logbook.Logbook
	Now func() time.Time

	joiner *logbook.Joiner
	cars   map[string]*car
	stamp  logbook.Stamp
}

// car is a vehicle with its runs by their time, and as the predictor takes them.
type car struct {
	runs   []logbook.Run
	passes []predict.Pass
}

// NewSession holds an open log; now is the clock.
func NewSession(lb *logbook.Logbook, now func() time.Time) *Session {
	return &Session{Logbook: lb, Now: now, cars: map[string]*car{}}
}

// Refresh forgets what was read if a file has changed since.
func (s *Session) Refresh() {
	if s.stamp != nil && !maps.Equal(s.stamp, s.Stamp()) {
		s.joiner, s.stamp = nil, nil
		clear(s.cars)
	}
}

// join reads once what slips are joined with. The stamp is taken first: a change
// while reading is seen as one by the next Refresh.
func (s *Session) join() (*logbook.Joiner, error) {
	if s.joiner != nil {
		return s.joiner, nil
	}
	stamp := s.Stamp()
	j, err := s.Joiner("")
	if err != nil {
		return nil, err
	}
	s.joiner, s.stamp = j, stamp
	return j, nil
}

// car reads and joins the slips of a vehicle, once.
func (s *Session) car(vehicle string) (*car, error) {
	if c := s.cars[vehicle]; c != nil {
		return c, nil
	}
	j, err := s.join()
	if err != nil {
		return nil, err
	}
	slips, err := s.Slips(vehicle)
	if err != nil {
		return nil, err
	}
	c := &car{}
	for _, slip := range slips {
		run := j.Run(slip)
		c.runs, c.passes = append(c.runs, run), append(c.passes, PassOf(run))
	}
	s.cars[vehicle] = c
	return c, nil
}

// Runs joins the slips of a vehicle, of all when it is "", by their time.
func (s *Session) Runs(vehicle string) ([]logbook.Run, error) {
	if vehicle == "" {
		return s.Logbook.Runs("")
	}
	c, err := s.car(vehicle)
	if err != nil {
		return nil, err
	}
	return slices.Clone(c.runs), nil
}

// AddSlips records slips, all or none, and takes them in without reading them again.
func (s *Session) AddSlips(recs ...*logbook.Slip) error {
	before := s.stamp
	fresh := before != nil && maps.Equal(before, s.Stamp())
	if err := s.Logbook.AddSlips(recs...); err != nil {
		return err
	}
	if !fresh {
		s.Refresh()
		return nil
	}
	for _, r := range recs {
		if c := s.cars[r.Vehicle]; c != nil {
			c.take(s.joiner.Run(*r))
		}
	}
	s.stamp = s.Stamp()
	return nil
}

// take puts a run where its time belongs, behind others of that moment.
func (c *car) take(run logbook.Run) {
	at, _ := slices.BinarySearchFunc(c.runs, run, func(a, b logbook.Run) int {
		if a.Slip.Time.After(b.Slip.Time.Time) {
			return 1
		}
		return -1
	})
	c.runs = slices.Insert(c.runs, at, run)
	c.passes = slices.Insert(c.passes, at, PassOf(run))
}
