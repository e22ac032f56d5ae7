package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"slipcase/logbook"
)

const repairHint = "slipcase check --repair brings back what the journal has and sets torn ends aside"

// remedies say what to type about what a check found lost or ambiguous, a line for
// each sort of it, with the first entry as the example.
//
// refused says that a repair has been tried: it is not offered again.
func remedies(fs []logbook.Finding, refused bool) string {
	var lines []string
	said := map[logbook.Kind]bool{}
	lost := map[string]bool{}
	for _, f := range fs {
		if f.Kind == logbook.Lost {
			lost[f.ID], lost[f.File] = true, true
		}
	}
	for _, f := range fs {
		if !f.Grave || said[f.Kind] || f.Kind == logbook.Unreadable && lost[cmp.Or(f.ID, f.File)] {
			continue
		}
		said[f.Kind] = true
		line := remedy(f)
		if refused && (f.Kind == logbook.Shifted || line == repairHint) {
			continue
		}
		if !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	if refused && len(lines) == 0 {
		return "correct by hand what is named, then slipcase check"
	}
	return strings.Join(lines, "\n")
}

func remedy(f logbook.Finding) string {
	noun := nouns[f.File]
	amend := fmt.Sprintf("slipcase %s amend %s", noun, f.ID)
	switch f.Kind {
	case logbook.Unreadable:
		if f.Line <= 1 {
			return fmt.Sprintf(
				"correct the heading of %s by hand: its rows say more than the journal, so it is not made anew",
				f.File,
			)
		}
		return fmt.Sprintf("correct line %d of %s by hand: the journal does not have what stood there", f.Line, f.File)
	case logbook.Garbled:
		return amend + " with the values that are right settles it"
	case logbook.Shifted:
		return "slipcase check --repair puts back what was recorded; a row that you meant so, amend first"
	case logbook.Conflict, logbook.Future:
		return amend + " with the value that is right settles which stands"
	case logbook.Impossible:
		return fmt.Sprintf("%s corrects what cannot be, slipcase %s void %s takes it out", amend, noun, f.ID)
	case logbook.Twice:
		return fmt.Sprintf(
			"slipcase slip void %s takes a run out that is there twice, slipcase slip amend %s --at moves it",
			f.ID,
			f.ID,
		)
	case logbook.Unknown:
		if noun == "plan" || noun == "power" { // amending them names no other vehicle
			return "slipcase vehicle add records a vehicle that is named and not there"
		}
		return fmt.Sprintf(
			"slipcase vehicle add, track add, setup add or air add records what is named and not there; %s names another",
			amend,
		)
	}
	return repairHint
}

// nouns are the commands of the files.
var nouns = map[string]string{
	"vehicles.csv": "vehicle", "tracks.csv": "track", "setups.csv": "setup", "air.csv": "air",
	"slips.csv": "slip", "power.csv": "power", "plan.csv": "plan", "parts.csv": "part", "columns.csv": "column",
}
