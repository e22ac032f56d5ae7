// Package intake plans how a notebook comes into the log: the batch of what is new in it, what
// is left out and why, and the questions to be answered first.
package intake

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// Plan is a notebook on its way into the log: what would be recorded, left out and asked.
type Plan struct {
	Log     *crew.Session
	Book    *notebook.Notebook
	Options notebook.Options
	Kinds   map[string]string // of new vehicles, by their names; "" is of all others
	Force   bool              // what looks wrong is recorded too
	File    string
	NewID   func(kind byte) string
	Page    *page.Page
	Step    func(done, of int)

	ID        string
	Batch     logbook.Batch
	Left      []notebook.Left
	Questions []string

	known   int
	drafts  map[*crew.Slip]*notebook.Draft
	unaired map[*crew.Slip]*logbook.Reading // the reading that goes with a slip
	ownRows []*notebook.Own                 // of our own export, one a setup
}

// SourceWord begins the source of what an import has brought: the import, then the row.
const SourceWord = "import"

// Make makes the batch and looks at it.
func (p *Plan) Make(ctx context.Context) error {
	p.ID = p.NewID('i')
	p.drafts, p.unaired = map[*crew.Slip]*notebook.Draft{}, map[*crew.Slip]*logbook.Reading{}
	there, err := p.Log.SlipSources()
	if err != nil {
		return err
	}
	known := map[string]bool{}
	for source := range there {
		known[logbook.SourceRow(source)] = true
	}
	if p.Book.Own {
		ids, err := p.Log.SlipIDs()
		if err != nil {
			return err
		}
		for id := range ids {
			known[SourceWord+" "+id] = true
		}
	}
	for _, q := range p.Book.Questions {
		p.Questions = append(p.Questions, questionWords(q))
	}
	seen := map[string]int{}
	for i := range p.Book.Rows {
		d := &p.Book.Rows[i]
		if seen[d.Hash]++; seen[d.Hash] > 1 {
			d.Hash = fmt.Sprintf("%s-%d", d.Hash, seen[d.Hash])
		}
		switch {
		case known[logbook.SourceRow(p.source(d))]:
			p.known++
		case p.Book.Own && seen[d.Slip.ID] > 1:
			p.Left = append(p.Left, notebook.Left{Draft: d, Why: "a row above has its id"})
		case p.Book.Own && len(d.Faults) == 0:
			if err := p.takeOwn(d); err != nil {
				return err
			}
		case len(d.Faults) > 0:
			p.Left = append(p.Left, notebook.Left{Draft: d, Why: faultWords(d.Faults, p.Page.Units)})
		case d.Vehicle == "":
			p.Left = append(p.Left, notebook.Left{Draft: d, Why: "no vehicle is told"})
		default:
			p.take(d)
		}
	}
	if p.Book.Own {
		return p.lookAlone()
	}
	if slices.ContainsFunc(p.Book.Rows, func(d notebook.Draft) bool { return d.Vehicle == "" }) {
		p.Questions = append(p.Questions, "whose runs are they? --vehicle NAME")
	}
	p.names()
	p.setups()
	return p.look(ctx)
}

// source says of a row which import has brought it, and which it is.
func (p *Plan) source(d *notebook.Draft) string { return SourceWord + " " + p.ID + " " + d.Hash }

// take makes a slip, and a reading, of a draft.
func (p *Plan) take(d *notebook.Draft) {
	s := &d.Slip
	s.ID = p.NewID('s')
	s.Source = p.source(d)
	if r, has := p.reading(d); has {
		p.unaired[s] = r
	}
	p.drafts[s] = d
	p.Batch.Slips = append(p.Batch.Slips, s)
}

