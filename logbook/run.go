package logbook

import (
	"slices"
	"sync"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Run is a slip with all that the log knows about it.
type Run struct {
	Slip    Slip
	Vehicle Vehicle
	Setup   Setup            // the one named by the slip or in force at its time
	First   *Setup           // the setup that its own is a stated change of, nil without one
	Track   Track            // its id is empty when the slip names none
	Air     weather.Estimate // the air at that minute; Known is false where readings tell less than a race day
	Missing []Missing        // what could not be joined; never silent
}

// Missing is something that a slip could not be joined with.
type Missing struct {
	Of   string    // vehicle, track or setup
	ID   string    // what the slip names and the log has not; "" where it names none
	When time.Time // of the slip
	Next Setup     // where no setup was in force yet: the first to come, empty without one
}

// SetupKnown reports whether a setup was in force.
func (r Run) SetupKnown() bool { return r.Setup.ID != "" }

// Headwind is the wind's component against the run, mph; absent when the wind
// or the track's heading is not known.
func (r Run) Headwind() units.Number { return headwind(r.Air, r.Track) }

func headwind(air weather.Estimate, t Track) units.Number {
	if !air.WindMPH.Known() || !t.HeadingDeg.Known() || (!air.WindFromDeg.Known() && air.WindMPH.Value() != 0) {
		return units.Number{}
	}
	return units.Some(weather.Headwind(air.WindMPH.Value(), air.WindFromDeg.Value(), t.HeadingDeg.Value()))
}

// Joiner joins slips with what else the log holds, read once.
type Joiner struct {
	vehicles map[string]Vehicle
	tracks   map[string]Track
	setups   map[string][]Setup // of a vehicle, by time
	readings []Reading
	days     map[string][]weather.Timed // the same at a track, by time
	machine  *time.Location

	mu     sync.Mutex
	places map[string]*place // of the tracks asked for
}

// place is a track with its zone, which is dear to find, and its air.
type place struct {
	Track
	zone *time.Location
	air  *weather.Place
}

// place finds a track by its id; one that the log has not is an empty one.
func (j *Joiner) place(track string) *place {
	j.mu.Lock()
	defer j.mu.Unlock()
	p := j.places[track]
	if p == nil {
		t := j.tracks[track]
		p = &place{t, t.Location(j.machine), weather.NewPlace(j.days[track], t.ElevationFt)}
		j.places[track] = p
	}
	return p
}

// Joiner reads what slips are joined with: of one vehicle, or of all when it is "".
func (lb *Logbook) Joiner(vehicle string) (*Joiner, error) { return lb.joinBatch(vehicle, Batch{}) }

// joinBatch is Joiner as it would be with a batch recorded.
func (lb *Logbook) joinBatch(vehicle string, b Batch) (*Joiner, error) {
	vs, err := lb.Vehicles()
	if err != nil {
		return nil, err
	}
	ts, err := lb.Tracks()
	if err != nil {
		return nil, err
	}
	ss, err := lb.Setups(vehicle)
	if err != nil {
		return nil, err
	}
	rs, err := lb.Readings("")
	if err != nil {
		return nil, err
	}
	ss, rs = append(ss, values(b.Setups)...), append(rs, values(b.Readings)...)
	slices.SortStableFunc(ss, func(a, b Setup) int { return a.From.Compare(b.From.Time) })
	slices.SortStableFunc(rs, func(a, b Reading) int { return a.Time.Compare(b.Time.Time) })
	return newJoiner(append(vs, values(b.Vehicles)...), append(ts, values(b.Tracks)...), ss, rs, lb.now().Location()), nil
}

// newJoiner takes setups and readings by their time.
func newJoiner(vs []Vehicle, ts []Track, ss []Setup, rs []Reading, machine *time.Location) *Joiner {
	j := &Joiner{
		vehicles: map[string]Vehicle{}, tracks: map[string]Track{},
		setups: map[string][]Setup{}, readings: rs, days: map[string][]weather.Timed{},
		places: map[string]*place{}, machine: machine,
	}
	for _, v := range vs {
		j.vehicles[v.ID] = v
	}
	for _, t := range ts {
		j.tracks[t.ID] = t
	}
	for _, s := range ss {
		j.setups[s.Vehicle] = append(j.setups[s.Vehicle], s)
	}
	at := map[string]int{}
	for i := range rs {
		at[rs[i].Track]++
	}
	for track, n := range at {
		j.days[track] = make([]weather.Timed, 0, n)
	}
	for _, r := range WithPressure(rs) {
		j.days[r.Track] = append(j.days[r.Track], weather.Timed{ID: r.ID, Time: r.Time.Time, Reading: r.Reading})
	}
	return j
}

// Run joins one slip.
func (j *Joiner) Run(s Slip) (r Run) {
	j.join(&r, &s, j.airOf(&s))
	return r
}

// join joins a slip, in its air, in the room of a run.
func (j *Joiner) join(r *Run, s *Slip, air weather.Estimate) {
	at := j.place(s.Track)
	r.Slip, r.Vehicle, r.Track, r.Air, r.Missing = *s, j.vehicles[s.Vehicle], at.Track, air, nil
	// A day is a day where the race is, however another program wrote the time.
	r.Slip.Time = Time{s.Time.In(at.zone)}
	miss := func(of, id string) { r.Missing = append(r.Missing, Missing{Of: of, ID: id, When: r.Slip.Time.Time}) }
	if r.Vehicle.ID == "" {
		miss("vehicle", s.Vehicle)
	}
	if s.Track != "" && r.Track.ID == "" {
		miss("track", s.Track)
	}
	var ok bool
	if r.Setup, ok = j.SetupAt(s.Vehicle, s.Setup, s.Time.Time); !ok {
		miss("setup", s.Setup)
		if all := j.setups[s.Vehicle]; s.Setup == "" && len(all) > 0 {
			r.Missing[len(r.Missing)-1].Next = all[0]
		}
	}
	r.First = j.firstOf(r.Setup)
}

// firstOf is the setup that another is a stated change of: the vehicle's first whose weight
// and power are known; nil where that is itself, or its own are not.
func (j *Joiner) firstOf(s Setup) *Setup {
	stated := func(x Setup) bool { return x.WeightLb.Known() && x.PowerHP.Known() }
	all := j.setups[s.Vehicle]
	if i := slices.IndexFunc(all, stated); i >= 0 && stated(s) && all[i].ID != s.ID {
		return &all[i]
	}
	return nil
}

// airOf is the air of a slip: what one after the other of a day need is worked out once.
func (j *Joiner) airOf(s *Slip) weather.Estimate {
	switch {
	case s.Air != "":
		return j.readAir(s)
	case s.Track == "":
		return weather.Estimate{How: weather.How{Kind: weather.SlipWithoutTrack}}
	}
	return j.AirAt(s.Track, s.Time.Time)
}

// SetupAt is the setup of a vehicle by id, or the one in force when id is "".
func (j *Joiner) SetupAt(vehicle, id string, t time.Time) (Setup, bool) {
	all := j.setups[vehicle]
	for _, s := range slices.Backward(all) {
		if id == s.ID || id == "" && !s.From.After(t) {
			return s, true
		}
	}
	return Setup{}, false
}

// AirAt is the air at t as the readings before and after it tell it.
func (j *Joiner) AirAt(track string, t time.Time) weather.Estimate {
	at := j.place(track)
	return at.air.At(t.In(at.zone))
}

// AirAhead is the air at t as the readings taken up to now, and before t, let it
// be known.
func (j *Joiner) AirAhead(track string, now, t time.Time) weather.Estimate {
	at := j.place(track)
	return at.air.Forecast(now, t.In(at.zone))
}

// readAir takes the one reading that the slip names.
func (j *Joiner) readAir(s *Slip) weather.Estimate {
	for track, day := range j.days {
		for _, r := range day {
			if r.ID == s.Air {
				one := []weather.Timed{{ID: r.ID, Time: s.Time.Time, Reading: r.Reading}}
				e := weather.At(one, s.Time.Time, j.tracks[track].ElevationFt)
				if e.Known {
					e.How = weather.How{Kind: weather.ByName, ReadingID: r.ID}
				}
				return e
			}
		}
	}
	return weather.Estimate{How: weather.How{Kind: weather.NotInLog, ReadingID: s.Air}}
}

// Runs joins the slips of a vehicle, of all when it is "", by their time.
func (lb *Logbook) Runs(vehicle string) ([]Run, error) {
	j, err := lb.Joiner(vehicle)
	if err != nil {
		return nil, err
	}
	slips, err := lb.Slips(vehicle)
	return j.runs(slips), err
}

func (j *Joiner) runs(slips []Slip) []Run {
	runs := make([]Run, len(slips))
	for i := range slips {
		j.join(&runs[i], &slips[i], j.airOf(&slips[i]))
	}
	return runs
}
