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
	Dial     *DialChoice // for the first of them; nil where there is none: a class without its index
}

// SeeDay tells the day of gathered runs, of which there are some: its air from its first
// reading or run to its last, and the next rounds, half an hour after one another.
func (s *Session) SeeDay(g Gathered, rounds int) (d DaySeen, err error) {
	first, last := g.Runs[0].Run.Slip, g.Runs[len(g.Runs)-1].Run.Slip
	readings, err := s.readingsOf(last)
	if err != nil {
		return d, err
	}
	if d.Readings, err = s.Air(readings...); err != nil {
		return d, err
	}
	from, to := first.Time.Time, lastOf(last, readings)
	for _, r := range readings {
		if r.Time.Before(from) {
			from = r.Time.Time
		}
	}
	if len(readings) > 0 {
		if d.Air, err = s.AirOver(last.Track, from, to, max(to.Sub(from)/airPoints, time.Minute)); err != nil {
			return d, err
		}
	}
	var at time.Time
	at, d.Today = s.roundAfter(last, readings)
	if d.Seen = to; d.Today {
		d.Seen = later(to, s.Now())
	}
	for range rounds {
		next, rules, err := s.ahead(NextAsk{Vehicle: g.Vehicle.ID, Track: last.Track, At: at}, Slip{})
		if err != nil {
			return d, err
		}
		f, err := next.Forecast()
		if err != nil {
			return d, err
		}
		if len(d.Next) == 0 {
			if dial, err := s.dialOf(next, rules); err == nil {
				d.Dial = &dial
			}
		}
		d.Next = append(d.Next, f)
		at = at.Add(betweenRounds)
	}
	return d, nil
}

// readingsOf are those of the track and the day of a slip.
func (s *Session) readingsOf(slip Slip) ([]Reading, error) {
	readings, err := s.Readings(slip.Track)
	return slices.DeleteFunc(readings, func(r Reading) bool {
		return slip.Track == "" || !sameDate(r.Time.In(slip.Time.Location()), slip.Time.Time)
	}), err
}

// lastOf is when the last of a day was recorded: a slip, or a reading after it.
func lastOf(slip Slip, readings []Reading) time.Time {
	at := slip.Time.Time
	for _, r := range readings {
		at = later(at, r.Time.Time)
	}
	return at
}

// roundAfter is when the vehicle of the last slip of a day may run once more: after all that
// was recorded, and not before now where that is the day.
func (s *Session) roundAfter(last Slip, readings []Reading) (at time.Time, today bool) {
	seen := lastOf(last, readings)
	if now := s.Now(); sameDate(now.In(last.Time.Location()), last.Time.Time) {
		return later(last.Time.Add(betweenRounds), later(seen, now)), true
	}
	return seen.Add(betweenRounds), false
}

const (
	airPoints     = 48
	betweenRounds = 30 * time.Minute
)
