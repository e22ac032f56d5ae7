package crew

import (
	"context"
	"slices"
	"time"
)

// DaySheet is a day's runs of a vehicle.
type DaySheet struct {
	Vehicle Vehicle
	Track   Track // of the first run; the zero Track without one
	Day     time.Time
	Runs    []DayRun
	Own     []OwnColumn // the racer's own that have a value, those of all his runs on a day without one
	Due     []Worn      // parts that are to be changed, as they are now
}

// DayRun is one of them, judged, with its round.
type DayRun struct {
	Judged
	Round Round // both lanes judged; the result that counts is Judged's
	End   End   // what decided it, "" where nothing did
}

// Far is the longest distance at which any of them has a time.
func (d *DaySheet) Far() (far Mark) {
	for _, r := range d.Runs {
		if m, timed := r.Pass.Splits.Finish(); timed {
			far = max(far, m)
		}
	}
	return far
}

// DaySheets are the runs of a day, of a vehicle or of each that has some when it is "". The
// day is that of the track where the run was made. last is the latest day with runs.
func (s *Session) DaySheets(
	ctx context.Context,
	vehicle string,
	day time.Time,
) (sheets []DaySheet, last time.Time, err error) {
	vehicles, err := s.Vehicles()
	if err != nil {
		return nil, last, err
	}
	for _, v := range vehicles {
		if vehicle != "" && v.ID != vehicle {
			continue
		}
		runs, err := s.Runs(v.ID)
		if err != nil {
			return nil, last, err
		}
		if len(runs) > 0 {
			last = later(last, runs[len(runs)-1].Slip.Time.Time)
		}
		own := slices.DeleteFunc(slices.Clone(runs), func(r Run) bool { return !sameDate(r.Slip.Time.Time, day) })
		if len(own) == 0 && vehicle == "" && len(vehicles) > 1 {
			continue
		}
		sheet, err := s.daySheet(ctx, v, day, runs, own)
		if err != nil {
			return nil, last, err
		}
		sheets = append(sheets, sheet)
	}
	return sheets, last, nil
}

func (s *Session) daySheet(ctx context.Context, v Vehicle, day time.Time, runs, own []Run) (DaySheet, error) {
	d := DaySheet{Vehicle: v, Day: day}
	js, err := JudgeThese(ctx, runs, own)
	if err != nil {
		return d, err
	}
	for _, j := range js {
		s, t := j.Run.Slip, j.Run.Track
		r := DayRun{Judged: j, Round: RoundOf(s, t, RulesOf(s, t))}
		r.Round.Judge()
		_, r.End = EndOf(s, t)
		if d.Track.ID == "" {
			d.Track = t
		}
		d.Runs = append(d.Runs, r)
	}
	if d.Own, err = s.ownOfDay(runs, own); err != nil {
		return d, err
	}
	d.Due, err = s.DueOf(v.ID, s.Now())
	return d, err
}

// ownOfDay are the racer's own columns that runs of a day have, without any those of all runs.
func (s *Session) ownOfDay(all, day []Run) ([]OwnColumn, error) {
	if len(day) == 0 {
		day = all
	}
	columns, err := s.OwnOf(day)
	return slices.DeleteFunc(columns, func(c OwnColumn) bool {
		return !slices.ContainsFunc(day, func(r Run) bool { return r.Slip.OwnText(c.ID) != "" })
	}), err
}
