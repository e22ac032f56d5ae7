package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// importing is a notebook on its way into the log.
type importing struct {
	a       *app
	c       *cobra.Command
	lb      *crew.Session
	told    told
	book    *notebook.Notebook
	options notebook.Options
	force   bool
	file    string

	id        string
	batch     logbook.Batch
	left      []notebook.Left
	known     int
	questions []string
	drafts    map[*slip]*notebook.Draft
	unaired   map[*slip]*logbook.Reading // the reading that goes with a slip
}

// zonesOf is the zone of each track.
func zonesOf(a *app, tracks []logbook.Track) func(string) *time.Location {
	return func(id string) *time.Location {
		i := slices.IndexFunc(tracks, func(t logbook.Track) bool { return t.ID == id })
		if i < 0 {
			return a.zone(logbook.Track{})
		}
		return a.zone(tracks[i])
	}
}

// sourceWord begins the source of what an import has brought: the import, then the row.
const sourceWord = "import"

// plan makes the batch and looks at it.
func (p *importing) plan() error {
	p.id = p.a.id('i')
	p.drafts, p.unaired = map[*slip]*notebook.Draft{}, map[*slip]*logbook.Reading{}
	there, err := p.lb.SlipSources()
	if err != nil {
		return err
	}
	known := map[string]bool{}
	for source := range there {
		known[logbook.SourceRow(source)] = true
	}
	for _, q := range p.book.Questions {
		p.questions = append(p.questions, questionWords(q))
	}
	seen := map[string]int{}
	for i := range p.book.Rows {
		d := &p.book.Rows[i]
		if seen[d.Hash]++; seen[d.Hash] > 1 {
			d.Hash = fmt.Sprintf("%s-%d", d.Hash, seen[d.Hash])
		}
		switch {
		case known[logbook.SourceRow(p.source(d))]:
			p.known++
		case len(d.Faults) > 0:
			p.left = append(p.left, notebook.Left{Draft: d, Why: faultWords(d.Faults, p.a.units)})
		case d.Vehicle == "":
			p.left = append(p.left, notebook.Left{Draft: d, Why: "no vehicle is told"})
		default:
			p.take(d)
		}
	}
	if slices.ContainsFunc(p.book.Rows, func(d notebook.Draft) bool { return d.Vehicle == "" }) {
		p.questions = append(p.questions, "whose runs are they? --vehicle NAME")
	}
	if err := p.names(); err != nil {
		return err
	}
	p.setups()
	return p.look()
}

// source says of a row which import has brought it, and which it is.
func (p *importing) source(d *notebook.Draft) string { return sourceWord + " " + p.id + " " + d.Hash }

func (a *app) id(kind byte) string {
	if a.newID != nil {
		return a.newID(kind)
	}
	return logbook.NewID(kind)
}

// take makes a slip, and a reading, of a draft.
func (p *importing) take(d *notebook.Draft) {
	s := &d.Slip
	s.ID = p.a.id('s')
	s.Source = p.source(d)
	if r, has := p.reading(d); has {
		p.unaired[s] = r
	}
	p.drafts[s] = d
	p.batch.Slips = append(p.batch.Slips, s)
}

// reading is the air of a row, where it says enough of it at a track that is told; what it
// says besides goes into the notes.
func (p *importing) reading(d *notebook.Draft) (*logbook.Reading, bool) {
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
	if i := slices.IndexFunc(p.options.Tracks, func(t logbook.Track) bool { return t.ID == d.Slip.Track }); i >= 0 {
		elevation = p.options.Tracks[i].ElevationFt
	}
	r.Time, r.Track, r.Source = d.Slip.Time, d.Slip.Track, sourceWord+" "+p.id
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
func (p *importing) names() error {
	kinds := map[string]string{}
	for _, k := range p.told.Kinds {
		name, kind, named := strings.Cut(k, "=")
		if !named {
			name, kind = "", k
		}
		if kind != "car" && kind != "motorcycle" {
			return usagef("--kind %q: want car or motorcycle, or heron=car", clipped(k))
		}
		kinds[name] = kind
	}
	for _, s := range p.batch.Slips {
		d := p.drafts[s]
		isVehicle := func(v logbook.Vehicle) bool { return v.ID == s.Vehicle }
		isTrack := func(t logbook.Track) bool { return t.ID == s.Track }
		if !slices.ContainsFunc(p.options.Vehicles, isVehicle) &&
			!slices.ContainsFunc(p.batch.Vehicles, func(v *logbook.Vehicle) bool { return isVehicle(*v) }) {
			kind := kinds[s.Vehicle]
			if kind == "" {
				kind = kinds[""]
			}
			if kind == "" {
				p.questions = append(p.questions, fmt.Sprintf("is %s a car or a motorcycle? --kind %s=car", s.Vehicle, s.Vehicle))
				kind = "car" // until it is told: nothing is recorded
			}
			p.batch.Vehicles = append(p.batch.Vehicles, &logbook.Vehicle{
				Entry: logbook.Entry{ID: s.Vehicle}, Title: titleOf(d.Vehicle, s.Vehicle), Kind: kind, Aspiration: "natural",
			})
		}
		if s.Track != "" && !slices.ContainsFunc(p.options.Tracks, isTrack) &&
			!slices.ContainsFunc(p.batch.Tracks, func(t *logbook.Track) bool { return isTrack(*t) }) {
			p.batch.Tracks = append(
				p.batch.Tracks,
				&logbook.Track{Entry: logbook.Entry{ID: s.Track}, Title: titleOf(d.Track, s.Track)},
			)
		}
	}
	return nil
}

func titleOf(text, name string) string {
	if strings.TrimSpace(text) == name {
		return ""
	}
	return strings.TrimSpace(text)
}

// setups makes a setup wherever a vehicle's weight or power changes.
func (p *importing) setups() {
	type state struct{ weight, power units.Number }
	last := map[string]state{}
	inOrder := slices.Clone(p.batch.Slips)
	slices.SortStableFunc(inOrder, func(a, b *slip) int { return a.Time.Compare(b.Time.Time) })
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
		p.batch.Setups = append(p.batch.Setups, &logbook.Setup{
			Entry: logbook.Entry{ID: p.a.id('u')}, Vehicle: s.Vehicle, From: s.Time, WeightLb: now.weight, PowerHP: now.power,
		})
	}
}

