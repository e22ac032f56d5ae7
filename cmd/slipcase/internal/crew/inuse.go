package crew

import (
	"slices"
	"time"

	"slipcase/weather/units"
)

// Use is what a racer has taken for the day: what a slip, a reading or a question means
// that does not say otherwise.
type Use struct {
	Day       string       `json:"day"` // at the track; forgotten with it
	Vehicle   string       `json:"vehicle,omitzero"`
	Track     string       `json:"track,omitzero"`
	Class     string       `json:"class,omitzero"`
	ClassName string       `json:"class_name,omitzero"`
	IndexS    units.Number `json:"index_s,omitzero"`
	Tree      units.Number `json:"tree,omitzero"`
	RacedFt   units.Number `json:"raced_ft,omitzero"`
	Driver    string       `json:"driver,omitzero"`
}

// Said is what it says of a slip.
func (u Use) Said() Slip {
	return Slip{
		Vehicle: u.Vehicle, Track: u.Track, Class: u.Class, ClassName: u.ClassName, IndexS: u.IndexS, Tree: u.Tree,
		RacedFt: u.RacedFt, Driver: u.Driver,
	}
}

// Saying is the use with what a slip says.
func (u Use) Saying(s Slip) Use {
	u.Class, u.ClassName, u.IndexS = s.Class, s.ClassName, s.IndexS
	u.Tree, u.RacedFt, u.Driver = s.Tree, s.RacedFt, s.Driver
	return u
}

// InUse is what was taken for today; nothing outside of a board, and nothing of another day.
func (s *Session) InUse() Use {
	if s.use == nil || s.use.Day != s.today(s.use.Track) {
		return Use{}
	}
	return *s.use
}

// today is the day at a track, or here.
func (s *Session) today(track string) string { return s.dayAt(track, s.Now()) }

func (s *Session) dayAt(track string, t time.Time) string {
	return t.In(s.TrackOf(Slip{Track: track}).Location(s.Now().Location())).Format(time.DateOnly)
}

// DayOf is the date of a moment at the track in use.
func (s *Session) DayOf(t time.Time) string {
	if s.use == nil {
		return s.dayAt("", t)
	}
	return s.dayAt(s.use.Track, t)
}

// BeginDay takes for today what was kept of it before, and what goes without saying: the
// only vehicle or that of the last slip, the only track or that of today.
func (s *Session) BeginDay() error {
	kept := s.dayState().Use
	if kept.Day != s.today(kept.Track) {
		kept = Use{}
	}
	kept.Vehicle = s.vehicleOf(kept.Vehicle).ID
	if t, err := s.Track(kept.Track); err != nil || Stands("track", t.Entry) != nil {
		kept.Track = ""
	}
	s.take(kept)
	return s.goesWithoutSaying()
}

// take holds a use, of today.
func (s *Session) take(u Use) {
	u.Day = s.today(u.Track)
	s.use = &u
}

func (s *Session) goesWithoutSaying() error {
	u := s.InUse()
	if u.Vehicle == "" {
		all, err := s.Vehicles()
		if err != nil {
			return err
		}
		last, none := s.Slip("last")
		for _, v := range all {
			if len(all) == 1 || none == nil && v.ID == last.Vehicle {
				u.Vehicle = v.ID
			}
		}
	}
	if u.Track == "" {
		all, err := s.Tracks()
		if err != nil {
			return err
		}
		today, err := s.TrackOfDay(all, func(zone *time.Location) (time.Time, error) { return s.Now().In(zone), nil })
		if err != nil {
			return err
		}
		if u.Track = today.ID; len(all) == 1 {
			u.Track = all[0].ID
		}
	}
	s.take(u)
	return nil
}

// KeepUse takes a use for the day, and keeps it for whoever opens the log again today.
func (s *Session) KeepUse(u Use) error {
	s.take(u)
	d := s.dayState()
	d.Use = *s.use
	return s.keepDay(d)
}

// Fill fills in what a slip does not say and the day does: what was taken for it, and what
// holds from the slip before; beside are those that are to be recorded before it.
func (s *Session) Fill(slip *Slip, beside ...*Slip) {
	if u := s.InUse(); u.Day != "" {
		if slip.Class == "" && u.Class == "test" {
			slip.Class = u.Class // which a slip before would not hand on
		}
		remember(slip, u.Said())
	}
	if before, some := s.slipBefore(*slip, beside); some {
		remember(slip, before)
	}
}

// slipBefore is the vehicle's slip of that day at that track which the day's class holds from:
// the last of those beside, else the one run before it, else, as one may be entered late, the
// one after.
func (s *Session) slipBefore(slip Slip, beside []*Slip) (before Slip, some bool) {
	zone := s.TrackOf(slip).Location(s.Now().Location())
	ofDay := func(o Slip) bool {
		return o.Vehicle == slip.Vehicle && o.Track == slip.Track && sameDate(o.Time.In(zone), slip.Time.In(zone))
	}
	for _, o := range slices.Backward(beside) {
		if ofDay(*o) {
			return *o, true
		}
	}
	c, err := s.car(slip.Vehicle)
	if err != nil {
		return Slip{}, false // nothing to go by: what cannot be read is told elsewhere
	}
	at := c.since(slip.Time.Add(1))
	for _, r := range slices.Concat(c.runs[max(at-1, 0):at], c.runs[at:min(at+1, len(c.runs))]) {
		if ofDay(r.Slip) {
			return r.Slip, true
		}
	}
	return Slip{}, false
}

// LastOf is the slip of a vehicle that was recorded last; false where it has none.
func (s *Session) LastOf(vehicle string) (last Slip, some bool) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return last, false
	}
	for _, r := range runs {
		if !some || !r.Slip.RecordedAt.Before(last.RecordedAt.Time) {
			last, some = r.Slip, true
		}
	}
	return last, some
}
