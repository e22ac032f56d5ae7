package logbook

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipcase/weather/units"
)

// Point is the power in hp at an engine speed in rpm.
type Point struct {
	RPM float64 `json:"rpm"`
	HP  float64 `json:"hp"`
}

// Points are a dyno curve as one cell: "3000:171.4 3500:208".
type Points []Point

// MarshalCSV writes the points apart by blanks.
func (p Points) MarshalCSV() (string, error) {
	s := make([]string, len(p))
	for i, point := range p {
		s[i] = units.Some(point.RPM).String() + ":" + units.Some(point.HP).String()
	}
	return strings.Join(s, " "), nil
}

// UnmarshalCSV reads points apart by blanks, their engine speeds rising.
func (p *Points) UnmarshalCSV(cell string) error {
	*p = nil
	for _, s := range strings.Fields(cell) {
		left, right, _ := strings.Cut(s, ":")
		rpm, err := strconv.ParseFloat(left, 64)
		hp, err2 := strconv.ParseFloat(right, 64)
		if err != nil || err2 != nil || !(rpm > 0 && hp > 0) || math.IsInf(rpm, 0) || math.IsInf(hp, 0) {
			return fmt.Errorf("%q is not rpm:hp", s)
		}
		if n := len(*p); n > 0 && rpm <= (*p)[n-1].RPM {
			return fmt.Errorf("%q does not rise above %v rpm", s, (*p)[n-1].RPM)
		}
		*p = append(*p, Point{rpm, hp})
	}
	return nil
}

// Sheet is one pull on a dynamometer, or only its peak. Its figures are as it
// states them; the air is that of the day at the dyno, where noted.
type Sheet struct {
	Entry
	Name        string       `csv:"name"           json:"name"                  required:"yes"`
	Vehicle     string       `csv:"vehicle"        json:"vehicle,omitzero"`
	Time        Time         `csv:"time"           json:"time,omitzero"`
	At          string       `csv:"power_at"       json:"power_at"              required:"yes" oneof:"wheels clutch"`
	Standard    string       `csv:"power_standard" json:"power_standard"        required:"yes" oneof:"sae standard din none"`
	PeakHP      units.Number `csv:"peak_hp"        json:"peak_hp"`
	PeakRPM     units.Number `csv:"peak_rpm"       json:"peak_rpm,omitzero"`
	Points      Points       `csv:"points_rpm_hp"  json:"points,omitempty"` // empty when only the peak is known
	TempF       units.Number `csv:"temp_f"         json:"temp_f,omitzero"`
	RHPct       units.Number `csv:"rh_pct"         json:"rh_pct,omitzero"`
	StationInHg units.Number `csv:"station_inhg"   json:"station_inhg,omitzero"`
	Notes       string       `csv:"notes"          json:"notes,omitzero"`
}

// Check refuses what cannot be.
func (s Sheet) Check() error {
	if err := CheckName("dyno sheet", s.Name); err != nil {
		return err
	}
	if !s.PeakHP.Known() || !(s.PeakHP.Value() > 0) {
		return fmt.Errorf("peak power %v: want more than 0", orNone(s.PeakHP))
	}
	return checkRecord(&s)
}

func orNone(n units.Number) string {
	if !n.Known() {
		return "is missing"
	}
	return n.String()
}

// Sheets lists the dyno sheets of a vehicle, of all when it is "", as recorded.
func (lb *Logbook) Sheets(vehicle string) ([]Sheet, error) {
	return facts[Sheet](lb, sheets, by("vehicle", vehicle))
}

// Sheet finds a dyno sheet by its name, or as Slip finds a slip.
func (lb *Logbook) Sheet(ref string) (Sheet, error) {
	all, err := lb.Sheets("")
	if err != nil {
		return Sheet{}, err
	}
	if i := slices.IndexFunc(all, func(s Sheet) bool { return s.Name == ref }); i >= 0 {
		return all[i], nil
	}
	return find[Sheet](lb, sheets, ref)
}

// AddSheet records a dyno sheet under a new name.
func (lb *Logbook) AddSheet(s *Sheet) error {
	if err := s.Check(); err != nil {
		return err
	}
	all, err := lb.Sheets("")
	if err != nil {
		return err
	}
	if slices.ContainsFunc(all, func(o Sheet) bool { return o.Name == s.Name }) {
		return fmt.Errorf("dyno sheet %q is %w", s.Name, ErrExists)
	}
	return add(lb, sheets, []*Sheet{s})
}

// AmendSheet records the next revision of a dyno sheet.
func (lb *Logbook) AmendSheet(id string, change func(*Sheet) error) (Sheet, error) {
	return amend(lb, sheets, id, checked(change, func(s *Sheet) error { return s.Check() }))
}
