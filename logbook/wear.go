package logbook

import (
	"fmt"
	"strings"

	"slipcase/weather/units"
)

// The things that a Wear tells.
const (
	WearAdd    = "add"    // a part that wears is there
	WearFit    = "fit"    // it goes onto a vehicle
	WearRemove = "remove" // it comes off
	WearNote   = "note"
	WearPass   = "pass" // passes of a vehicle that have no slip
)

// Wear is what happened to a part that wears out or expires, or passes that no slip tells.
// What is worn follows from all of them, by their time.
type Wear struct {
	Entry
	Time    Time   `csv:"time"    json:"time"             required:"yes"`
	What    string `csv:"what"    json:"what"             required:"yes" oneof:"add fit remove note pass"`
	Part    string `csv:"part"    json:"part,omitzero"`
	Vehicle string `csv:"vehicle" json:"vehicle,omitzero"` // fit: onto which; pass: whose; add: where it is on at once

	// Of an add: how long it lives, in one way or several, and how far it is worn already.
	LifeRuns    units.Number `csv:"life_runs"    json:"life_runs,omitzero"`
	LifeSeasons units.Number `csv:"life_seasons" json:"life_seasons,omitzero"`
	Expires     Time         `csv:"expires"      json:"expires,omitzero"`
	HasRuns     units.Number `csv:"has_runs"     json:"has_runs,omitzero"`
	HasSeasons  units.Number `csv:"has_seasons"  json:"has_seasons,omitzero"`
	Safety      string       `csv:"safety"       json:"safety,omitzero"` // what of the safety equipment it is

	Passes units.Number `csv:"passes" json:"passes,omitzero"` // of a pass: how many
	Notes  string       `csv:"notes"  json:"notes,omitzero"`
}

// Check refuses what cannot be.
func (w Wear) Check() error {
	if w.What == WearPass {
		if w.Vehicle == "" {
			return fmt.Errorf("a pass needs its vehicle")
		}
	} else if err := CheckName("part", w.Part); err != nil {
		return err
	}
	for _, n := range []struct {
		what  string
		v     units.Number
		least float64
	}{
		{"a life in runs", w.LifeRuns, 1},
		{"a life in seasons", w.LifeSeasons, 1},
		{"runs that it has", w.HasRuns, 0},
		{"seasons that it has", w.HasSeasons, 0},
		{"passes", w.Passes, 1},
	} {
		if v := n.v; v.Known() && (v.Value() < n.least || v.Value() > 1e5 || v.Value() != float64(int(v.Value()))) {
			return fmt.Errorf("%s, %v: want a whole number from %g to 100,000", n.what, v, n.least)
		}
	}
	switch {
	case w.What == WearFit && w.Vehicle == "":
		return fmt.Errorf("fitting %s needs the vehicle", w.Part)
	case w.What == WearNote && strings.TrimSpace(w.Notes) == "":
		return fmt.Errorf("a note on %s needs its words", w.Part)
	case w.What == WearPass && !w.Passes.Known():
		return fmt.Errorf("passes need their number")
	}
	return checkRecord(&w)
}

// Wears lists what happened to parts that wear, in the order in which it was recorded.
func (lb *Logbook) Wears() ([]Wear, error) { return facts[Wear](lb, wears, nil) }

// Wear finds one of them as Slip finds a slip.
func (lb *Logbook) Wear(ref string) (Wear, error) { return find[Wear](lb, wears, ref) }

// VoidWear finds one to put back.
func (lb *Logbook) VoidWear(ref string) (Wear, error) { return findVoid[Wear](lb, wears, ref) }

// AddWear records what happened, if it fits what is there, of which nothing more is recorded
// meanwhile.
func (lb *Logbook) AddWear(w *Wear, fits func(there []Wear) error) error {
	if err := w.Check(); err != nil {
		return err
	}
	return lb.locked(func() error {
		there, err := lb.Wears()
		if err != nil {
			return err
		}
		if err := fits(there); err != nil {
			return err
		}
		ch, err := added(lb, wears, []*Wear{w})
		if err != nil {
			return err
		}
		return lb.append(ch)
	})
}

// AmendWear records the next revision of one.
func (lb *Logbook) AmendWear(id string, change func(*Wear) error) (Wear, error) {
	return amend(lb, wears, id, checked(change, (*Wear).Check))
}
