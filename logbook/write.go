package logbook

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
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
	// The lock file too is opened once by us, which refuses a link in its place.
	f, err := lb.fs.Open(lb.path(lockFile), os.O_RDWR|os.O_CREATE)
	if err != nil {
		return fmt.Errorf("locking the logbook for writing: %w", err)
	}
	defer f.Close()
	// It is about to be cut, which a file that has another name too must not be.
	if info, err := f.Stat(); err != nil || links(info) > 1 {
		return cmp.Or(err, fmt.Errorf("%s has another name, a hard link, somewhere: delete it", lb.path(lockFile)))
	}
	lock := flock.New(lb.path(lockFile), flock.SetPermissions(0o600))
	ctx, cancel := context.WithTimeout(context.Background(), lb.patience)
	defer cancel()
	got, err := lock.TryLockContext(ctx, 5*time.Millisecond)
	if errors.Is(err, context.DeadlineExceeded) {
		holder, _, _ := readOrAbsent(lb.fs, lb.path(lockFile))
		return fmt.Errorf("the logbook is being written by another program (%s): waited %s, try again when it is done",
			strings.TrimSpace(clip(string(holder))), lb.patience)
	}
	if err != nil || !got {
		return fmt.Errorf("locking the logbook for writing: %w", err)
	}
	defer lock.Close()
	// Who holds it, for the message above; that it cannot be noted harms nothing.
	if f.Truncate(0) == nil {
		_, _ = f.Write(fmt.Appendf(nil, "process %d\n", os.Getpid()))
	}
	lb.before = lb.Stamp()
	defer func() { lb.after = lb.Stamp() }()
	return fn()
}

// uninterrupted runs fn while an interrupt waits, so that nothing is left half
// recorded.
func (lb *Logbook) uninterrupted(fn func() error) error {
	lb.busy.Lock()
	defer lb.busy.Unlock()
	return fn()
}

// change is what is to be appended to the file of one table.
type change struct {
	t         table
	c         *content // the file as just read, under the lock
	rows      []texts
	journaled bool // the journal has these rows already
}

// append records changes, in all their files or in none.
func (lb *Logbook) append(changes ...change) error {
	if lb.id == "" {
		if err := lb.identify(); err != nil {
			return notRecorded(err)
		}
	}
	for i, ch := range changes {
		// The first value for a column that the file lacks makes it wider.
		if names := ch.c.lacking(ch.rows); len(names) > 0 {
			c, err := ch.c.wider(names)
			if err != nil {
				return notRecorded(err)
			}
			changes[i].c = c
		}
	}
	lines, journal, err := render(changes)
	if err != nil {
		return err
	}
	return lb.uninterrupted(func() error { return lb.write(changes, lines, journal) })
}

// render makes the lines of each change's file and those of the journal.
func render(changes []change) (lines [][]byte, journal []byte, err error) {
	for _, ch := range changes {
		line, entry, err := ch.render()
		if err != nil {
			return nil, nil, err
		}
		lines, journal = append(lines, line), append(journal, entry...)
	}
	return lines, journal, nil
}

// write appends the lines to the journal and to the files of the changes.
func (lb *Logbook) write(changes []change, lines [][]byte, journal []byte) error {
	var open []*tail // the journal, then a file for each change
	defer func() {
		for _, t := range open {
			t.file.Close()
		}
	}()
	j, err := lb.openJournal()
	if err != nil {
		return notRecorded(err)
	}
	open = append(open, j)
	for _, ch := range changes {
		if ch.c.made {
			if err := lb.remake(ch.t.file, ch.c.disk, ch.c.data); err != nil {
				return notRecorded(err)
			}
			lb.absent[ch.t.file] = slices.DeleteFunc(lb.absent[ch.t.file], func(name string) bool {
				_, there := ch.c.at[name]
				return there
			})
		}
		f, err := lb.openTail(ch.t.file, ch.c)
		if err != nil {
			return notRecorded(err)
		}
		open = append(open, f)
	}
	for i, b := range append([][]byte{journal}, lines...) {
		if len(b) == 0 {
			continue
		}
		if err := open[i].write(b); err != nil {
			return notRecorded(errors.Join(err, undo(open[:i+1])))
		}
	}
	for _, ch := range changes {
		var ids []string
		for _, row := range ch.rows {
			ids = append(ids, row["id"])
		}
		if len(ids) > 0 {
			lb.wrote(ch.t.what, ids)
		}
	}
	return nil
}

func notRecorded(err error) error { return fmt.Errorf("not recorded: %w", err) }

// undo takes back what was appended, the journal's part last: where a file
// cannot be cut back, the journal goes on saying what its last row was to be.
func undo(open []*tail) error {
	for i := len(open) - 1; i >= 0; i-- {
		if err := open[i].undo(); err != nil {
			return err
		}
	}
	return nil
}

