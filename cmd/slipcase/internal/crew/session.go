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

	cars  map[string]*car
	stamp logbook.Stamp // before the first of them was read
	use   *Use          // nil outside of a board
}

// car is a vehicle with its runs by their time, and as the predictor takes them.
type car struct {
	joiner *logbook.Joiner
	runs   []logbook.Run
	passes []predict.Pass

	expected []*expectation         // the latest ones
	beside   map[*Slip]predict.Pass // of a batch that is being read
}

// NewSession holds an open log; now is the clock.
func NewSession(lb *logbook.Logbook, now func() time.Time) *Session {
	return &Session{Logbook: lb, Now: now, cars: map[string]*car{}}
}

// Refresh forgets what was read if a file has changed since.
func (s *Session) Refresh() {
	if s.stamp != nil && !maps.Equal(s.stamp, s.Stamp()) {
		s.forget()
	}
}

func (s *Session) forget() {
	s.stamp = nil
	clear(s.cars)
}

// car reads and joins the slips of a vehicle, once. The stamp is taken first: a change
// while reading is seen as one by the next Refresh.
func (s *Session) car(vehicle string) (*car, error) {
	if c := s.cars[vehicle]; c != nil {
		return c, nil
	}
	if s.stamp == nil {
		s.stamp = s.Stamp()
	}
	j, err := s.Joiner(vehicle)
	if err != nil {
		return nil, err
	}
	slips, err := s.Slips(vehicle)
	if err != nil {
		return nil, err
	}
	c := &car{joiner: j}
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

// AddSlips records slips, all or none, and takes them in without reading them again,
// unless somebody else has recorded in between. Where that made one of them a second copy,
// the error wraps logbook.ErrRecordedMeanwhile: Refresh, and Look again.
func (s *Session) AddSlips(recs ...*logbook.Slip) error {
	if err := s.Logbook.AddSlipsIf(s.stillAlone(recs), recs...); err != nil {
		return err
	}
	s.takeIn(recs...)
	return nil
}

// AddSlipOnce is AddSlips for a slip that brings its id, and may have been recorded before.
func (s *Session) AddSlipOnce(rec *Slip) (recorded bool, err error) {
	if recorded, err = s.Logbook.AddSlipOnce(s.stillAlone([]*Slip{rec}), rec); recorded {
		s.takeIn(rec)
	}
	return recorded, err
}

// stillAlone refuses slips that were looked at before somebody else recorded them.
func (s *Session) stillAlone(recs []*Slip) func() error {
	return func() error {
		if s.stamp == nil || maps.Equal(s.stamp, s.Stamp()) {
			return nil
		}
		for _, rec := range recs {
			c := s.cars[rec.Vehicle]
			if c == nil {
				continue
			}
			now, err := s.Slips(rec.Vehicle)
			if err != nil {
				return err
			}
			for _, other := range now {
				if _, again := twice(*rec, other); again && !c.has(other.ID) {
					return logbook.ErrRecordedMeanwhile
				}
			}
		}
		return nil
	}
}

// has reports that a slip was among those read.
func (c *car) has(id string) bool {
	return slices.ContainsFunc(c.runs, func(r Run) bool { return r.Slip.ID == id })
}

func (s *Session) takeIn(recs ...*Slip) {
	before, after := s.Written()
	if s.stamp == nil || !maps.Equal(s.stamp, before) {
		s.forget()
		return
	}
	for _, r := range recs {
		if c := s.cars[r.Vehicle]; c != nil {
			c.take(c.joiner.Run(*r))
		}
	}
	s.stamp = after
}

// take puts a run where its time belongs, behind others of that moment.
func (c *car) take(run Run) {
	at := c.since(run.Slip.Time.Add(1))
	c.runs = slices.Insert(c.runs, at, run)
	c.passes = slices.Insert(c.passes, at, PassOf(run))
}

// since is the place of the first run at a moment or after it.
func (c *car) since(t time.Time) int {
	at, _ := slices.BinarySearchFunc(c.runs, t, func(r Run, t time.Time) int { return r.Slip.Time.Compare(t) })
	return at
}
