package logbook

import (
	"fmt"
	"slices"
)

// notBegun is an optional table whose file is not there: without rows, and made
// with the first that is recorded. One that the journal knows rows of is lost.
func (lb *Logbook) notBegun(t table) (*content, error) {
	journal, _, err := lb.readJournal()
	if err != nil {
		return nil, err
	}
	if slices.ContainsFunc(journal, func(e journalEntry) bool { return e.file == t.file }) {
		return nil, fmt.Errorf("%s: %w", lb.path(t.file), ErrMissing)
	}
	c := t.empty(nil)
	c.instead(nil)
	return c, nil
}
