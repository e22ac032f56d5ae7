package crew

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipcase/logbook"
)

// OwnColumn is a column that the racer has added to his slips.
type OwnColumn = logbook.OwnColumn

// NoOwnColumn is the error of a value for a column that he has not added.
type NoOwnColumn struct{ Name string }

func (e *NoOwnColumn) Error() string { return fmt.Sprintf("no column %q is in the logbook", e.Name) }

// settleOwn holds what a slip has in own columns against these: their names as they were
// added, their values as they take them. A column that was taken out since keeps what it has.
func (s *Session) settleOwn(slip *Slip) error {
	cells, err := slip.OwnCells()
	if err != nil || len(cells) == 0 {
		return markImpossible("", err)
	}
	settled := Slip{}
	for _, c := range cells {
		column, err := s.OwnColumn(c.Name)
		switch {
		case errors.Is(err, logbook.ErrUnknown):
			return markImpossible("", &NoOwnColumn{c.Name})
		case err != nil:
			return err
		case column.Status == logbook.Void && !s.hadOwn(slip.ID, c):
			return markImpossible("", Stands("column", column.Entry))
		}
		text, err := column.Takes(c.Text)
		if err == nil {
			err = settled.SetOwn(column.ID, text)
		}
		if err != nil {
			return markImpossible("", err)
		}
	}
	slip.Own = settled.Own
	return nil
}

// hadOwn reports that a slip was recorded with a value of an own column.
func (s *Session) hadOwn(id string, c logbook.OwnCell) bool {
	was, err := s.Slip(id)
	return id != "" && err == nil && was.OwnText(c.Name) == c.Text
}

// OwnOf are the racer's own columns, nothing where no run has any.
func (s *Session) OwnOf(runs []Run) ([]OwnColumn, error) {
	return s.OwnIf(slices.ContainsFunc(runs, func(r Run) bool { return r.Slip.Own != "" }))
}

// OwnIf are the racer's own columns where any run has them.
func (s *Session) OwnIf(has bool) ([]OwnColumn, error) {
	if !has {
		return nil, nil
	}
	return s.OwnColumns()
}

// keepsOwn reports whether a slip has all that is asked of its own columns, as jets=68.
func keepsOwn(s Slip, asked []logbook.OwnCell) bool {
	for _, want := range asked {
		has := s.OwnText(want.Name)
		a, err := strconv.ParseFloat(has, 64)
		b, err2 := strconv.ParseFloat(want.Text, 64)
		if alike := err == nil && err2 == nil && a == b; !alike && !strings.EqualFold(has, want.Text) {
			return false
		}
	}
	return true
}

// AskOwn takes what is asked of own columns into a filter, as jets=68.
func (s *Session) AskOwn(f *RunFilter, text string) error {
	ask := Slip{Own: text}
	if err := s.settleOwn(&ask); err != nil {
		return err
	}
	f.own, _ = ask.OwnCells()
	return nil
}

// AddAll records a batch, all of it or nothing, with those own columns of its slips that
// the log has not.
func (s *Session) AddAll(b logbook.Batch) error {
	brought := map[string]*OwnColumn{}
	for _, c := range b.Columns {
		brought[strings.ToLower(c.ID)] = c
	}
	for _, slip := range b.Slips {
		cells, err := slip.OwnCells()
		if err != nil {
			return err
		}
		for _, c := range cells {
			name := strings.ToLower(c.Name)
			if brought[name] == nil {
				if _, err := s.OwnColumn(c.Name); err == nil {
					continue
				} else if !errors.Is(err, logbook.ErrUnknown) {
					return err
				}
				brought[name] = &OwnColumn{Entry: logbook.Entry{ID: c.Name}, Kind: "number"}
				b.Columns = append(b.Columns, brought[name])
			}
			if _, err := brought[name].Takes(c.Text); err != nil {
				brought[name].Kind = "text"
			}
		}
	}
	return s.Logbook.AddAll(b)
}
