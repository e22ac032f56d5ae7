package intake

import (
	"errors"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
)

// importOf is the import that a source names, "" where it names none.
func importOf(source string) string {
	if words := strings.Fields(source); len(words) >= 2 && words[0] == SourceWord {
		return words[1]
	}
	return ""
}

// Void takes out what one import brought, by its id; last is the one recorded last. It tells
// which that was, how many slips and how many readings.
func Void(lb *crew.Session, id string) (is string, slips, readings int, err error) {
	if id == "last" {
		all, err := lb.Slips("")
		if err != nil {
			return id, 0, 0, err
		}
		all = slices.DeleteFunc(all, func(s crew.Slip) bool { return importOf(s.Source) == "" })
		if len(all) == 0 {
			return id, 0, 0, errors.New("no slip that stands was imported")
		}
		id = importOf(slices.MaxFunc(all, func(a, b crew.Slip) int { return a.RecordedAt.Compare(b.RecordedAt.Time) }).Source)
	}
	out, air, err := lb.VoidSourced(func(source string) bool { return importOf(source) == id })
	return id, len(out), len(air), err
}
