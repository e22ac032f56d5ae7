package form

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// Typist reads what is typed of a slip by what the logbook says beside it.
type Typist struct {
	Log      *crew.Session
	Page     *page.Page
	Vehicles []logbook.Vehicle
	Tracks   []logbook.Track
	Now      time.Time    // that lines are read by
	Beside   []*crew.Slip // of the lines before, to be recorded with the next
	Bare     units.System // of numbers without a unit

	TheVehicle func() (logbook.Vehicle, error) // where none is named
	TheTrack   func() (logbook.Track, error)
	// Moment reads a time as typed, and tells which was taken of two that the clock showed.
	Moment func(text string, now time.Time, zone *time.Location) (time.Time, error)

	lastOfAll *crew.Slip           // once it was looked up
	lastOf    map[string]crew.Slip // by vehicle, once it was looked up
}

// ErrNoVehicle is that of a log in which no slip can be recorded yet.
var ErrNoVehicle = errors.New("no vehicle in the logbook yet")

// NewTypist reads the names that a line may hold.
func NewTypist(lb *crew.Session, p *page.Page, now time.Time) (*Typist, error) {
	vs, err := lb.Vehicles()
	if err != nil {
		return nil, err
	}
	if len(vs) == 0 {
		return nil, ErrNoVehicle
	}
	ts, err := lb.Tracks()
	if err != nil {
		return nil, err
	}
	return &Typist{Log: lb, Page: p, Vehicles: vs, Tracks: ts, Now: now, lastOf: map[string]crew.Slip{}}, nil
}

// Last is the slip of any vehicle that was recorded last; it may be empty.
func (r *Typist) Last() crew.Slip {
	if r.lastOfAll == nil {
		s, err := r.Log.Slip("last")
		if err != nil {
			s = crew.Slip{} // the first slip, or a damaged last one: nothing to go by
		}
		r.lastOfAll = &s
	}
	return *r.lastOfAll
}

// Names takes the vehicle and the track that a line names in full out of its words.
func (r *Typist) Names(words []string) (vehicle, track string, rest []string, err error) {
	take := func(what string, into *string, w string) {
		if *into != "" && !strings.EqualFold(*into, w) {
			err = fmt.Errorf("the %s is told twice, as %q and as %q: want one", what, *into, w)
		}
		*into = w
	}
	for _, w := range words {
		switch {
		case slices.ContainsFunc(r.Vehicles, func(v logbook.Vehicle) bool { return strings.EqualFold(v.ID, w) }):
			take("vehicle", &vehicle, w)
		case slices.ContainsFunc(r.Tracks, func(t logbook.Track) bool { return strings.EqualFold(t.ID, w) }):
			take("track", &track, w)
		default:
			rest = append(rest, w)
		}
	}
	return vehicle, track, rest, err
}

// Vehicle is that of a name, or the one meant without.
func (r *Typist) Vehicle(name string) (logbook.Vehicle, error) {
	for _, v := range r.Vehicles {
		if strings.EqualFold(v.ID, name) {
			return v, nil
		}
	}
	if name != "" {
		return r.Log.VehicleNamed(name)
	}
	return r.TheVehicle()
}

// Track is that of a name, or the one meant without.
func (r *Typist) Track(name string) (logbook.Track, error) {
	for _, t := range r.Tracks {
		if strings.EqualFold(t.ID, name) {
			return t, nil
		}
	}
	if name != "" {
		return r.Log.TrackNamed(name)
	}
	return r.TheTrack()
}

// Usual is the vehicle's slip on the line before, else that recorded last, to read a new one by.
func (r *Typist) Usual(vehicle string) crew.Slip {
	if _, there := r.lastOf[vehicle]; !there {
		r.lastOf[vehicle], _ = r.Log.LastOf(vehicle)
	}
	return r.lastOf[vehicle]
}

// Read takes a slip as that which the next line of its vehicle is read by.
func (r *Typist) Read(s crew.Slip) { r.lastOf[s.Vehicle] = s }
