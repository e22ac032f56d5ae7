package crew

import (
	"slices"
	"time"
)

// DaySeen is the air of a day at the track of its runs, and the next rounds.
type DaySeen struct {
	Air      []AirAt
	Readings []Aired
	Seen     time.Time // so far it is known: now, of a day that is over its last record
	Today    bool      // that is now
	Next     []Forecasted
}

// SeeDay tells the day of gathered runs, of which there are some: its air from its first
// reading or run to its last, and the next rounds, half an hour after one another.
func (s *Session) SeeDay(g Gathered, rounds int) (d DaySeen, err error) {
	first, last := g.Runs[0].Run.Slip, g.Runs[len(g.Runs)-1].Run.Slip
	readings, err := s.Readings(last.Track)
	if err != nil {
		return d, err
	}
	readings = slices.DeleteFunc(readings, func(r Reading) bool {
		return last.Track == "" || !sameDate(r.Time.In(last.Time.Location()), last.Time.Time)
	})
	if d.Readings, err = s.Air(readings...); err != nil {
		return d, err
	}
	from, to := first.Time.Time, last.Time.Time
	for _, r := range readings {
		if r.Time.Before(from) {
			from = r.Time.Time
		}
		to = later(to, r.Time.Time)
	}
	if len(readings) > 0 {
		if d.Air, err = s.AirOver(last.Track, from, to, max(to.Sub(from)/airPoints, time.Minute)); err != nil {
			return d, err
		}
	}
	d.Seen = to
	at := to.Add(betweenRounds)
	if now := s.Now(); sameDate(now.In(last.Time.Location()), last.Time.Time) {
		d.Seen, d.Today = later(to, now), true
		at = later(last.Time.Add(betweenRounds), d.Seen)
	}
	for range rounds {
		next, err := s.Next(NextAsk{Vehicle: g.Vehicle.ID, Track: last.Track, At: at})
		if err != nil {
			return d, err
		}
		f, err := next.Forecast()
		if err != nil {
			return d, err
		}
		d.Next = append(d.Next, f)
		at = at.Add(betweenRounds)
	}
	return d, nil
}

// DialAfter is the dial for one more run after gathered ones, of which there are some: now on
// their day, else half an hour after the last of them.
func (s *Session) DialAfter(g Gathered) (d DialChoice, today bool, err error) {
	last := g.Runs[len(g.Runs)-1].Run.Slip
	at := last.Time.Add(betweenRounds)
	if now := s.Now(); sameDate(now.In(last.Time.Location()), last.Time.Time) {
		at, today = later(at, now), true
	}
	d, err = s.DialAhead(NextAsk{Vehicle: g.Vehicle.ID, Track: last.Track, At: at}, Slip{})
	return d, today, err
}

const (
	airPoints     = 48
	betweenRounds = 30 * time.Minute
)
