package logbook

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// The write path, in the order in which it runs: lock; look at the tail and set
// a torn one aside; journal line and sync; row in one write and sync. Only then
// is anything recorded. What fails takes its own bytes back.

const lockFile = "logbook.lock"

// locked runs fn while this process alone may write.
func (lb *Logbook) locked(fn func() error) error {
	lock := flock.New(lb.path(lockFile), flock.SetPermissions(0o600))
	ctx, cancel := context.WithTimeout(context.Background(), lb.patience)
	defer cancel()
	got, err := lock.TryLockContext(ctx, 5*time.Millisecond)
	if errors.Is(err, context.DeadlineExceeded) {
		holder, _, _ := readFile(lb.fs, lb.path(lockFile))
		return fmt.Errorf("the logbook is being written by another program (%s): waited %s, try again when it is done",
			strings.TrimSpace(clip(string(holder))), lb.patience)
	}
	if err != nil || !got {
		return fmt.Errorf("locking the logbook for writing: %w", err)
	}
	defer lock.Close()
	// Who holds it, for the message above; that it cannot be noted harms nothing.
	_ = os.WriteFile(lb.path(lockFile), fmt.Appendf(nil, "process %d\n", os.Getpid()), 0o600)
	return fn()
}

// row is what is to be appended: a record, and the cells of columns that only
// the racer knows, carried over from the revision before.
type row struct {
	rec     Record
	carried map[string]string
}

// append records rows in a table's file; c is the file as just read, under the lock.
func (lb *Logbook) append(t table, c *content, rows []row) error {
	var lines, journal []byte
	for _, r := range rows {
		line, entry, err := lb.render(t, c, r)
		if err != nil {
			return err
		}
		lines, journal = append(lines, line...), append(journal, entry...)
	}
	if c.noEnd {
		lines = append([]byte("\n"), lines...)
	}
	j, err := lb.openTail(journalFile, nil)
	if err != nil {
		return notRecorded(err)
	}
	defer j.file.Close()
	f, err := lb.openTail(t.file, c)
	if err != nil {
		return notRecorded(err)
	}
	defer f.file.Close()
	if err := j.write(journal); err != nil {
		return notRecorded(errors.Join(err, j.undo()))
	}
	if j.isNew {
		if err := lb.fs.SyncDir(lb.dir); err != nil {
			return notRecorded(errors.Join(err, j.undo()))
		}
	}
	if err := f.write(lines); err != nil {
		return notRecorded(errors.Join(err, f.undo(), j.undo()))
	}
	return nil
}

func notRecorded(err error) error { return fmt.Errorf("not recorded: %w", err) }

// render makes the line of the file and the line of the journal for a row.
func (lb *Logbook) render(t table, c *content, r row) (line, journal []byte, err error) {
	texts, err := cells(r.rec)
	if err != nil {
		return nil, nil, err
	}
	out := make([]string, len(c.header))
	known := map[string]string{}
	for name, text := range r.carried {
		out[c.at[name]], known[name] = text, text
	}
	for i, col := range t.schema.columns {
		if texts[i] == "" {
			continue
		}
		known[col.name] = texts[i]
		at, there := c.at[col.name]
		switch {
		case !there:
			return nil, nil, fmt.Errorf("%s has no column %q for the value %q: add the name to its header row, at any place, then record again",
				t.file, col.name, clip(texts[i]))
		case col.number:
			out[at] = c.dialect.fromPoint(texts[i])
		default:
			out[at] = texts[i]
		}
	}
	if line, err = c.dialect.line(out); err != nil {
		return nil, nil, err
	}
	journal, err = newJournalLine(t.file, known)
	return line, journal, err
}

// tail is a file opened to be appended to, and where it ended.
type tail struct {
	file  file
	name  string
	end   int64
	isNew bool
}