// reading is the air of a row, where it says enough of it at a track that is told; what it
// says besides goes into the notes.
func (p *Plan) reading(d *notebook.Draft) (*logbook.Reading, bool) {
	r := d.Air
	if r.Reading == (logbook.Reading{}).Reading {
		return nil, false
	}
	if water := r.RHPct; water.Known() {
		d.Note("dew point", &r.DewPointF, "F")
		d.Note("wet bulb", &r.WetBulbF, "F")
	}
	if r.StationInHg.Known() {
		d.Note("altimeter", &r.AltimeterInHg, "inHg")
		d.Note("sea-level pressure", &r.SeaLevelInHg, "inHg")
	}
	elevation := units.Number{}
	if i := slices.IndexFunc(p.Options.Tracks, func(t logbook.Track) bool { return t.ID == d.Slip.Track }); i >= 0 {
		elevation = p.Options.Tracks[i].ElevationFt
	}
	r.Time, r.Track, r.Source = d.Slip.Time, d.Slip.Track, SourceWord+" "+p.ID
	// Temperature, water and pressure say more than the density altitude that follows from
	// them; alone it is what was read.
	whole := r
	whole.DensityAltitudeFt = units.Number{}
	if r.Track != "" && whole.Check(elevation) == nil {
		d.Note("density altitude", &r.DensityAltitudeFt, "ft")
		r.DensityAltitudeFt = units.Number{}
		return &r, true
	}
	if r.DensityAltitudeFt.Known() {
		d.Note("air temp", &r.TempF, "F")
		d.Note("humidity", &r.RHPct, "%")
		d.Note("dew point", &r.DewPointF, "F")
		d.Note("wet bulb", &r.WetBulbF, "F")
		if r.Track != "" && r.Check(elevation) == nil {
			return &r, true
		}
	}
	for _, left := range []struct {
		word string
		n    *units.Number
		unit string
	}{
		{"air temp", &r.TempF, "F"},
		{"humidity", &r.RHPct, "%"},
		{"dew point", &r.DewPointF, "F"},
		{"wet bulb", &r.WetBulbF, "F"},
		{"station pressure", &r.StationInHg, "inHg"},
		{"altimeter", &r.AltimeterInHg, "inHg"},
		{"sea-level pressure", &r.SeaLevelInHg, "inHg"},
		{"density altitude", &r.DensityAltitudeFt, "ft"},
		{"wind", &r.WindMPH, "mph"},
		{"wind from", &r.WindFromDeg, "deg"},
	} {
		d.Note(left.word, left.n, left.unit)
	}
	return nil, false
}

// names makes the vehicles and tracks that the log has not.
func (p *Plan) names() {
	kinds := p.Kinds
	for _, s := range p.Batch.Slips {
		d := p.drafts[s]
		isVehicle := func(v logbook.Vehicle) bool { return v.ID == s.Vehicle }
		isTrack := func(t logbook.Track) bool { return t.ID == s.Track }
		if !slices.ContainsFunc(p.Options.Vehicles, isVehicle) &&
			!slices.ContainsFunc(p.Batch.Vehicles, func(v *logbook.Vehicle) bool { return isVehicle(*v) }) {
			kind := kinds[s.Vehicle]
			if kind == "" {
				kind = kinds[""]
			}
			if kind == "" {
				p.Questions = append(p.Questions, fmt.Sprintf("is %s a car or a motorcycle? --kind %s=car", s.Vehicle, s.Vehicle))
				kind = "car" // until it is told: nothing is recorded
			}
			p.Batch.Vehicles = append(p.Batch.Vehicles, &logbook.Vehicle{
				Entry: logbook.Entry{ID: s.Vehicle}, Title: titleOf(d.Vehicle, s.Vehicle), Kind: kind, Aspiration: "natural",
			})
		}
		if s.Track != "" && !slices.ContainsFunc(p.Options.Tracks, isTrack) &&
			!slices.ContainsFunc(p.Batch.Tracks, func(t *logbook.Track) bool { return isTrack(*t) }) {
			p.Batch.Tracks = append(
				p.Batch.Tracks,
				&logbook.Track{Entry: logbook.Entry{ID: s.Track}, Title: titleOf(d.Track, s.Track)},
			)
		}
	}
}

func titleOf(text, name string) string {
	if strings.TrimSpace(text) == name {
		return ""
	}
	return strings.TrimSpace(text)
}

