package logbook

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Lengths are the distances timed at a track, ft, as one cell: "660 1320".
type Lengths []float64

// MarshalCSV writes the lengths apart by blanks.
func (l Lengths) MarshalCSV() (string, error) {
	s := make([]string, len(l))
	for i, ft := range l {
		s[i] = units.Some(ft).String()
	}
	return strings.Join(s, " "), nil
}

// UnmarshalCSV reads lengths apart by blanks.
func (l *Lengths) UnmarshalCSV(cell string) error {
	*l = nil
	for _, s := range strings.Fields(cell) {
		ft, err := strconv.ParseFloat(s, 64)
		if err != nil || !(ft > 0 && ft < 1e5) {
			return fmt.Errorf("%q is not a length in feet", s)
		}
		*l = append(*l, ft)
	}
	return nil
}

// Track is a place to race; its id is the short name the racer gave it.
type Track struct {
	Entry
	Title            string       `csv:"title"              json:"title,omitzero"`
	ElevationFt      units.Number `csv:"elevation_ft"       json:"elevation_ft,omitzero"`
	LengthsFt        Lengths      `csv:"lengths_ft"         json:"lengths_ft,omitzero"`
	HeadingDeg       units.Number `csv:"heading_deg"        json:"heading_deg,omitzero"` // true bearing from start to finish
	TimeZone         string       `csv:"time_zone"          json:"time_zone,omitzero"`   // as "America/Chicago"; empty is the machine's own
	PerfectReactionS units.Number `csv:"perfect_reaction_s" json:"perfect_reaction_s,omitzero"`
	BothRed          string       `csv:"both_red"           json:"both_red,omitzero"           oneof:"first worst"`
	Notes            string       `csv:"notes"              json:"notes,omitzero"`
}

// Name is the full title where there is one, else the short name.
func (t Track) Name() string {
	if t.Title != "" {
		return t.Title
	}
	return t.ID
}

// Check refuses what cannot be.
func (t Track) Check() error {
	if err := CheckName("track", t.ID); err != nil {
		return err
	}
	if err := cmp.Or(t.possible(), refuseImpossible(&t)); err != nil {
		return err
	}
	return checkRecord(&t)
}

func (t Track) possible() error {
	if t.ElevationFt.Known() {
		if err := weather.CheckElevation(t.ElevationFt.Value()); err != nil {
			return err
		}
	}
	if h := t.HeadingDeg; h.Known() && (h.Value() < 0 || h.Value() > 360) {
		return fmt.Errorf("heading %v: want 0 to 360 degrees, the true bearing from start to finish", h)
	}
	if p := t.PerfectReactionS; p.Known() && p.Value() != 0 && p.Value() != 0.4 && p.Value() != 0.5 {
		return fmt.Errorf("perfect reaction %v: want 0, 0.4 or 0.5, what the slip prints for a perfect light", p)
	}
	if _, err := time.LoadLocation(t.TimeZone); err != nil || t.TimeZone == "Local" {
		return fmt.Errorf("time zone %q is not known: want a name like America/Chicago", clip(t.TimeZone))
	}
	return nil
}

// Location is the zone that times at the track are typed and shown in.
func (t Track) Location(machine *time.Location) *time.Location {
	if t.TimeZone == "" {
		return machine
	}
	if loc, err := time.LoadLocation(t.TimeZone); err == nil {
		return loc
	}
	return machine
}
