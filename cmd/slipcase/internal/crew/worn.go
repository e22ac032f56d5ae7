package crew

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// Wear is an entry on a part that wears.
type Wear = logbook.Wear

// What an entry on a part tells.
const (
	WearAdd    = logbook.WearAdd
	WearFit    = logbook.WearFit
	WearRemove = logbook.WearRemove
	WearNote   = logbook.WearNote
	WearPass   = logbook.WearPass
)

// Due says whether a part is to be changed.
type Due string

// The states of a part.
const (
	NotDue  Due = ""
	DueSoon Due = "soon"
	Overdue Due = "overdue"
)

// When a part is called due.
const (
	SoonDays  = 60  // before it expires
	SoonRuns  = 5   // left, or
	SoonShare = 0.1 // of its life in runs
)

// Worn is a part with what is left of it.
type Worn struct {
	Part   string
	Safety string // what of the safety equipment it is
	On     string // the vehicle, "" where it is a spare
	Since  time.Time

	Runs, Seasons         int          // that it has, those before it was added too
	LifeRuns, LifeSeasons units.Number // absent where it has no such life
	Expires               time.Time    // zero where it does not
	LeftRuns, LeftSeasons units.Number
	LeftDays              units.Number
	Due                   Due
	Entries               []Wear // what was recorded of it, by time

	hasRuns, hasSeasons int
	periods             []period
}

// period is a time on a vehicle; to is zero while it lasts.
type period struct {
	vehicle  string
	from, to time.Time
}

func (p period) holds(vehicle string, t time.Time) bool {
	return p.vehicle == vehicle && !t.Before(p.from) && (p.to.IsZero() || t.Before(p.to))
}

// WearError is an entry that does not go together with those before it.
type WearError struct {
	Kind    WearErrorKind
	Part    string
	Vehicle string    // that it is on
	At      time.Time // since then; of no such part: that it is there from, zero where it never is
}

// WearErrorKind is what is wrong with an entry on a part.
type WearErrorKind string

// What is wrong.
const (
	NoSuchPart WearErrorKind = "no-such-part"
	PartThere  WearErrorKind = "there"  // a part has the name already
	FittedNow  WearErrorKind = "fitted" // it is on a vehicle
	NotFitted  WearErrorKind = "not-fitted"
	UsedLater  WearErrorKind = "used-later" // later entries would have no sense without it
)

func (e *WearError) Error() string {
	switch e.Kind {
	case PartThere:
		return fmt.Sprintf("part %q is in the garage book already", e.Part)
	case FittedNow:
		return fmt.Sprintf("part %q is on %s since %s", e.Part, e.Vehicle, e.At.Format("2006-01-02 15:04"))
	case NotFitted:
		return fmt.Sprintf("part %q is on no vehicle at that time", e.Part)
	case UsedLater:
		return fmt.Sprintf("what was recorded of part %q later would have no sense", e.Part)
	}
	if e.At.IsZero() {
		return fmt.Sprintf("no part %q is in the garage book", e.Part)
	}
	from := e.At.Format("2006-01-02 15:04")
	return fmt.Sprintf("part %q is in the garage book from %s on: want that time or a later one", e.Part, from)
}

// Is reports that a part of no such name is what else is unknown.
func (e *WearError) Is(target error) bool {
	return target == logbook.ErrUnknown && e.Kind == NoSuchPart && e.At.IsZero()
}

// WornPart is a part as it is then, by its name.
func (s *Session) WornPart(name string, now time.Time) (Worn, error) {
	parts, _, err := s.Worn("", now)
	if err != nil {
		return Worn{}, err
	}
	for _, w := range parts {
		if strings.EqualFold(w.Part, name) {
			return w, nil
		}
	}
	return Worn{}, &WearError{Kind: NoSuchPart, Part: name}
}

// Worn tells all parts, of one vehicle and the spares where it is named, as they are at a
// moment. Entries that make no sense together, as two copies of a log may have, are left
// out, and are the errors.
func (s *Session) Worn(vehicle string, now time.Time) (parts []Worn, wrong []*WearError, err error) {
	entries, err := s.Wears()
	if err != nil {
		return nil, nil, err
	}
	parts, wrong = replay(entries)
	parts = slices.DeleteFunc(parts, func(p Worn) bool { return vehicle != "" && p.On != "" && p.On != vehicle })
	for i := range parts {
		var runs []Run
		for _, v := range parts[i].vehicles() {
			of, err := s.Runs(v)
			if err != nil {
				return nil, nil, err
			}
			runs = append(runs, of...)
		}
		parts[i].wear(runs, entries, now)
	}
	return parts, wrong, nil
}

// DueOf are the parts on a vehicle, on any when it is "", that are to be changed, the most
// pressing first; a spare is not due.
func (s *Session) DueOf(vehicle string, now time.Time) ([]Worn, error) {
	parts, _, err := s.Worn(vehicle, now)
	parts = slices.DeleteFunc(
		parts,
		func(p Worn) bool { return p.On == "" || vehicle != "" && p.On != vehicle || p.Due == NotDue },
	)
	slices.SortStableFunc(parts, func(a, b Worn) int { return cmp.Compare(rank(a.Due), rank(b.Due)) })
	return parts, err
}

func rank(d Due) int { return slices.Index([]Due{Overdue, DueSoon, NotDue}, d) }

