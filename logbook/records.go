package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Vehicles lists the vehicles that stand.
func (lb *Logbook) Vehicles() ([]Vehicle, error) { return facts[Vehicle](lb, vehicles, nil) }

// Tracks lists the tracks that stand.
func (lb *Logbook) Tracks() ([]Track, error) { return facts[Track](lb, tracks, nil) }

// Setups lists the setups of a vehicle, of all when it is "", by their time.
func (lb *Logbook) Setups(vehicle string) ([]Setup, error) {
	s, err := facts[Setup](lb, setups, by("vehicle", vehicle))
	slices.SortStableFunc(s, func(a, b Setup) int { return a.From.Compare(b.From.Time) })
	return s, err
}

// Readings lists the air readings at a track, at all when it is "", by their time.
func (lb *Logbook) Readings(track string) ([]Reading, error) {
	r, err := facts[Reading](lb, readings, by("track", track))
	slices.SortStableFunc(r, func(a, b Reading) int { return a.Time.Compare(b.Time.Time) })
	return r, err
}

// Slips lists the slips of a vehicle, of all when it is "", by their time.
func (lb *Logbook) Slips(vehicle string) ([]Slip, error) {
	s, err := facts[Slip](lb, slips, by("vehicle", vehicle))
	slices.SortStableFunc(s, func(a, b Slip) int { return a.Time.Compare(b.Time.Time) })
	return s, err
}

// LastSlips lists by their time all slips of the vehicles that ran the last n; all is how
// many slips stand.
func (lb *Logbook) LastSlips(n int) (s []Slip, all int, err error) {
	var l latestRows
	c, err := lb.read(slips, &pick{look: l.look})
	if err != nil {
		return nil, 0, err
	}
	rows := slices.DeleteFunc(c.newest(), func(r rowRef) bool { return r.void })
	all = len(rows)
	s, err = factsOf[Slip](lb, c, l.of(c, rows, n))
	slices.SortStableFunc(s, func(a, b Slip) int { return a.Time.Compare(b.Time.Time) })
	return s, all, err
}

// latestRows finds the rows of the vehicles that the latest ones name, by what it saw of each row
// as the file was read.
type latestRows struct {
	moments  []madeAt // of the rows
	vehicles map[string]int
	at       struct{ time, vehicle int }
}

// madeAt is when a row's run was made, and by which of the vehicles.
type madeAt struct {
	at      int64 // µs since 1970; unstamped where the cell does not say so as we write it
	vehicle int
}

func (l *latestRows) look(c *content, at int, cells []string) {
	if at == 0 { // of the file, which may be looked at twice
		l.moments, l.vehicles = make([]madeAt, 0, cap(c.rows)), map[string]int{}
		l.at.time, l.at.vehicle = c.at["time"], c.at["vehicle"]
	}
	vehicle, seen := l.vehicles[cells[l.at.vehicle]]
	if !seen {
		vehicle = len(l.vehicles)
		l.vehicles[cells[l.at.vehicle]] = vehicle
	}
	l.moments = append(l.moments, madeAt{stampOf(cells[l.at.time]), vehicle})
}

// of are those of rows whose vehicle one of the latest n of them names. A row that does not
// say when is one of the latest: it is not to be lost.
func (l *latestRows) of(c *content, rows []rowRef, n int) []rowRef {
	moments, unread := make([]madeAt, len(rows)), []int(nil)
	place := 0 // among all rows, which are in the order of the file as well
	for i, r := range rows {
		for c.rows[place].start != r.start {
			place++
		}
		if moments[i] = l.moments[place]; moments[i].at == unstamped {
			unread = append(unread, i)
		}
	}
	for _, i := range unread { // perhaps as another program writes it
		cells := c.cells(rows[i])
		c.plainTimes(cells)
		if moments[i].at = stampOf(cells[c.at["time"]]); moments[i].at == unstamped {
			moments[i].at = math.MaxInt64
		}
	}
	last := slices.Clone(moments)
	slices.SortStableFunc(last, func(a, b madeAt) int { return cmp.Compare(a.at, b.at) })
	wanted := make([]bool, len(l.vehicles))
	for i, m := range last {
		wanted[m.vehicle] = wanted[m.vehicle] || m.at == math.MaxInt64 || i >= len(last)-n
	}
	var kept []rowRef
	for i, r := range rows {
		if wanted[moments[i].vehicle] {
			kept = append(kept, r)
		}
	}
	return kept
}

