package crew

import (
	"errors"
	"fmt"

	"slipcase/logbook"
)

// TakenOut is the error of what would use an entry that is void.
type TakenOut struct{ Of, ID string }

func (v *TakenOut) Error() string { return fmt.Sprintf("%s %s is void", v.Of, v.ID) }

// Stands refuses an entry that was taken out; of is the word for it.
func Stands(of string, e logbook.Entry) error {
	if e.Status == logbook.Void {
		return &TakenOut{of, e.ID}
	}
	return nil
}

// VehicleNamed finds a vehicle for something to be recorded or forecast of it.
func (s *Session) VehicleNamed(name string) (Vehicle, error) {
	v, err := s.Vehicle(name)
	if err != nil {
		return v, err
	}
	return v, Stands("vehicle", v.Entry)
}

// TrackNamed finds a track for times to be typed at: a zone mistyped in the file must not
// move them.
func (s *Session) TrackNamed(name string) (Track, error) {
	t, err := s.Track(name)
	if err != nil {
		return t, err
	}
	if err := Stands("track", t.Entry); err != nil {
		return t, err
	}
	return t, t.Check()
}

// SlipStands refuses a slip whose vehicle, track or setup was taken out. What is not in
// the log at all is a check's to tell.
func (s *Session) SlipStands(slip Slip) error {
	v, err := s.Vehicle(slip.Vehicle)
	if err == nil {
		err = Stands("vehicle", v.Entry)
	}
	if slip.Track != "" && (err == nil || errors.Is(err, logbook.ErrUnknown)) {
		var t Track
		if t, err = s.Track(slip.Track); err == nil {
			err = Stands("track", t.Entry)
		}
	}
	if slip.Setup != "" && (err == nil || errors.Is(err, logbook.ErrUnknown)) {
		var u Setup
		if u, err = s.Setup("", slip.Setup); err == nil {
			err = Stands("setup", u.Entry)
		}
	}
	if errors.Is(err, logbook.ErrUnknown) {
		return nil
	}
	return err
}

// ReadingStands refuses a reading whose track was taken out.
func (s *Session) ReadingStands(r Reading) error {
	t, err := s.Track(r.Track)
	if errors.Is(err, logbook.ErrUnknown) {
		return nil
	}
	if err == nil {
		err = Stands("track", t.Entry)
	}
	return err
}

// VehicleSlips counts the slips of a vehicle that stand.
func (s *Session) VehicleSlips(v Vehicle) (int, error) {
	slips, err := s.Slips(v.ID)
	return len(slips), err
}

// TrackSlips counts the slips at a track that stand.
func (s *Session) TrackSlips(t Track) (n int, err error) {
	slips, err := s.Slips("")
	for _, slip := range slips {
		if slip.Track == t.ID {
			n++
		}
	}
	return n, err
}

// SetupSlips counts the slips of a setup that stand: that name it, or for which it is the
// one in force.
func (s *Session) SetupSlips(u Setup) (n int, err error) {
	runs, err := s.Logbook.Runs(u.Vehicle)
	for _, r := range runs {
		if r.Setup.ID == u.ID {
			n++
		}
	}
	return n, err
}
