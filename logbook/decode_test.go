package logbook

import (
	"fmt"
	"testing"
	"unsafe"

	"slipcase/weather/units"
)

// The texts of a record are its own, and one for all that say the same: a record that
// held on to its line would keep the whole file a second time.
func TestRecordsShareTheirTexts(t *testing.T) {
	lb := start(t)
	var all []*Slip
	for n := range 514 {
		s := slipAt(n/60, n%60, 13.25)
		s.Meet, s.Notes, s.ReactionS = "spring\\meet\nday two", fmt.Sprintf("run %d", n), units.Some(.04)
		all = append(all, s)
	}
	must(t, lb.AddSlips(all...))
	got, err := lb.Slips("")
	must(t, err)
	if len(got) != len(all) {
		t.Fatalf("%d slips", len(got))
	}
	first, last := got[0], got[len(got)-1]
	for _, pair := range [][2]string{{first.Vehicle, last.Vehicle}, {first.Track, last.Track}, {first.Meet, last.Meet}} {
		if unsafe.StringData(pair[0]) != unsafe.StringData(pair[1]) {
			t.Errorf("%q is there twice", pair[0])
		}
	}
	if first.Meet != all[0].Meet || last.Notes != all[len(all)-1].Notes {
		t.Errorf("texts changed: %q, %q", first.Meet, last.Notes)
	}
	// encoding/csv cuts the cells of a line, setup's empty one between these two left
	// out, from one string.
	vehicle, track := unsafe.StringData(first.Vehicle), unsafe.StringData(first.Track)
	if unsafe.Add(unsafe.Pointer(vehicle), len(first.Vehicle)) == unsafe.Pointer(track) {
		t.Error("a record holds on to its line")
	}
}