// setups makes a setup wherever a vehicle's weight or power changes.
func (p *Plan) setups() {
	type state struct{ weight, power units.Number }
	last := map[string]state{}
	inOrder := slices.Clone(p.Batch.Slips)
	slices.SortStableFunc(inOrder, func(a, b *crew.Slip) int { return a.Time.Compare(b.Time.Time) })
	for _, s := range inOrder {
		d := p.drafts[s]
		now, was := state{d.Weight, d.Power}, last[s.Vehicle]
		if !now.weight.Known() {
			now.weight = was.weight
		}
		if !now.power.Known() {
			now.power = was.power
		}
		if last[s.Vehicle] = now; now == was || p.isSetUp(s, d.Weight, d.Power) {
			continue
		}
		p.Batch.Setups = append(p.Batch.Setups, &logbook.Setup{
			Entry: logbook.Entry{ID: p.NewID('u')}, Vehicle: s.Vehicle, From: s.Time, WeightLb: now.weight, PowerHP: now.power,
		})
	}
}

// isSetUp reports that the log's setup of that moment says the same.
func (p *Plan) isSetUp(s *crew.Slip, weight, power units.Number) bool {
	all, err := p.Log.Setups(s.Vehicle)
	if err != nil {
		return false
	}
	for _, u := range slices.Backward(all) {
		if !u.From.After(s.Time.Time) {
			return (!weight.Known() || weight == u.WeightLb) && (!power.Known() || power == u.PowerHP)
		}
	}
	return false
}

// look holds every slip against the rest, and leaves out what looks wrong.
func (p *Plan) look(ctx context.Context) error {
	for _, s := range p.Batch.Slips {
		if r := p.unaired[s]; r != nil {
			p.Batch.Readings = append(p.Batch.Readings, r)
		}
	}
	looked, err := p.Log.LookTogether(ctx, p.Batch, p.Step)
	if err != nil {
		return err
	}
	var keep []*crew.Slip
	for i, s := range p.Batch.Slips {
		words := p.Page.WithLikely(looked[i].Doubts)
		switch {
		case looked[i].Cannot != nil:
			p.Left = append(p.Left, notebook.Left{Draft: p.drafts[s], Why: looked[i].Cannot.Error()})
		case len(words) > 0 && !p.Force:
			p.Left = append(p.Left, notebook.Left{Draft: p.drafts[s], Why: strings.Join(words, "; ")})
		default:
			s.Forced = strings.Join(words, "; ")
			keep = append(keep, s)
		}
	}
	p.Batch.Slips, p.Batch.Readings = keep, nil
	for _, s := range keep {
		if r := p.unaired[s]; r != nil {
			p.Batch.Readings = append(p.Batch.Readings, r)
		}
	}
	p.onlyUsed()
	return nil
}

// onlyUsed drops what no slip that stays needs, and adds the columns that they do.
func (p *Plan) onlyUsed() {
	used := func(id func(*crew.Slip) string, want string) bool {
		return slices.ContainsFunc(p.Batch.Slips, func(s *crew.Slip) bool { return id(s) == want })
	}
	vehicle, track := func(s *crew.Slip) string { return s.Vehicle }, func(s *crew.Slip) string { return s.Track }
	p.Batch.Vehicles = slices.DeleteFunc(p.Batch.Vehicles, func(v *logbook.Vehicle) bool { return !used(vehicle, v.ID) })
	p.Batch.Tracks = slices.DeleteFunc(p.Batch.Tracks, func(t *logbook.Track) bool { return !used(track, t.ID) })
	for _, c := range p.Book.OwnColumns() {
		known := slices.ContainsFunc(p.Options.Own, func(o crew.OwnColumn) bool { return strings.EqualFold(o.ID, c.ID) })
		if !known && slices.ContainsFunc(p.Batch.Slips, func(s *crew.Slip) bool { return s.OwnText(c.ID) != "" }) {
			p.Batch.Columns = append(p.Batch.Columns, &c)
		}
	}
	p.Batch.Setups = slices.DeleteFunc(p.Batch.Setups, func(u *logbook.Setup) bool { return !used(vehicle, u.Vehicle) })
	p.Batch.Sheets = slices.DeleteFunc(p.Batch.Sheets, func(sh *logbook.Sheet) bool {
		return !slices.ContainsFunc(p.Batch.Setups, func(u *logbook.Setup) bool { return u.Power == sh.ID })
	})
}
