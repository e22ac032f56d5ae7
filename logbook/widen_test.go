package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// fillLater gives every column that is newer than the first files a value.
func fillLater(rec any) {
	v := reflect.ValueOf(rec).Elem()
	for _, f := range reflect.VisibleFields(v.Type()) {
		if f.Tag.Get("later") == "" {
			continue
		}
		switch to := v.FieldByIndex(f.Index); {
		case f.Type == reflect.TypeFor[units.Number]():
			to.Set(reflect.ValueOf(units.Some(3)))
		case f.Tag.Get("oneof") != "":
			to.SetString(strings.Fields(f.Tag.Get("oneof"))[0])
		default:
			to.SetString("some, \"words\"")
		}
	}
}

// A logbook of the first version takes a first value in every newer column: the file
// is made wider, as it was it stays beside, and nothing is noted of the column before.
func TestLaterColumnsInALogbookOfVersion1(t *testing.T) {
	dir := t.TempDir()
	must(t, os.CopyFS(dir, os.DirFS("testdata/v1")))
	lb, err := Open(dir, Options{})
	must(t, err)
	slipsBefore, err := lb.Slips("")
	must(t, err)
	setupsBefore, err := lb.Setups("")
	must(t, err)
	airBefore, err := lb.Readings("")
	must(t, err)
	if said := lb.Absent(); len(said) > 0 {
		t.Errorf("said of columns that were not there yet: %v", said)
	}
	noColumns(t, lb)

	was := map[string][]byte{}
	for _, tab := range []table{setups, readings, slips} {
		was[tab.file], err = os.ReadFile(lb.path(tab.file))
		must(t, err)
	}
	s, u, a := slipAt(20, 0, 13.4), setupsBefore[0], airBefore[0]
	fillLater(s)
	fillLater(&u)
	fillLater(&a)
	must(t, lb.AddSlips(s))
	u.ID, a.ID = "", ""
	must(t, lb.AddSetup(&u))
	must(t, lb.AddReading(&a))

	again, err := Open(dir, Options{})
	must(t, err)
	slipsAfter, err := again.Slips("")
	must(t, err)
	setupsAfter, err := again.Setups("")
	must(t, err)
	airAfter, err := again.Readings("")
	must(t, err)
	sameEntries(t, append(slipsBefore, *s), slipsAfter, func(s Slip) string { return s.ID })
	sameEntries(t, append(setupsBefore, u), setupsAfter, func(s Setup) string { return s.ID })
	sameEntries(t, append(airBefore, a), airAfter, func(r Reading) string { return r.ID })
	noneGrave(t, again)
	noColumns(t, again)
	// Tables that version 1 had not begin with their first row.
	must(t, again.AddOwnColumn(&OwnColumn{Entry: Entry{ID: "jets"}, Kind: "number"}))
	must(
		t,
		again.AddWear(
			&Wear{Time: s.Time, What: WearAdd, Part: "plugs", LifeRuns: units.Some(60)},
			func([]Wear) error { return nil },
		),
	)
	own, err := again.OwnColumns()
	must(t, err)
	worn, err := again.Wears()
	must(t, err)
	if len(own) != 1 || len(worn) != 1 {
		t.Errorf("%d own columns and %d entries on parts, want 1 of each", len(own), len(worn))
	}
	noneGrave(t, again)
	for _, tab := range []table{setups, readings, slips} {
		aside := besides(t, again, tab.file)
		if len(aside) != 1 || !bytes.Equal(aside[0], was[tab.file]) {
			t.Errorf("%s: %d files kept as they were", tab.file, len(aside))
		}
	}
	// A second value costs nothing more.
	must(t, again.AddSlips(func() *Slip { s := slipAt(21, 0, 13.5); s.Driver = "me"; return s }()))
	if n := len(besides(t, again, slips.file)); n != 1 {
		t.Errorf("the second value kept %d files aside", n)
	}
}

// noColumns holds that a check misses no column.
func noColumns(t *testing.T, lb *Logbook) {
	t.Helper()
	if n := kinds(t, lb)[NoColumn]; n > 0 {
		t.Errorf("a check misses %d columns", n)
	}
}

func besides(t *testing.T, lb *Logbook, file string) (files [][]byte) {
	t.Helper()
	names, err := os.ReadDir(lb.Dir())
	must(t, err)
	for _, n := range names {
		if strings.HasPrefix(n.Name(), file+".before-") {
			data, err := os.ReadFile(lb.path(n.Name()))
			must(t, err)
			files = append(files, data)
		}
	}
	return files
}

func sameEntries[T any](t *testing.T, want, got []T, id func(T) string) {
	t.Helper()
	byID := func(list []T) map[string]T {
		m := map[string]T{}
		for _, v := range list {
			m[id(v)] = v
		}
		return m
	}
	sameTime := cmp.Comparer(func(a, b Time) bool { return a.UnixMicro() == b.UnixMicro() })
	if diff := cmp.Diff(byID(want), byID(got), sameTime); diff != "" {
		t.Errorf("entries differ (-want +read):\n%s", diff)
	}
}

// A file in another program's manner stays so when it gets wider, and its damaged and
// torn lines with it.
func TestWiderInItsOwnManner(t *testing.T) {
	const file = "\xef\xbb\xbfid;rev;status;recorded_at;mood;vehicle;time;et_1320_s\r\n" +
		"s1;1;fact;2026-05-02T14:26:00Z;good;heron;2026-05-02T14:25:00Z;13,5\r\n" +
		"\"broken\r\n" +
		"s2;1;fact;2026-05-"
	lb := start(t)
	must(t, os.WriteFile(lb.path(slips.file), []byte(file), 0o600))
	_, err := lb.AmendSlip("s1", func(s *Slip) error { s.IndexS, s.Driver = units.Some(11.5), "me"; return nil })
	must(t, err)
	after, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	want := "\xef\xbb\xbfid;rev;status;recorded_at;mood;vehicle;time;et_1320_s;index_s;driver\r\n" +
		"s1;1;fact;2026-05-02T14:26:00Z;good;heron;2026-05-02T14:25:00Z;13,5;;\r\n" +
		"\"broken\r\n" +
		"s1;2;fact;2026-05-02T15:00:00Z;good;heron;2026-05-02T14:25:00Z;13,5;11,5;me\r\n"
	if string(after) != want {
		t.Errorf("the file is now\n%q\nwant\n%q", after, want)
	}
	if aside := besides(t, lb, slips.file); len(aside) != 1 || string(aside[0]) != file {
		t.Errorf("kept aside: %q", aside)
	}
}

// A program that does not know a column carries it over.
func TestAnOldProgramCarriesNewColumnsOver(t *testing.T) {
	lb := start(t)
	s := slipAt(14, 0, 13.5)
	s.Driver, s.IndexS = "me", units.Some(11.5)
	must(t, lb.AddSlips(s))
	old := slips
	old.schema.columns = slices.DeleteFunc(slices.Clone(slips.schema.columns), func(c column) bool { return c.later })
	old.schema.byName = maps.Clone(slips.schema.byName)
	for _, c := range slips.schema.columns {
		if c.later {
			delete(old.schema.byName, c.name)
		}
	}
	c, err := lb.read(old, nil)
	must(t, err)
	// What amend does, with the schema of the old program.
	row := c.texts(c.rows[0])
	carried := old.schema.own(row)
	if carried["driver"] != "me" || carried["index_s"] != "11.5" {
		t.Errorf("carried over: %v", carried)
	}
	row["rev"], row["lane"] = "2", "left"
	must(t, lb.locked(func() error { return lb.append(change{t: old, c: c, rows: []texts{row}}) }))
	got, err := lb.Slip("last")
	must(t, err)
	if got.Driver != "me" || got.IndexS != units.Some(11.5) || got.Lane != "left" {
		t.Errorf("read: %+v", got)
	}
}

// Every call of a write that makes a file wider fails in turn: the log is as before or
// has the whole of what was recorded.
func TestEachCallOfAWideningFails(t *testing.T) {
	for _, how := range []string{"short", "none", "full"} {
		for call := 0; ; call += widerInShort(8) {
			lb, m := logOf(t, 4)
			before, err := lb.Slips("")
			must(t, err)
			f := &faulty{fileSystem: m, from: call, until: call + 1, how: how}
			lb.fs = f
			s := marked("wider", 99)
			s.Driver = "me"
			recorded := lb.AddSlips(s)
			if f.failed == "" {
				must(t, recorded)
				if call < 15 {
					t.Errorf("a widening of only %d calls", call)
				}
				break
			}
			fresh := onMemory(t, m, lb.dir)
			repair(t, fresh)
			got, err := fresh.Slips("")
			must(t, err)
			want := before
			if len(got) > len(before) {
				want = append(slices.Clone(before), *s)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("call %d (%s) fails, repaired (-want +got):\n%s", call, f.failed, diff)
			}
			if recorded == nil && len(got) == len(before) {
				t.Errorf("call %d (%s) fails: recorded, and not there", call, f.failed)
			}
			noneGrave(t, fresh)
			must(t, fresh.AddSlips(marked("after", 100)))
		}
	}
}

// A damaged line that would read wrong in a wider file keeps the value out, and says so.
func TestADamagedLineKeepsAFileNarrow(t *testing.T) {
	lb := noted(t)
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	width := len(slips.schema.heading(nil))
	long := "smine,1,fact" + strings.Repeat(",", width-3) + ",left\n"
	must(t, os.WriteFile(lb.path(slips.file), append(data, long...), 0o600))
	s := slipAt(20, 0, 13.1)
	s.Driver = "me"
	err = lb.AddSlips(s)
	if err == nil ||
		!strings.Contains(
			err.Error(),
			"not recorded: slips.csv line 6 does not read, and would read wrong with the columns driver: correct it by hand first",
		) {
		t.Errorf("recording: %v", err)
	}
	rows, rerr := csv.NewReader(bytes.NewReader(data)).ReadAll()
	must(t, rerr)
	if len(rows[0]) != width || errors.Is(err, ErrUnknown) {
		t.Errorf("the file has %d columns", len(rows[0]))
	}
}