// render makes the lines of the file and those of the journal.
func (ch change) render() (lines, journal []byte, err error) {
	d := ch.c.dialectToWrite()
	if ch.c.noEnd && len(ch.rows) > 0 {
		lines = ch.c.missingEnd()
	}
	for _, row := range ch.rows {
		out := make([]string, len(ch.c.header))
		for name, text := range row {
			at, there := ch.c.at[name]
			if !there {
				return nil, nil, fmt.Errorf("%s has no column %q", ch.t.file, clip(name))
			}
			if i, ours := ch.t.schema.byName[name]; ours && ch.t.schema.columns[i].number {
				text = d.fromPoint(text)
			}
			out[at] = text
		}
		line, err := d.line(out)
		if err != nil {
			return nil, nil, err
		}
		lines = append(lines, line...)
		if ch.journaled {
			continue
		}
		entry, err := newJournalLine(ch.t.file, row)
		if err != nil {
			return nil, nil, err
		}
		journal = append(journal, entry...)
	}
	return lines, journal, nil
}

// tail is a file opened to be appended to, and where it ended.
type tail struct {
	file file
	name string
	end  int64
}

func (lb *Logbook) openJournal() (*tail, error) {
	j, err := lb.openTail(journalFile, nil)
	if errors.Is(err, os.ErrNotExist) {
		// Somebody took it away: begin it anew, its name synced before it is used.
		if err := lb.writeNew(journalFile, nil); err != nil {
			return nil, err
		}
		return lb.openTail(journalFile, nil)
	}
	return j, err
}

// openTail opens a file for appending. A torn tail is first set aside: copied,
// synced, then cut. c is the file as read, nil for the journal.
func (lb *Logbook) openTail(name string, c *content) (*tail, error) {
	f, err := lb.fs.Open(lb.path(name), os.O_RDWR)
	if err != nil {
		return nil, fmt.Errorf("opening %s for writing: %w", name, err)
	}
	size, whole, err := lineTail(f)
	if c != nil && err == nil {
		whole = int64(len(c.data))
		if c.torn() {
			whole = int64(c.whole)
		}
		if size != int64(len(c.data)) {
			err = changedMeanwhile(name)
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
	return &tail{f, name, whole}, nil
}

func changedMeanwhile(name string) error {
	return fmt.Errorf("%s was changed by another program just now: try again", name)
}

// setAside keeps a torn tail in a file of its own before it is cut off.
func (lb *Logbook) setAside(f file, name string, whole, size int64) error {
	torn := make([]byte, size-whole)
	if _, err := f.Seek(whole, io.SeekStart); err != nil {
		return err
	}
	if _, err := io.ReadFull(f, torn); err != nil {
		return err
	}
	aside, err := lb.keepAside(name, "torn", torn)
	if err != nil {
		return err
	}
	if err := f.Truncate(whole); err != nil {
		return fmt.Errorf("cutting the torn end of %s, kept in %s: %w", name, aside, err)
	}
	return f.Sync()
}

// keepAside writes bytes of a file to a new one beside it, whose name says what they
// are: its torn end, or the whole as it was before.
func (lb *Logbook) keepAside(name, what string, data []byte) (aside string, err error) {
	stem := name + "." + what + "-" + lb.now().UTC().Format("20060102T150405.000000000")
	for n := 1; ; n++ {
		aside = fmt.Sprintf("%s-%d", stem, n)
		if _, absent, err := readOrAbsent(lb.fs, lb.path(aside)); absent || err != nil {
			break
		}
	}
	if err := lb.writeNew(aside, data); err != nil {
		return "", fmt.Errorf("setting %s aside: %w", name, err)
	}
	return aside, nil
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

// writeNew writes a file that was not there, or in place of one that has been
// kept aside: whole and synced or not at all.
func (lb *Logbook) writeNew(name string, data []byte) error {
	return writeNew(lb.fs, lb.path(name), data)
}

func writeNew(fsys fileSystem, path string, data []byte) error {
	return writeChecked(fsys, path, data, func([]byte) error { return nil })
}

// writeChecked writes a file beside, synced; gives it its name once check has
// approved of what reads back from it, and syncs the folder.
func writeChecked(fsys fileSystem, path string, data []byte, check func(back []byte) error) error {
	f, tmp, err := fsys.CreateTemp(path)
	if err != nil {
		return err
	}
	t := &tail{file: f, name: filepath.Base(path)}
	err = t.write(data)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	var back []byte
	if err == nil {
		back, _, err = readOrAbsent(fsys, tmp)
	}
	if err == nil {
		err = check(back)
	}
	if err == nil {
		err = fsys.Rename(tmp, path)
	}
	if err != nil {
		return errors.Join(err, fsys.Remove(tmp))
	}
	return fsys.SyncDir(filepath.Dir(path))
}
