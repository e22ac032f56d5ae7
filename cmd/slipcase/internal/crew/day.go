package crew

import "time"

// TrackOfDay is the track of the latest slip or reading of a day, of those given; the
// zero Track where there is none. at is a moment of that day in a zone: the day is that
// of each track.
func (s *Session) TrackOfDay(tracks []Track, at func(zone *time.Location) (time.Time, error)) (Track, error) {
	slips, err := s.Slips("")
	if err != nil {
		return Track{}, err
	}
	readings, err := s.Readings("")
	if err != nil {
		return Track{}, err
	}
	latest := map[string]time.Time{}
	for _, r := range slips {
		latest[r.Track] = later(latest[r.Track], r.Time.Time)
	}
	for _, r := range readings {
		latest[r.Track] = later(latest[r.Track], r.Time.Time)
	}
	var found Track
	var newest time.Time
	for _, t := range tracks {
		zone := t.Location(s.Now().Location())
		moment, err := at(zone)
		if err != nil {
			return Track{}, err
		}
		if last := latest[t.ID].In(zone); sameDate(last, moment) && last.After(newest) {
			found, newest = t, last
		}
	}
	return found, nil
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// sameDate reports whether two moments, each in its own zone, have the same date.
func sameDate(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }
