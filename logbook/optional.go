package logbook

import (
	"fmt"
	"os"
)

// Some tables came after the first logbooks: where the file is not there, and
// the journal knows of no row in it, the table is empty, and the first row that
// is recorded makes it.

// begun reports whether a table's file is there. One that is missing though rows
// were recorded in it is lost, and reading it says so.
func (lb *Logbook) begun(t table) (bool, error) {
	if _, absent, err := readFile(lb.fs, lb.path(t.file)); err != nil || !absent {
		return true, err
	}
	entries, _, err := lb.readJournal()
	if err != nil && !os.IsNotExist(err) {
		return false, err
	}
	for _, e := range entries {
		if e.file == t.file {
			return true, nil
		}
	}
	return false, nil
}

func optional[T any](lb *Logbook, t table, p *pick) ([]T, error) {
	there, err := lb.begun(t)
	if err != nil || !there {
		return []T{}, err
	}
	return facts[T](lb, t, p)
}

func findOptional[T any](lb *Logbook, t table, ref string) (T, error) {
	there, err := lb.begun(t)
	if err == nil && !there {
		err = fmt.Errorf("%s %q is %w", t.what, clip(ref), ErrUnknown)
	}
	if err != nil {
		var none T
		return none, err
	}
	return find[T](lb, t, ref)
}

func addOptional[T any, P recordPtr[T]](lb *Logbook, t table, recs ...P) error {
	err := lb.locked(func() error {
		there, err := lb.begun(t)
		if err != nil || there {
			return err
		}
		header, err := dialect{comma: ','}.line(t.schema.names())
		if err != nil {
			return err
		}
		return lb.writeNew(t.file, header)
	})
	if err != nil {
		return notRecorded(err)
	}
	return add(lb, t, recs)
}
