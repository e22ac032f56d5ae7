package intake

import (
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/logbook"
)

// takeOwn takes a row of our own export: its slip with its own id, and what it was joined with
// where the log has not that.
func (p *Plan) takeOwn(d *notebook.Draft) error {
	s := &d.Slip
	s.Source = p.source(d)
	if p.drafts[s] = d; s.Track != "" {
		p.ownTrack(d)
	}
	p.ownVehicle(d)
	if err := p.ownSetup(d); err != nil {
		return err
	}
	p.Batch.Slips = append(p.Batch.Slips, s)
	return p.ownReading(d)
}

func (p *Plan) ownVehicle(d *notebook.Draft) {
	is := func(v logbook.Vehicle) bool { return v.ID == d.Slip.Vehicle }
	if !slices.ContainsFunc(p.Options.Vehicles, is) &&
		!slices.ContainsFunc(p.Batch.Vehicles, func(v *logbook.Vehicle) bool { return is(*v) }) {
		p.Batch.Vehicles = append(p.Batch.Vehicles, &d.Own.Vehicle)
	}
}

func (p *Plan) ownTrack(d *notebook.Draft) {
	is := func(t logbook.Track) bool { return t.ID == d.Slip.Track }
	if !slices.ContainsFunc(p.Options.Tracks, is) &&
		!slices.ContainsFunc(p.Batch.Tracks, func(t *logbook.Track) bool { return is(*t) }) {
		p.Batch.Tracks = append(p.Batch.Tracks, &d.Own.Track)
	}
}

// ownSetup makes the setup of a row, once; a slip that names it keeps its name for it.
func (p *Plan) ownSetup(d *notebook.Draft) error {
	u := &d.Own.Setup
	if u.From.IsZero() {
		return nil
	}
	if i := slices.IndexFunc(p.ownRows, func(o *notebook.Own) bool { return o.Key() == d.Own.Key() }); i >= 0 {
		if first := &p.ownRows[i].Setup; u.ID != "" && first.ID != u.ID {
			first.ID = u.ID
		}
		return nil
	}
	if err := p.ownSheet(d); err != nil {
		return err
	}
	there, err := p.Log.Setups(u.Vehicle)
	if err != nil || slices.ContainsFunc(there, func(o logbook.Setup) bool { return o.From.Equal(u.From.Time) }) {
		return err
	}
	if u.ID == "" {
		u.ID = p.NewID('u')
	}
	p.ownRows = append(p.ownRows, d.Own)
	p.Batch.Setups = append(p.Batch.Setups, u)
	return nil
}

// ownSheet takes the dyno sheet of a setup, once; the log's own where that has one of its name.
// A table from before it told of sheets names it alone: the setup keeps the figure without it.
func (p *Plan) ownSheet(d *notebook.Draft) error {
	u, sheet := &d.Own.Setup, &d.Own.Sheet
	if u.Power == "" {
		return nil
	}
	there, err := p.Log.Sheets("")
	if err != nil {
		return err
	}
	for _, o := range there {
		if o.ID == sheet.ID || o.Name == sheet.Name {
			u.Power = o.ID
			return nil
		}
	}
	switch is := func(o *logbook.Sheet) bool { return o.ID == sheet.ID }; {
	case sheet.Name == "":
		u.Power = ""
	case !slices.ContainsFunc(p.Batch.Sheets, is):
		p.Batch.Sheets = append(p.Batch.Sheets, sheet)
	}
	return nil
}

// ownReading takes the reading of a row, once.
func (p *Plan) ownReading(d *notebook.Draft) error {
	if d.Air.ID == "" || slices.ContainsFunc(p.Batch.Readings, func(r *logbook.Reading) bool { return r.ID == d.Air.ID }) {
		return nil
	}
	if _, err := p.Log.Reading(d.Air.ID); err == nil {
		return nil
	}
	d.Air.Source = SourceWord + " " + p.ID
	p.Batch.Readings = append(p.Batch.Readings, &d.Air)
	return nil
}

// lookAlone leaves out what cannot be of a table that the log itself once wrote: what only
// looked wrong in it was settled then.
func (p *Plan) lookAlone() error {
	p.Batch.Slips = slices.DeleteFunc(p.Batch.Slips, func(s *crew.Slip) bool {
		err := s.Check()
		if err != nil {
			p.Left = append(p.Left, notebook.Left{Draft: p.drafts[s], Why: err.Error()})
		}
		return err != nil
	})
	p.onlyUsed()
	return nil
}
