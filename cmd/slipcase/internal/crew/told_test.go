package crew

import (
	"slices"
	"testing"
)

// TestTellerStepsForWhatItTells: of runs told in two parts, as an export to a file a year does,
// each steps once, and none of those that are left out.
func TestTellerStepsForWhatItTells(t *testing.T) {
	s, _ := begun(t)
	add(t, s, slipAt(10, 13.2), slipAt(11, 13.21), slipAt(12, 13.19))
	runs, err := s.Runs("heron")
	if err != nil {
		t.Fatal(err)
	}
	var steps []int
	teller, err := s.NewTeller(ToldAsk{Step: func(done int) { steps = append(steps, done) }}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, early := range []bool{true, false} {
		keep := func(r *Run) bool { return r.Slip.Time.Hour() < 11 == early }
		if err := teller.Tell(t.Context(), runs, keep, func(*Told) error { return nil }); err != nil {
			t.Fatal(err)
		}
	}
	if want := []int{1, 2, 3}; !slices.Equal(steps, want) {
		t.Errorf("it steps %v: want %v", steps, want)
	}
}