// openTail opens a file for appending. A torn tail is first set aside: copied,
// synced, then cut. c is the file as read, nil for the journal.
func (lb *Logbook) openTail(name string, c *content) (*tail, error) {
	f, err := lb.fs.Open(lb.path(name), os.O_RDWR)
	isNew := os.IsNotExist(err) && c == nil
	if isNew {
		f, err = lb.fs.Open(lb.path(name), os.O_RDWR|os.O_CREATE)
	}
	if err != nil {
		return nil, fmt.Errorf("opening %s for writing: %w", name, err)
	}
	size, whole, err := journalTail(f)
	if c != nil && err == nil {
		whole = int64(len(c.data))
		if c.torn() {
			whole = int64(c.whole)
		}
		if size != int64(len(c.data)) {
			err = fmt.Errorf("%s was changed by another program just now: try again", name)
		}
	}
	if err == nil && whole < size {
		err = lb.setAside(f, name, whole, size)
	}
	if err == nil {
		_, err = f.Seek(whole, io.SeekStart)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return &tail{f, name, whole, isNew}, nil
}

// setAside keeps a torn tail in a file of its own before it is cut off.
func (lb *Logbook) setAside(f file, name string, whole, size int64) error {
	torn := make([]byte, size-whole)
	if _, err := f.Seek(whole, io.SeekStart); err != nil {
		return err
	}
	if _, err := readFull(f, torn); err != nil {
		return err
	}
	aside := fmt.Sprintf("%s.torn-%s", name, lb.now().UTC().Format("20060102T150405.000000000"))
	if err := lb.writeNew(aside, torn); err != nil {
		return fmt.Errorf("setting the torn end of %s aside: %w", name, err)
	}
	if err := f.Truncate(whole); err != nil {
		return fmt.Errorf("cutting the torn end of %s, kept in %s: %w", name, aside, err)
	}
	return f.Sync()
}

func (t *tail) write(b []byte) error {
	n, err := t.file.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", t.name, err)
	}
	if err := t.file.Sync(); err != nil {
		return fmt.Errorf("syncing %s: %w", t.name, err)
	}
	return nil
}

// undo takes back what this writer appended; nothing else is ever cut.
func (t *tail) undo() error {
	if err := errors.Join(t.file.Truncate(t.end), t.file.Sync()); err != nil {
		return fmt.Errorf("taking the unfinished row back out of %s: %w", t.name, err)
	}
	return nil
}

// writeNew writes a file that was not there, whole and synced or not at all.
func (lb *Logbook) writeNew(name string, data []byte) error {
	tmp := name + ".new"
	f, err := lb.fs.Open(lb.path(tmp), os.O_WRONLY|os.O_CREATE|os.O_TRUNC)
	if err != nil {
		return err
	}
	t := &tail{file: f, name: name}
	err = t.write(data)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = lb.fs.Rename(lb.path(tmp), lb.path(name))
	}
	if err != nil {
		return errors.Join(err, lb.fs.Remove(lb.path(tmp)))
	}
	return lb.fs.SyncDir(lb.dir)
}

func readFull(f file, b []byte) (int, error) { return io.ReadFull(f, b) }

// recordPtr is a pointer to a record type.
type recordPtr[T any] interface {
	*T
	Record
}

// add records new entries, all in one write or none. Entries that the racer
// names must be new; others get their ids here.
func add[T any, P recordPtr[T]](lb *Logbook, t table, recs []P) error {
	return lb.locked(func() error {
		c, err := lb.read(t, nil)
		if err != nil {
			return err
		}
		taken := map[string]bool{}
		for _, r := range c.rows {
			taken[r.id] = true
		}
		rows := make([]row, len(recs))
		for i, rec := range recs {
			e := rec.entry()
			if t.letter == 0 && (taken[e.ID] || c.damaged[e.ID]) {
				return fmt.Errorf("%s %q is %w", t.what, e.ID, ErrExists)
			}
			for t.letter != 0 && (e.ID == "" || taken[e.ID]) {
				e.ID = lb.newID(t.letter)
			}
			taken[e.ID] = true
			e.Rev, e.Status, e.RecordedAt = 1, Fact, Time{lb.now()}
			rows[i] = row{rec: rec}
		}
		return lb.append(t, c, rows)
	})
}

// amend appends the next revision of an entry, as change makes it of the newest.
func amend[T any, P recordPtr[T]](lb *Logbook, t table, id string, change func(P) error) (T, error) {
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
		if err := change(P(&rec)); err != nil {
			return err
		}
		e := P(&rec).entry()
		e.ID, e.Rev, e.RecordedAt = id, r.rev+1, Time{lb.now()}
		return lb.append(t, c, []row{{P(&rec), c.unknown(r)}})
	})
	return rec, err
}

// unknown gives the cells of the columns that are the racer's own.
func (c *content) unknown(r rowRef) map[string]string {
	own := map[string]string{}
	texts := c.cells(r)
	for name, i := range c.at {
		if _, ours := c.schema.byName[name]; !ours && texts[i] != "" {
			own[name] = texts[i]
		}
	}
	return own
}
