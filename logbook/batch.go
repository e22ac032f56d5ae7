package logbook

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Batch is records of several tables that are to stand together.
type Batch struct {
	Vehicles []*Vehicle
	Tracks   []*Track
	Sheets   []*Sheet
	Setups   []*Setup
	Readings []*Reading
	Columns  []*OwnColumn
	Slips    []*Slip
}

// ErrRecordedMeanwhile is wrapped when somebody else has just recorded what a batch holds.
var ErrRecordedMeanwhile = errors.New("another window or program has recorded some of it just now")

func (b *Batch) check() error {
	var errs []error
	for _, v := range b.Vehicles {
		errs = append(errs, v.Check(), checkNew("vehicle", v.ID))
	}
	for _, t := range b.Tracks {
		errs = append(errs, t.Check(), checkNew("track", t.ID))
	}
	for _, s := range b.Sheets {
		errs = append(errs, s.Check())
	}
	for _, s := range b.Setups {
		errs = append(errs, s.Check())
	}
	for _, r := range b.Readings {
		errs = append(errs, checkRecord(r))
	}
	for _, c := range b.Columns {
		errs = append(errs, c.Check(), checkNew("column", c.ID))
	}
	for _, s := range b.Slips {
		errs = append(errs, s.Check())
	}
	return errors.Join(errs...)
}

// AddAll records a batch, all of it or nothing. A slip from a row that is in the log
// already, void or not, makes it nothing.
func (lb *Logbook) AddAll(b Batch) error {
	if err := b.check(); err != nil {
		return err
	}
	return lb.locked(func() error {
		var changes []change
		var errs []error
		put := func(ch change, err error) {
			errs = append(errs, err)
			if len(ch.rows) > 0 {
				changes = append(changes, ch)
			}
		}
		put(added(lb, vehicles, b.Vehicles))
		put(added(lb, tracks, b.Tracks))
		put(added(lb, sheets, b.Sheets))
		put(added(lb, setups, b.Setups))
		put(added(lb, readings, b.Readings))
		put(added(lb, columnTable, b.Columns))
		put(added(lb, slips, b.Slips))
		if err := errors.Join(errs...); err != nil {
			return err
		}
		there, err := lb.SlipSources()
		if err != nil {
			return err
		}
		known := map[string]bool{}
		for source := range there {
			known[SourceRow(source)] = true
		}
		if slices.ContainsFunc(b.Slips, func(s *Slip) bool { return s.Source != "" && known[SourceRow(s.Source)] }) {
			return notRecorded(ErrRecordedMeanwhile)
		}
		return lb.append(changes...)
	})
}

// SourceRow is what two slips that are from the same row have in common: the first word of
// their source, how they came, and the last, which row it was. Between them stands when.
func SourceRow(source string) string {
	words := strings.Fields(source)
	if len(words) < 3 {
		return source
	}
	return words[0] + " " + words[len(words)-1]
}

// SlipSources are the sources of all slips, also of those void and of earlier revisions.
func (lb *Logbook) SlipSources() (map[string]bool, error) { return lb.slipColumn("source") }

// SlipIDs are the ids of all slips, also of those void.
func (lb *Logbook) SlipIDs() (map[string]bool, error) { return lb.slipColumn("id") }

func (lb *Logbook) slipColumn(column string) (map[string]bool, error) {
	c, err := lb.read(slips, nil)
	if err != nil {
		return nil, err
	}
	found := map[string]bool{}
	at, some := c.at[column]
	if !some {
		return found, nil
	}
	for _, row := range c.each(c.rows) {
		if row[at] != "" {
			found[strings.Clone(row[at])] = true
		}
	}
	return found, nil
}

// VoidSourced takes out all slips and readings whose source is meant, in one write.
func (lb *Logbook) VoidSourced(meant func(source string) bool) (slipsOut []Slip, readingsOut []Reading, err error) {
	err = lb.locked(func() error {
		var ofSlips, ofReadings change
		var err error
		slipsOut, ofSlips, err = voided(lb, slips, func(s *Slip) bool { return meant(s.Source) })
		if err != nil {
			return err
		}
		readingsOut, ofReadings, err = voided(lb, readings, func(r *Reading) bool { return meant(r.Source) })
		if err != nil {
			return err
		}
		if len(slipsOut)+len(readingsOut) == 0 {
			return fmt.Errorf("no slip and no reading is of that import: %w", ErrUnknown)
		}
		return lb.append(
			slices.DeleteFunc([]change{ofSlips, ofReadings}, func(ch change) bool { return len(ch.rows) == 0 })...)
	})
	return slipsOut, readingsOut, err
}

// voided makes the rows that take entries out, under the lock.
func voided[T any, P recordPtr[T]](lb *Logbook, t table, meant func(P) bool) (out []T, ch change, err error) {
	c, err := lb.read(t, nil)
	if err != nil {
		return nil, ch, err
	}
	ch = change{t: t, c: c}
	now := lb.stampAfter(c.rows, ahead)
	rows := slices.DeleteFunc(c.newest(), func(r rowRef) bool { return r.void })
	records, kept, _ := present[T](c, rows)
	for i := range records {
		p := P(&records[i])
		if !meant(p) {
			continue
		}
		e := p.entry()
		e.Rev, e.Status, e.RecordedAt = highest(c.of(e.ID))+1, Void, Time{now}
		row, err := textsOf(t.schema, p, t.schema.own(c.texts(kept[i])))
		if err != nil {
			return nil, ch, err
		}
		out, ch.rows = append(out, records[i]), append(ch.rows, row)
	}
	return out, ch, nil
}

// JoinerWith is Joiner as it would be with a batch recorded.
func (lb *Logbook) JoinerWith(b Batch) (*Joiner, error) { return lb.joinBatch("", b) }

func values[T any](list []*T) []T {
	out := make([]T, len(list))
	for i, p := range list {
		out[i] = *p
	}
	return out
}