func by(column, text string) *pick {
	if text == "" {
		return nil
	}
	return &pick{column: column, text: text}
}

// Vehicle finds a vehicle by its name or a unique beginning of it.
func (lb *Logbook) Vehicle(name string) (Vehicle, error) { return find[Vehicle](lb, vehicles, name) }

// Track finds a track by its name or a unique beginning of it.
func (lb *Logbook) Track(name string) (Track, error) { return find[Track](lb, tracks, name) }

// Slip finds a slip by its id, a unique beginning of it, "last" or "last-2".
func (lb *Logbook) Slip(ref string) (Slip, error) { return find[Slip](lb, slips, ref) }

// VoidVehicle finds a vehicle to put back as Vehicle finds one; "last" is the one voided
// last, as it is with all of them.
func (lb *Logbook) VoidVehicle(ref string) (Vehicle, error) {
	return findVoid[Vehicle](lb, vehicles, ref)
}

// VoidTrack finds a track to put back.
func (lb *Logbook) VoidTrack(ref string) (Track, error) { return findVoid[Track](lb, tracks, ref) }

// VoidSetup finds a setup to put back, by its id or its name.
func (lb *Logbook) VoidSetup(ref string) (Setup, error) {
	return findVoidNamed(lb, setups, ref, func(s Setup) string { return s.Name })
}

// VoidSheet finds a dyno sheet to put back, by its id or its name.
func (lb *Logbook) VoidSheet(ref string) (Sheet, error) {
	return findVoidNamed(lb, sheets, ref, func(s Sheet) string { return s.Name })
}

// VoidPlanned finds a change to put back, by its id or its name.
func (lb *Logbook) VoidPlanned(ref string) (Planned, error) {
	return findVoidNamed(lb, planRows, ref, func(p Planned) string { return p.Name })
}

// VoidReading finds a reading to put back.
func (lb *Logbook) VoidReading(ref string) (Reading, error) {
	return findVoid[Reading](lb, readings, ref)
}

// findVoidNamed is findVoid of what has a name beside its id: the one of that name that was
// voided last.
func findVoidNamed[T any](lb *Logbook, t table, ref string, name func(T) string) (T, error) {
	it, unknown := findVoid[T](lb, t, ref)
	if !errors.Is(unknown, ErrUnknown) {
		return it, unknown
	}
	for back := 0; ; back++ {
		it, err := findVoid[T](lb, t, fmt.Sprintf("last-%d", back))
		if err != nil {
			return it, unknown
		}
		if name(it) == ref {
			return it, nil
		}
	}
}

// VoidSlip finds a slip to put back.
func (lb *Logbook) VoidSlip(ref string) (Slip, error) { return findVoid[Slip](lb, slips, ref) }

func findVoid[T any](lb *Logbook, t table, ref string) (none T, err error) {
	back, ok := lastRef(ref)
	if !ok {
		return find[T](lb, t, ref)
	}
	c, err := lb.read(t, nil)
	if err != nil {
		return none, err
	}
	order := slices.DeleteFunc(c.newest(), func(r rowRef) bool { return !r.void })
	slices.SortStableFunc(order, func(a, b rowRef) int { return cmp.Compare(a.at, b.at) })
	id, err := t.back(ref, back, order)
	if err != nil {
		return none, err
	}
	return one[T](lb, t, id)
}

// Reading finds a reading as Slip finds a slip.
func (lb *Logbook) Reading(ref string) (Reading, error) { return find[Reading](lb, readings, ref) }

// Setup finds a setup as Slip finds a slip, or by its name and the vehicle's.
func (lb *Logbook) Setup(vehicle, ref string) (Setup, error) {
	all, err := lb.Setups(vehicle)
	if err != nil {
		return Setup{}, err
	}
	if vehicle != "" && ref == "last" && len(all) > 0 {
		return all[len(all)-1], nil
	}
	named := slices.DeleteFunc(slices.Clone(all), func(s Setup) bool { return s.Name != ref })
	switch len(named) {
	case 0:
		s, err := find[Setup](lb, setups, ref)
		if err == nil && vehicle != "" && s.Vehicle != vehicle {
			err = fmt.Errorf("setup %q is of %s, not of %s", ref, s.Vehicle, vehicle)
		}
		return s, err
	case 1:
		return named[0], nil
	}
	return Setup{}, fmt.Errorf(
		"setup %q is there %d times: name it by its id, as %s",
		ref,
		len(named),
		named[len(named)-1].ID,
	)
}

