//go:build unix

package main

import "testing"

// TestSetupOfARacedDay: a setup added after the day's runs is of now or of the morning,
// by one key.
func TestSetupOfARacedDay(t *testing.T) {
	leftToFullRun(t)
	for _, c := range []struct{ keys, from string }{
		{"x" + enter + "m", "Sat 2 May 2026 00:00"},
		{"n", "Sat 2 May 2026 18:00"},
	} {
		t.Run(c.from, func(t *testing.T) {
			r := newTrailer(t, 80)
			r.start("slip add --1320 13.212@105.84")
			r.ends(exitDone)
			r.now = "2026-05-02T18:00"
			r.start("setup add --name cool-can --power 315hp")
			r.sees("1 slip of heron today: is cool-can in from now on, or was it this morning?")
			r.sees("[n] from now on")
			r.types("[m] from this morning: ", c.keys)
			r.sees("setup cool-can of heron from " + c.from)
			r.ends(exitDone)
		})
	}
}