// isSetUp reports that the log's setup of that moment says the same.
func (p *importing) isSetUp(s *slip, weight, power units.Number) bool {
	all, err := p.lb.Setups(s.Vehicle)
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
func (p *importing) look() error {
	for _, s := range p.batch.Slips {
		if r := p.unaired[s]; r != nil {
			p.batch.Readings = append(p.batch.Readings, r)
		}
	}
	bar := p.a.tty.Bar("reading")
	looked, err := p.lb.LookTogether(p.c.Context(), p.batch, bar.Step)
	bar.Stop()
	if err != nil {
		return err
	}
	var keep []*slip
	for i, s := range p.batch.Slips {
		var words []string
		for _, d := range looked[i].Doubts {
			text := p.a.page.Doubt(d)
			if len(d.Readings) > 0 {
				text += "; likely " + p.a.page.Meant(d.Readings[0])
			}
			words = append(words, text)
		}
		switch {
		case looked[i].Cannot != nil:
			p.left = append(p.left, notebook.Left{Draft: p.drafts[s], Why: looked[i].Cannot.Error()})
		case len(words) > 0 && !p.force:
			p.left = append(p.left, notebook.Left{Draft: p.drafts[s], Why: strings.Join(words, "; ")})
		default:
			s.Forced = strings.Join(words, "; ")
			keep = append(keep, s)
		}
	}
	p.batch.Slips, p.batch.Readings = keep, nil
	for _, s := range keep {
		if r := p.unaired[s]; r != nil {
			p.batch.Readings = append(p.batch.Readings, r)
		}
	}
	p.onlyUsed()
	return nil
}

// onlyUsed drops what no slip that stays needs.
func (p *importing) onlyUsed() {
	used := func(id func(*slip) string, want string) bool {
		return slices.ContainsFunc(p.batch.Slips, func(s *slip) bool { return id(s) == want })
	}
	vehicle, track := func(s *slip) string { return s.Vehicle }, func(s *slip) string { return s.Track }
	p.batch.Vehicles = slices.DeleteFunc(p.batch.Vehicles, func(v *logbook.Vehicle) bool { return !used(vehicle, v.ID) })
	p.batch.Tracks = slices.DeleteFunc(p.batch.Tracks, func(t *logbook.Track) bool { return !used(track, t.ID) })
	p.batch.Setups = slices.DeleteFunc(p.batch.Setups, func(u *logbook.Setup) bool { return !used(vehicle, u.Vehicle) })
}

// record writes the batch, and the rows left out into their file.
func (p *importing) record() error {
	if len(p.questions) > 0 {
		return usagef("nothing recorded: %s", strings.Join(p.questions, "; "))
	}
	leftFile := ""
	out := notebook.Placing{Over: true}
	defer out.Drop()
	if len(p.left) > 0 {
		leftFile = leftName(p.file)
		if leftFile == p.file { // it is not written over before it is in
			leftFile = strings.TrimSuffix(p.file, ".csv") + ".left.csv"
		}
		if err := out.Write(leftFile, func(w io.Writer) error { return notebook.WriteLeft(w, p.left) }); err != nil {
			return fmt.Errorf("nothing recorded: %w", err)
		}
	}
	if err := p.c.Context().Err(); err != nil {
		return err
	}
	if len(p.batch.Slips) > 0 {
		if err := p.lb.AddAll(p.batch); err != nil {
			if errors.Is(err, logbook.ErrRecordedMeanwhile) {
				return &advised{err, "run the import again: it adds what is left"}
			}
			return err
		}
	}
	if err := out.Done(); err != nil {
		return fmt.Errorf("recorded, but the rows left out could not be written: %w", err)
	}
	im := p.shown()
	im.Recorded, im.LeftFile = true, leftFile
	if len(p.batch.Slips) > 0 {
		im.ID = p.id
	}
	return p.a.page.Imported(im)
}
