package logbook

import (
	"fmt"
	"strings"
	"time"
)

// recordPtr is a pointer to a record type.
type recordPtr[T any] interface {
	*T
	Record
}

// add records new entries, all in one write or none. Entries that the racer
// names must be new; others get their ids here.
func add[T any, P recordPtr[T]](lb *Logbook, t table, recs []P) error {
	return lb.locked(func() error {
		ch, err := added(lb, t, recs)
		if err != nil {
			return err
		}
		return lb.append(ch)
	})
}

// added makes rows of new records, under the lock.
func added[T any, P recordPtr[T]](lb *Logbook, t table, recs []P) (change, error) {
	c, err := lb.read(t, nil)
	if err != nil {
		return change{}, err
	}
	taken := map[string]string{} // ids as they are, by ids without regard to case
	for _, r := range c.rows {
		taken[strings.ToLower(r.id)] = r.id
	}
	for id := range c.damaged {
		taken[strings.ToLower(id)] = id
	}
	rows := make([]texts, len(recs))
	now := lb.stampAfter(c.rows, time.Second)
	for i, rec := range recs {
		e := rec.entry()
		other, there := taken[strings.ToLower(e.ID)]
		if t.letter == 0 && there {
			return change{}, fmt.Errorf("%s %q is %w", t.what, other, ErrExists)
		}
		for t.letter != 0 && (e.ID == "" || there) {
			e.ID = lb.newID(t.letter)
			_, there = taken[strings.ToLower(e.ID)]
		}
		taken[strings.ToLower(e.ID)] = e.ID
		e.Rev, e.Status, e.RecordedAt = 1, Fact, Time{now.Add(time.Duration(i) * time.Microsecond)}
		if rows[i], err = textsOf(t.schema, rec, nil); err != nil {
			return change{}, err
		}
	}
	return change{t: t, c: c, rows: rows}, nil
}

// amend appends the next revision of an entry, as change makes it of the newest.
func amend[T any, P recordPtr[T]](lb *Logbook, t table, id string, amendment func(P) error) (T, error) {
	var rec T
	err := lb.locked(func() error {
		c, err := lb.read(t, nil)
		if err != nil {
			return err
		}
		var r rowRef
		if rec, r, err = oneOf[T](c, t, id); err != nil {
			return err
		}
		if err := amendment(P(&rec)); err != nil {
			return err
		}
		e := P(&rec).entry()
		before := c.of(id)
		stamp := latest(lb.stampAfter(c.rows, time.Second), lb.stampAfter(before, ahead))
		e.ID, e.Rev, e.RecordedAt = id, highest(before)+1, Time{stamp}
		row, err := textsOf(t.schema, P(&rec), t.schema.own(c.texts(r)))
		if err != nil {
			return err
		}
		return lb.append(change{t: t, c: c, rows: []texts{row}})
	})
	return rec, err
}

// moment is the moment that is recorded, to the microsecond.
func (lb *Logbook) moment() time.Time { return lb.now().Truncate(time.Microsecond) }

// stampAfter is the same, but later than the stamps of rows up to some time ahead of
// the clock: what is recorded within a moment keeps its order, whatever becomes of the
// lines, and an amendment is not older than what it amends when a clock was put back.
func (lb *Logbook) stampAfter(rows []rowRef, ahead time.Duration) time.Time {
	now := lb.moment()
	if at := newestStamp(rows, now.Add(ahead)); at >= now.UnixMicro() {
		return time.UnixMicro(at + 1).In(now.Location())
	}
	return now
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
