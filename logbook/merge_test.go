package logbook

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// twins are two copies of one logbook, of which each has gone its own way.
func twins(t testing.TB, seed uint64) (a, b *Logbook) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	a, m := logOf(t, 1+r.IntN(8))
	b = onMemory(t, m.copy(), t.TempDir())
	for path, n := range m.names {
		b.fs.(*memory).put(b.path(path[len(a.dir)+1:]), n.data)
	}
	common, err := a.Slips("")
	must(t, err)
	for i, lb := range []*Logbook{a, b} {
		lb.newID = NewID
		for n := range r.IntN(6) {
			at := heldOptions().Now().Add(time.Duration(1+r.IntN(3)) * time.Minute) // sometimes the same in both
			lb.now = func() time.Time { return at }
			if r.IntN(2) == 0 {
				must(t, lb.AddSlips(marked(fmt.Sprintf("copy %d, %d", i, n), 100*(i+1)+n)))
				continue
			}
			_, err := lb.AmendSlip(
				common[r.IntN(len(common))].ID,
				func(s *Slip) error { s.Meet = fmt.Sprintf("copy %d, %d", i, n); return nil },
			)
			must(t, err)
		}
	}
	return a, b
}

func TestMerge(t *testing.T) {
	conflicts := 0
	for seed := range max(7, campaign(30, 300)) {
		a, b := twins(t, uint64(seed))
		a2 := onMemory(t, a.fs.(*memory).copy(), a.dir)
		b2 := onMemory(t, b.fs.(*memory).copy(), b.dir)
		into := func(a, b *Logbook) []Merged {
			m, err := a.Merge(b, nil)
			must(t, err)
			return m
		}
		for _, m := range into(a, b) {
			conflicts += len(m.Conflicts)
		}
		into(b2, a2)
		sameFacts(t, fmt.Sprintf("seed %d: A into B and B into A", seed), a, b2)
		size := len(a.fs.(*memory).names[a.path(slips.file)].data)
		for _, m := range into(a, b) {
			if m.Added != 0 || len(m.Conflicts) != 0 {
				t.Errorf("seed %d: merging again does %+v", seed, m)
			}
		}
		if after := len(a.fs.(*memory).names[a.path(slips.file)].data); after != size {
			t.Errorf("seed %d: merging again changed the file", seed)
		}
		into(b, a)
		sameFacts(t, fmt.Sprintf("seed %d: merged both ways", seed), a, b)
		for _, f := range grave(t, a) {
			if f.Kind != Conflict {
				t.Errorf("seed %d: %s", seed, f)
			}
		}
	}
	if conflicts == 0 {
		t.Error("no seed made a conflict")
	}
	t.Logf("%d conflicts", conflicts)
}

func sameFacts(t *testing.T, name string, a, b *Logbook) {
	t.Helper()
	x, err := a.Slips("")
	must(t, err)
	y, err := b.Slips("")
	must(t, err)
	byID := func(a, b Slip) int { return strings.Compare(a.ID, b.ID) }
	slices.SortFunc(x, byID)
	slices.SortFunc(y, byID)
	if diff := cmp.Diff(x, y); diff != "" {
		t.Errorf("%s: facts differ:\n%s", name, diff)
	}
}

// An entry that cannot be read in one copy stays out, and is named.
func TestMergeLeavesOutWhatCannotBeRead(t *testing.T) {
	a, b := twins(t, 3)
	path := b.path(slips.file)
	m := b.fs.(*memory)
	first, err := b.Slips("")
	must(t, err)
	id := first[0].ID
	m.put(path, append(m.names[path].data, []byte(id+",9,fact,broken\n")...))
	result, err := a.Merge(b, nil)
	must(t, err)
	said := result[len(result)-1].LeftOut[id]
	if said == "" {
		t.Errorf("left out: %v, want %s", result[len(result)-1].LeftOut, id)
	}
}

func TestMergeWithItself(t *testing.T) {
	lb := start(t)
	again, err := Open(lb.Dir()+"/../log", Options{})
	must(t, err)
	if _, err := lb.Merge(again, nil); !errors.Is(err, ErrSameFolder) {
		t.Errorf("merging a logbook with itself: %v", err)
	}
}

// A copy that lost cells of a row adds none to one that has them, and gets them from it.
func TestMergeOfLostCells(t *testing.T) {
	whole := noted(t)
	poorer := onCopy(t, whole)
	editCells(t, poorer, emptied("notes"))
	want, err := whole.Slips("")
	must(t, err)
	merge := func(into, from *Logbook, added int) {
		t.Helper()
		result, err := into.Merge(from, nil)
		must(t, err)
		for _, m := range result {
			if m.File == slips.file && (m.Added != added || len(m.Conflicts) > 0) {
				t.Errorf("%d rows added, want %d; conflicts %v", m.Added, added, m.Conflicts)
			}
		}
		got, err := into.Slips("")
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("merged (-want +got):\n%s", diff)
		}
		noneGrave(t, into)
	}
	merge(whole, poorer, 0)
	merge(poorer, whole, 3)
	merge(poorer, whole, 0)
}