// replay follows what happened to parts.
func replay(entries []Wear) (parts []Worn, wrong []*WearError) {
	entries = slices.Clone(entries)
	slices.SortStableFunc(entries, func(a, b Wear) int { return a.Time.Compare(b.Time.Time) })
	for _, w := range entries {
		if w.What == WearPass {
			continue
		}
		i := slices.IndexFunc(parts, func(p Worn) bool { return strings.EqualFold(p.Part, w.Part) })
		if i < 0 && w.What == WearAdd {
			i = len(parts)
			parts = append(parts, Worn{
				Part: w.Part, Safety: w.Safety, LifeRuns: w.LifeRuns, LifeSeasons: w.LifeSeasons, Expires: w.Expires.Time,
				hasRuns: int(w.HasRuns.Or(0)), hasSeasons: int(w.HasSeasons.Or(0)),
			})
			parts[i].fit(w)
		} else if err := follow(parts, i, w); err != nil {
			begins := func(o Wear) bool { return o.What == WearAdd && strings.EqualFold(o.Part, w.Part) }
			if k := slices.IndexFunc(entries, begins); k >= 0 && err.Kind == NoSuchPart {
				err.At = entries[k].Time.Time
			}
			wrong = append(wrong, err)
			continue
		}
		parts[i].Entries = append(parts[i].Entries, w)
	}
	return parts, wrong
}

// follow takes an entry on a part that there should be.
func follow(parts []Worn, i int, w Wear) *WearError {
	if i < 0 {
		return &WearError{Kind: NoSuchPart, Part: w.Part}
	}
	p := &parts[i]
	switch {
	case w.What == WearAdd:
		return &WearError{Kind: PartThere, Part: p.Part}
	case w.What == WearFit && p.On != "":
		return &WearError{Kind: FittedNow, Part: p.Part, Vehicle: p.On, At: p.Since}
	case w.What == WearRemove && p.On == "":
		return &WearError{Kind: NotFitted, Part: p.Part}
	case w.What == WearFit:
		p.fit(w)
	case w.What == WearRemove:
		p.periods[len(p.periods)-1].to = w.Time.Time
		p.On, p.Since = "", w.Time.Time
	}
	return nil
}

// fit puts a part onto the vehicle of an entry, if it names one.
func (p *Worn) fit(w Wear) {
	if p.On, p.Since = w.Vehicle, w.Time.Time; p.On != "" {
		p.periods = append(p.periods, period{vehicle: w.Vehicle, from: w.Time.Time})
	}
}

// vehicles are those that the part has been on.
func (p *Worn) vehicles() (names []string) {
	for _, on := range p.periods {
		if !slices.Contains(names, on.vehicle) {
			names = append(names, on.vehicle)
		}
	}
	return names
}

// LeftTheLine reports that a slip tells of a pass: one with any time beyond the start counts,
// lifted or shut down or not.
func LeftTheLine(s Slip) bool {
	_, timed := s.Finish()
	return timed
}

// wear counts what a part has been through up to a moment, and what is left of it.
func (p *Worn) wear(runs []Run, entries []Wear, now time.Time) {
	p.Runs, p.Seasons = p.hasRuns, p.hasSeasons
	seasons := map[int]bool{}
	count := func(vehicle string, t time.Time, n int) {
		if !t.After(now) && slices.ContainsFunc(p.periods, func(on period) bool { return on.holds(vehicle, t) }) {
			p.Runs += n
			seasons[t.Year()] = true
		}
	}
	for _, r := range runs {
		if LeftTheLine(r.Slip) {
			count(r.Slip.Vehicle, r.Slip.Time.Time, 1)
		}
	}
	for _, w := range entries {
		if w.What == WearPass {
			count(w.Vehicle, w.Time.Time, int(w.Passes.Or(0)))
		}
	}
	p.Seasons += len(seasons)
	p.settle(now, seasons[now.Year()])
}

// settle works out what is left; running says that the season of now counts already.
func (p *Worn) settle(now time.Time, running bool) {
	at := func(d Due) {
		if rank(d) < rank(p.Due) {
			p.Due = d
		}
	}
	if p.LifeRuns.Known() {
		left := p.LifeRuns.Value() - float64(p.Runs)
		switch p.LeftRuns = units.Some(left); {
		case left <= 0:
			at(Overdue)
		case left <= max(SoonRuns, SoonShare*p.LifeRuns.Value()):
			at(DueSoon)
		}
	}
	if p.LifeSeasons.Known() {
		left := p.LifeSeasons.Value() - float64(p.Seasons)
		switch p.LeftSeasons = units.Some(left); {
		case left < 0 || left == 0 && !running:
			at(Overdue)
		case left == 0:
			at(DueSoon)
		}
	}
	if !p.Expires.IsZero() {
		days := int(p.Expires.Sub(now).Hours() / 24)
		switch p.LeftDays = units.Some(float64(days)); {
		case !now.Before(p.Expires):
			at(Overdue)
		case days <= SoonDays:
			at(DueSoon)
		}
	}
}

// AddWear records what happened to parts, unless it makes no sense beside what was recorded
// before.
func (s *Session) AddWear(w *Wear) error {
	return s.Logbook.AddWear(w, func(there []Wear) error {
		_, before := replay(there)
		if _, after := replay(append(there, *w)); len(after) > len(before) {
			return newest(before, after)
		}
		return nil
	})
}

// WearStands refuses to take out or put back an entry where what is recorded beside it would
// make no sense then.
func (s *Session) WearStands(w Wear, void bool) error {
	entries, err := s.Wears()
	if err != nil {
		return err
	}
	_, before := replay(entries)
	entries = slices.DeleteFunc(entries, func(e Wear) bool { return e.ID == w.ID })
	if !void {
		entries = append(entries, w)
	}
	switch _, after := replay(entries); {
	case len(after) <= len(before):
		return nil
	case void:
		return &WearError{Kind: UsedLater, Part: w.Part}
	default:
		return newest(before, after)
	}
}

// newest is the first error that there was not before.
func newest(before, after []*WearError) error {
	for i, e := range after {
		if i >= len(before) || *e != *before[i] {
			return e
		}
	}
	return nil
}
