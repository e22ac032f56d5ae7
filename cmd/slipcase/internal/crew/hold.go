package crew

import (
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"time"

	"slipcase/logbook"
)

// What holds for a day alone is kept in a file of its own in the folder of the logbook,
// and is no part of the log: a hold is forgotten with the date at the track.

// dayState is that file.
type dayState struct {
	Holds []hold `json:"holds"`
	Use   Use    `json:"use,omitzero"`
	Line  string `json:"line,omitzero"` // half typed when the terminal went away
}

// hold is what a vehicle dials slower than its forecast, at a track on a day.
type hold struct {
	Vehicle string  `json:"vehicle"`
	Track   string  `json:"track"`
	Day     string  `json:"day"`
	HoldS   float64 `json:"hold_s"`
}

func holdOf(r Run) hold {
	return hold{Vehicle: r.Vehicle.ID, Track: r.Track.ID, Day: r.Slip.Time.Format(time.DateOnly)}
}

// mostHeldS is more than anyone gives back at the stripe, s (common practice, no source).
const mostHeldS = 1

// CheckHold refuses what nobody holds.
func CheckHold(s float64) error {
	if !(s >= 0 && s < mostHeldS) {
		return impossiblef("hold", "%g: want seconds, 0 to under %d, as .02", s, mostHeldS)
	}
	return nil
}

// Hold is what was kept for a run's vehicle, track and day, s; 0 for nothing.
func (s *Session) Hold(r Run) float64 {
	want := holdOf(r)
	for _, h := range s.dayState().Holds {
		if want.HoldS = h.HoldS; h == want && CheckHold(h.HoldS) == nil {
			return h.HoldS
		}
	}
	return 0
}

// TakeHold gives a dial that is asked for the hold of its day; a risk that is asked for, or
// another lane to beat, goes before it.
func (s *Session) TakeHold(ask *DialAsk) {
	kept := &ask.HoldS
	if ask.ForRisk || ask.Rival != nil {
		kept = &ask.KeptS
	}
	if ask.Rules.Format == Dialled {
		*kept = s.Hold(ask.Next.Run)
	}
}

// KeepHold keeps a hold, s, for a run's vehicle, track and day; 0 drops it. Those of
// other days go.
func (s *Session) KeepHold(r Run, holdS float64) error {
	own := holdOf(r)
	own.HoldS = math.Round(holdS*1000) / 1000
	d := s.dayState()
	if holdS == 0 && len(d.Holds) == 0 {
		return nil
	}
	d.Holds = slices.DeleteFunc(d.Holds, func(h hold) bool {
		return h.Day != own.Day || h.Vehicle == own.Vehicle && h.Track == own.Track
	})
	if holdS > 0 {
		d.Holds = append(d.Holds, own)
	}
	return s.keepDay(d)
}

func (s *Session) keepDay(d dayState) error {
	data, err := json.Marshal(d)
	if err != nil {
		return err
	}
	return logbook.WriteFile(s.dayPath(), data)
}

// KeepLine keeps a line that is half typed.
func (s *Session) KeepLine(line string) error {
	d := s.dayState()
	d.Line = line
	return s.keepDay(d)
}

// TakeLine gives the line that was kept, once.
func (s *Session) TakeLine() string {
	d := s.dayState()
	if d.Line == "" || s.KeepLine("") != nil {
		return "" // nor is it given again and again
	}
	return d.Line
}

func (s *Session) dayPath() string { return filepath.Join(s.Dir(), logbook.DayFile) }

// dayState reads the file; one that is not there or cannot be read is as good as none.
func (s *Session) dayState() (d dayState) {
	data, err := logbook.ReadFile(s.dayPath())
	if err != nil || json.Unmarshal(data, &d) != nil {
		return dayState{}
	}
	return d
}
