package logbook

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// moment is the disk between two calls of the program, and what had been
// acknowledged by then: the note of each slip by its id.
type moment struct {
	disk         *memory
	begun        bool // the logbook was made
	acknowledged map[string]string
	trying       map[string]string // what was on its way, or was not recorded
}

// The power goes between any two calls: what was acknowledged is there, nothing
// else is, and the log goes on.
func TestPowerLoss(t *testing.T) {
	moments, dir := seasonWatched(t)
	seeds := campaign(2, 100)
	cuts := 0
	for at, m := range moments {
		for seed := range seeds {
			cuts++
			r := rand.New(rand.NewPCG(uint64(at), uint64(seed)))
			m.holds(t, fmt.Sprintf("call %d, seed %d", at, seed), m.disk.powerCut(r), dir)
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d calls, %d power cuts", len(moments), cuts)
}

// seasonWatched plays some racing, and keeps the disk as it was after every call.
func seasonWatched(t *testing.T) (moments []moment, dir string) {
	t.Helper()
	m := newMemory()
	dir = t.TempDir()
	lb := onMemory(t, m, dir)
	now := moment{acknowledged: map[string]string{}, trying: map[string]string{}}
	m.after = func() {
		moments = append(moments, moment{m.copy(), now.begun, maps.Clone(now.acknowledged), maps.Clone(now.trying)})
	}
	must(t, lb.create())
	now.begun = true
	must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: "heron"}, Kind: "car", Aspiration: "natural"}))
	add := func(notes ...string) {
		var batch []*Slip
		for i, note := range notes {
			s := marked(note, len(now.acknowledged)+i)
			s.ID = fmt.Sprintf("s%09d", 100+len(now.acknowledged)+i)
			now.trying[s.ID] = note
			batch = append(batch, s)
		}
		must(t, lb.AddSlips(batch...))
		for _, s := range batch {
			now.acknowledged[s.ID] = s.Notes
			delete(now.trying, s.ID)
		}
		m.after()
	}
	amend := func(note string) {
		s, err := lb.Slip("last")
		must(t, err)
		now.trying[s.ID] = note
		_, err = lb.AmendSlip(s.ID, func(s *Slip) error { s.Notes = note; return nil })
		must(t, err)
		now.acknowledged[s.ID] = note
		delete(now.trying, s.ID)
	}
	long := strings.Repeat("a long note over more than a sector, ", 30)
	add("first")
	add("second", "third", "fourth")
	amend("fourth again")
	add(long)
	add("1 "+long, "2 "+long, "3 "+long, "4 short", "5 "+long)
	amend("5 again " + long)
	// A stale copy is saved over all this by a program that syncs, then mended.
	stale := m.copy().names[lb.path(slips.file)].data
	add("last but one", "last")
	m.put(lb.path(slips.file), stale[:len(stale)/2])
	must(t, lb.Repair(func([]Mend) error { return nil }))
	add("after the repair")
	return moments, dir
}

// holds opens what a power cut has left.
func (m moment) holds(t *testing.T, name string, left *memory, dir string) {
	t.Helper()
	lb := onMemory(t, left, dir)
	lb.newID = NewID
	if err := lb.readVersion(); err != nil {
		if m.begun || !errors.Is(err, ErrNoLogbook) {
			t.Errorf("%s: opening: %v", name, err)
			return
		}
		if err := lb.create(); err != nil {
			t.Errorf("%s: making the logbook again: %v", name, err)
			return
		}
	}
	if lacking := m.lacking(t, lb); len(lacking) > 0 {
		// What a spreadsheet had taken away, or tore with a later revision, is in
		// the journal still.
		repair(t, lb)
		if lacking = m.lacking(t, lb); len(lacking) > 0 {
			t.Errorf("%s: acknowledged and not there, even repaired: %v", name, lacking)
		}
	}
	s := marked("next", 4000)
	if err := lb.AddSlips(s); err != nil {
		t.Errorf("%s: the next append: %v", name, err)
		return
	}
	all, err := lb.Slips("")
	must(t, err)
	for _, got := range all {
		if n := got.Notes; n != m.acknowledged[got.ID] && n != m.trying[got.ID] && got.ID != s.ID {
			t.Errorf("%s: slip %s, %q, was invented", name, got.ID, clip(n))
		}
	}
	if again, err := lb.Slip(s.ID); err != nil || !cmp.Equal(again, *s) {
		t.Errorf("%s: the next slip reads back as %v, %v", name, again, err)
	}
}

// lacking are the slips that were acknowledged and are not there as they were.
func (m moment) lacking(t *testing.T, lb *Logbook) (ids []string) {
	t.Helper()
	all, err := lb.Slips("")
	if err != nil {
		return []string{err.Error()}
	}
	have := map[string]string{}
	for _, s := range all {
		have[s.ID] = s.Notes
	}
	for id, note := range m.acknowledged {
		if have[id] != note && (have[id] == "" || have[id] != m.trying[id]) {
			ids = append(ids, fmt.Sprintf("%s is %q, not %q", id, clip(have[id]), clip(note)))
		}
	}
	return ids
}