func find[T any](lb *Logbook, t table, ref string) (T, error) {
	var none T
	c, err := lb.read(t, nil)
	if err != nil {
		return none, err
	}
	id, err := c.resolve(t, ref)
	if err != nil {
		return none, err
	}
	return oneIn[T](lb, c, t, id)
}

// AddVehicle records a new vehicle.
func (lb *Logbook) AddVehicle(v *Vehicle) error {
	if err := v.Check(); err != nil {
		return err
	}
	if err := checkNew("vehicle", v.ID); err != nil {
		return err
	}
	return add(lb, vehicles, []*Vehicle{v})
}

// AddTrack records a new track.
func (lb *Logbook) AddTrack(t *Track) error {
	if err := t.Check(); err != nil {
		return err
	}
	if err := checkNew("track", t.ID); err != nil {
		return err
	}
	return add(lb, tracks, []*Track{t})
}

// AddSetup records a new setup.
func (lb *Logbook) AddSetup(s *Setup) error {
	if err := s.Check(); err != nil {
		return err
	}
	return add(lb, setups, []*Setup{s})
}

// AddReading records readings, checked by the caller at their track's elevation, all
// in one write or none.
func (lb *Logbook) AddReading(recs ...*Reading) error {
	for _, r := range recs {
		if err := checkRecord(r); err != nil {
			return err
		}
	}
	return add(lb, readings, recs)
}

// AddSlips records slips, all in one write or none.
func (lb *Logbook) AddSlips(recs ...*Slip) error {
	for _, s := range recs {
		if err := s.Check(); err != nil {
			return err
		}
	}
	return add(lb, slips, recs)
}

// AddSlipsIf is AddSlips where fits, asked while nobody else records, has nothing against it.
func (lb *Logbook) AddSlipsIf(fits func() error, recs ...*Slip) error {
	for _, s := range recs {
		if err := s.Check(); err != nil {
			return err
		}
	}
	return lb.locked(func() error { return lb.putSlips(fits, recs) })
}

func (lb *Logbook) putSlips(fits func() error, recs []*Slip) error {
	if err := fits(); err != nil {
		return notRecorded(err)
	}
	ch, err := added(lb, slips, recs)
	if err != nil {
		return err
	}
	return lb.append(ch)
}

// AmendVehicle records the next revision of a vehicle.
func (lb *Logbook) AmendVehicle(id string, change func(*Vehicle) error) (Vehicle, error) {
	return amend(lb, vehicles, id, checked(change, (*Vehicle).Check))
}

// AmendTrack records the next revision of a track.
func (lb *Logbook) AmendTrack(id string, change func(*Track) error) (Track, error) {
	return amend(lb, tracks, id, checked(change, (*Track).Check))
}

// AmendSetup records the next revision of a setup.
func (lb *Logbook) AmendSetup(id string, change func(*Setup) error) (Setup, error) {
	return amend(lb, setups, id, checked(change, (*Setup).Check))
}

// AmendReading records the next revision of a reading.
func (lb *Logbook) AmendReading(id string, change func(*Reading) error) (Reading, error) {
	return amend(lb, readings, id, checked(change, checkRecord[Reading]))
}

// AmendSlip records the next revision of a slip.
func (lb *Logbook) AmendSlip(id string, change func(*Slip) error) (Slip, error) {
	return amend(lb, slips, id, checked(change, (*Slip).Check))
}

func checked[T any, P recordPtr[T]](change, check func(P) error) func(P) error {
	return func(p P) error {
		if err := change(p); err != nil {
			return err
		}
		if p.entry().Status == Void {
			return checkRecord[T](p) // what cannot be may be taken out, what cannot be read not put in
		}
		return check(p)
	}
}

// SetupHistory lists every revision of a setup, oldest first.
func (lb *Logbook) SetupHistory(id string) ([]Setup, error) { return history[Setup](lb, setups, id) }

// SlipHistory lists every revision of a slip, oldest first.
func (lb *Logbook) SlipHistory(id string) ([]Slip, error) { return history[Slip](lb, slips, id) }
