package crew

import (
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Aired is a reading with the air that it makes at its track.
type Aired struct {
	Reading Reading // as it is recorded
	Track   Track
	At      time.Time    // of the reading, in the track's zone
	TakenIn units.Number // inHg: station pressure of the nearest reading, where it came without any
	Air     weather.Air
	Notes   []AirNote // on what had to be assumed
	Err     error     // why it makes no air
}

// Air makes out readings among all that the log has at their tracks.
func (s *Session) Air(rs ...Reading) ([]Aired, error) {
	tracks, err := s.Tracks()
	if err != nil {
		return nil, err
	}
	all, err := s.withOthers(rs)
	if err != nil {
		return nil, err
	}
	list := make([]Aired, len(rs))
	for i, full := range all[len(all)-len(rs):] {
		var track Track
		if at := slices.IndexFunc(tracks, func(t Track) bool { return t.ID == full.Track }); at >= 0 {
			track = tracks[at]
		}
		list[i] = s.aired(rs[i], full, track)
	}
	return list, nil
}

// withOthers puts readings behind all others of the log, each with the pressure that the
// nearest gives it where it has none.
func (s *Session) withOthers(rs []Reading) ([]Reading, error) {
	track := ""
	if len(rs) > 0 && !slices.ContainsFunc(rs, func(r Reading) bool { return r.Track != rs[0].Track }) {
		track = rs[0].Track
	}
	all, err := s.Readings(track)
	if err != nil {
		return nil, err
	}
	given := map[string]bool{}
	for _, r := range rs {
		given[r.ID] = true
	}
	all = slices.DeleteFunc(all, func(r Reading) bool { return given[r.ID] })
	return logbook.WithPressure(append(all, rs...)), nil
}

// CheckWind refuses a wind that a run to come at the track would not feel: only its part along
// the track counts.
func CheckWind(r weather.Reading, track Track) error {
	blows := r.WindMPH.Known() && r.WindMPH.Value() != 0
	switch {
	case !r.WindMPH.Known():
		return impossiblef("wind-from", "where a wind comes from does nothing alone: want --wind with it")
	case blows && !r.WindFromDeg.Known():
		return impossiblef("wind", "only its part along the track counts: want --wind-from with it")
	case blows && !track.HeadingDeg.Known():
		return impossiblef("wind", "%s has no heading, so that no wind counts there: slipcase track amend %[1]s "+
			"--heading 240, the bearing it runs to", track.ID)
	}
	return nil
}

// PressureNear gives a reading at a track and a time the pressure that the nearest one of
// the log had, where it has none; taken is that pressure, absent where nothing was taken.
func (s *Session) PressureNear(r weather.Reading, track string, at time.Time) (
	_ weather.Reading, taken units.Number, err error,
) {
	if track == "" || r.DensityAltitudeFt.Known() {
		return r, taken, nil
	}
	here := Reading{Entry: logbook.Entry{ID: "now"}, Track: track, Time: Time{Time: at}, Reading: r}
	all, err := s.withOthers([]Reading{here})
	if err != nil {
		return r, taken, err
	}
	full := all[len(all)-1].Reading
	if full.StationInHg != r.StationInHg {
		taken = full.StationInHg
	}
	return full, taken, nil
}

// aired makes out a reading; full has the pressure that another one gives it.
func (s *Session) aired(r, full Reading, track Track) Aired {
	a := Aired{Reading: r, Track: track, At: r.Time.In(track.Location(s.Now().Location()))}
	if full.StationInHg != r.StationInHg {
		a.TakenIn = full.StationInHg
	}
	a.Air, a.Notes, a.Err = full.Air(track.ElevationFt)
	return a
}

// ReportAhead is how far the time of a report may lie before us: it is that of the
// full hour, and sent some minutes earlier.
const ReportAhead = 15 * time.Minute

// Checked is a reading that is to be recorded, with what looks wrong in it.
type Checked struct {
	Aired
	Doubts []weather.Doubt
	Again  string    // the id of the recorded one that it is a second copy of
	Future bool      // its time has not come
	Now    time.Time // in the track's zone
	Twin   bool      // one recorded with it is of the same moment
}

// ReadAir is the air of a reading that is asked about and not recorded, at an elevation that
// may not be known, and what is hard to believe of it. The error is that of one that makes none.
func ReadAir(r weather.Reading, report weather.Report, elevation units.Number) (
	e Estimate, doubts []weather.Doubt, err error,
) {
	if e, err = weather.ReadNow(r, elevation); err != nil {
		return e, nil, err
	}
	e.Notes = append(e.Notes, report.Notes()...)
	return e, r.Doubts(elevation), nil
}

// CheckReading looks at a reading before it is recorded, with others beside it. One that
// cannot be comes back as Impossible.
func (s *Session) CheckReading(r Reading, track Track, beside ...Reading) (c Checked, err error) {
	if err := r.Check(track.ElevationFt); err != nil {
		return c, markImpossible("", err)
	}
	here := slices.DeleteFunc(slices.Clone(beside), func(o Reading) bool { return o.Track != r.Track })
	all, err := s.withOthers(append(here, r))
	if err != nil {
		return c, err
	}
	full, others := all[len(all)-1], all[:len(all)-1]
	if c.Aired = s.aired(r, full, track); c.Err != nil {
		return c, markImpossible("", c.Err)
	}
	c.Twin = slices.ContainsFunc(here, func(o Reading) bool { return o.Time.Equal(r.Time.Time) })
	if i := slices.IndexFunc(others, func(o Reading) bool { return sameReading(o, r) }); i >= 0 && !c.Twin {
		c.Again = others[i].ID
	}
	latest := s.Now()
	c.Now = latest.In(c.At.Location())
	if r.Raw != "" {
		latest = latest.Add(ReportAhead)
	}
	c.Future = r.Time.After(latest)
	if c.Doubts = full.Doubts(track.ElevationFt); len(c.Doubts) == 0 && !c.Future { // else a jump is no news
		c.Doubts = jumps(full, others, track)
	}
	return c, nil
}

// PressureRead reports that a reading came with a pressure of its own.
func PressureRead(r Reading) bool {
	return r.StationInHg.Known() || r.AltimeterInHg.Known() || r.SeaLevelInHg.Known()
}

// sameReading reports that two readings of one minute and track say the same. One as recorded
// has the pressure of its neighbor, and that is no difference where the other has none.
func sameReading(recorded, r Reading) bool {
	if recorded.ID == r.ID || recorded.Track != r.Track || recorded.Time.Sub(r.Time.Time).Abs() >= time.Minute {
		return false
	}
	a, b := recorded.Reading, r.Reading
	if !PressureRead(r) {
		a.StationInHg = b.StationInHg
	}
	return a == b
}

// jumps holds a reading against the nearest ones before and after it at its track.
func jumps(r Reading, all []Reading, track Track) (doubts []weather.Doubt) {
	var before, after *Reading
	for i, other := range all {
		apart := other.Time.Sub(r.Time.Time)
		switch {
		case apart.Abs() > weather.JumpWithin:
		case apart <= 0 && (before == nil || before.Time.Before(other.Time.Time)):
			before = &all[i]
		case apart > 0 && (after == nil || other.Time.Before(after.Time.Time)):
			after = &all[i]
		}
	}
	for _, near := range []*Reading{before, after} {
		if near != nil {
			at := weather.Timed{ID: near.ID, Time: near.Time.In(r.Time.Location()), Reading: near.Reading}
			doubts = append(doubts, r.Jumps(at, track.ElevationFt)...)
		}
	}
	return doubts
}

// AirAt is the air at a track and moment, and how it changes, as the readings up to then
// let it be known.
func (s *Session) AirAt(track string, at time.Time) (Estimate, error) {
	j, err := s.Joiner("")
	if err != nil {
		return Estimate{}, err
	}
	return j.AirAhead(track, at, at), nil
}
